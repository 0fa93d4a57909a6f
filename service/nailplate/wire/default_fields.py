"""The field that reads ``defaults``: by map, facts for all its parts and facts for the parts of one kind."""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from marshmallow import Schema, ValidationError

from nailplate.plan import Facts, FaultCode
from nailplate.plan.facts import json_names
from nailplate.wire.compound_fields import Loaded
from nailplate.wire.fields import PlanField, Problem, found, meant, refuse


@dataclass(frozen=True, slots=True)
class SectionShape:
    """What one section takes: facts of a kind by their JSON names, and the values of some fields as names of parts of it."""

    kind: type[Facts]
    values_of: Mapping[str, tuple[str, ...]]
    """Field to its values; facts for a value of the first go before those for one of the next."""
    schema: Schema
    keys: tuple[str, ...]

    @property
    def values(self) -> tuple[str, ...]:
        """Every name of a kind."""
        return tuple(value for values in self.values_of.values() for value in values)


@dataclass(frozen=True, slots=True)
class Section:
    """One section as read: facts for all parts, and by the value of its field facts for some. Keys of facts are Python names."""

    facts: Mapping[str, Any]
    by_kind: Mapping[str, Mapping[str, Any]]


def kind_read_by(schema: Schema) -> type[Facts] | None:
    """The kind of object that a schema of defaults is for; none for a place, which may be one of several kinds."""
    kind: type[Facts] | None = getattr(schema, "facts_kind", None)
    return None if kind is Facts else kind


class DefaultsField(PlanField):
    """The author's defaults."""

    def __init__(self, shapes: Callable[[], Mapping[str, SectionShape]], **more: Any) -> None:
        super().__init__(**more)
        self._shapes = shapes

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> dict[str, Section]:
        if type(value) is not dict:
            raise refuse(FaultCode.WRONG_TYPE, f"{found(value)} was found; an object of defaults by map was wanted")
        read, errors = {}, {}
        for name, section in value.items():
            try:
                read[name] = self._section(name, section)
            except ValidationError as error:
                errors[name] = error.messages
        if errors:
            raise ValidationError(errors, valid_data=read)
        return read

    def _section(self, name: str, value: Any) -> Section:
        shape = self._shapes().get(name)
        if shape is None:
            said = f"there are no defaults for {found(name)}"
            raise refuse(FaultCode.UNKNOWN_FIELD, said, lambda: said + meant(name, self._shapes()))
        if type(value) is not dict:
            raise refuse(FaultCode.WRONG_TYPE, f"{found(value)} was found; an object of defaults was wanted")
        return _read_section(shape, value)

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        """What it takes: a section for each map."""
        properties = {name: _described(name, shape, refer) for name, shape in self._shapes().items()}
        return {"type": "object", "properties": properties, "additionalProperties": False}


def _read_section(shape: SectionShape, value: Mapping[str, Any]) -> Section:
    errors: dict[str | int, Any] = {}
    facts = {key: inner for key, inner in value.items() if not is_of_a_kind(shape, key, inner)}
    for_all = _facts(shape, facts, errors.update)
    by_kind = {}
    for key in [key for key in value if key not in facts]:
        inner: dict[str | int, Any] = {}
        by_kind[key] = _facts(shape, value[key], inner.update)
        errors |= {key: inner} if inner else {}
    if errors:
        raise ValidationError(errors)
    return Section(for_all, by_kind)


def is_of_a_kind(shape: SectionShape, key: str, value: object) -> bool:
    """Whether a member of a section holds facts for one kind; where its name is that of a fact too, only an object does."""
    return key in shape.values and (key not in shape.keys or type(value) is dict)


def _facts(shape: SectionShape, value: Any, tell: Callable[[Any], None]) -> Mapping[str, Any]:
    try:
        loaded: Any = shape.schema.load(value)
    except ValidationError as error:
        tell(_with_kinds(shape, error.messages))
        return {}
    facts: Mapping[str, Any] = loaded.facts if isinstance(loaded, Loaded) else loaded
    return facts


def _with_kinds(shape: SectionShape, messages: Any) -> Any:
    """What is wrong, with the kinds among the names that may have been meant."""
    return {key: [*_renamed(key, each, shape)] if isinstance(each, list) else each for key, each in messages.items()}


def _renamed(key: str | int, problems: list[Any], shape: SectionShape) -> Iterator[Any]:
    for problem in problems:
        if isinstance(problem, Problem) and problem.code is FaultCode.UNKNOWN_FIELD:
            if key in json_names(shape.kind).values():
                yield Problem(problem.code, f"{found(key)} has no default; each part states its own")
            else:
                yield _unknown(str(key), shape)
        else:
            yield problem


def _unknown(key: str, shape: SectionShape) -> Problem:
    said = f"there is no default {found(key)} here"
    return Problem(FaultCode.UNKNOWN_FIELD, said, lambda: said + meant(key, (*shape.keys, *shape.values)))


def _described(name: str, shape: SectionShape, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
    facts = refer(type(shape.schema))["$ref"]
    kinds = f"; under a {' or '.join(shape.values_of)}, for those parts alone" if shape.values_of else ""
    return {
        "type": "object",
        "description": f"defaults for {name}{kinds}",
        "properties": {
            **{key: {"$ref": f"{facts}/properties/{key}"} for key in shape.keys},
            **{value: {"$ref": facts} for value in shape.values if _is_name(value)},
            **{
                both: {"anyOf": [{"$ref": f"{facts}/properties/{both}"}, {"$ref": facts}]}
                for both in shape.keys
                if both in shape.values
            },
        },
        **_sizes(shape, facts),
        "additionalProperties": False,
    }


def _sizes(shape: SectionShape, facts: str) -> dict[str, Any]:
    """Kinds that no program could take as the name of a field, such as 1/0 AWG: generated clients read these as 10 AWG."""
    sizes = [re.escape(value).replace("\\ ", " ") for value in shape.values if not _is_name(value)]
    return {"patternProperties": {f"^(?:{'|'.join(sizes)})$": {"$ref": facts}}} if sizes else {}


def _is_name(value: str) -> bool:
    return value.replace("-", "").replace("_", "").isalnum()
