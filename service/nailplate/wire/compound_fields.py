"""Marshmallow fields of what holds other values: lists, points, objects within parts, and the maps of parts themselves.

Each refuses as those of ``fields`` do, and says what it takes as JSON Schema.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from marshmallow import Schema, ValidationError

from nailplate.plan import Facts, FaultCode, Pointer
from nailplate.plan.facts import NOWHERE_ELSE, Items
from nailplate.units import Dimension
from nailplate.wire.fields import ID_PATTERN, Bounds, PlanField, Quantity, check_id, found, refuse
from nailplate.wire.limits import LONGEST_POINTER

Kind = TypeVar("Kind", bound=Facts)


class Listed(PlanField):
    """A list of values of one kind; with ``or_alone``, one value may stand without its list."""

    def __init__(self, inner: PlanField, items: Items, *, or_alone: bool = False, **more: Any) -> None:
        super().__init__(**more)
        self.inner, self.items, self.or_alone = inner, items, or_alone

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> tuple[Any, ...]:
        if self.or_alone and type(value) is not list:
            return (self.inner.deserialize(value),)
        if type(value) is not list:
            raise refuse(FaultCode.WRONG_TYPE, f"{found(value)} was found; a list was wanted")
        if not self.items.at_least <= len(value) <= self.items.at_most:
            wanted = f"{self.items.at_least} to {self.items.at_most}"
            raise refuse(FaultCode.BAD_VALUE, f"a list of {len(value)} was found; {wanted} items were wanted")
        read, errors = [], {}
        for index, item in enumerate(value):
            try:
                read.append(self.inner.deserialize(item))
            except ValidationError as error:
                errors[index] = error.messages
        if errors:
            raise ValidationError(errors)
        return tuple(read)

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        item = self.inner.json_schema(refer)
        several = {"type": "array", "items": item, "minItems": self.items.at_least, "maxItems": self.items.at_most}
        return {"anyOf": [item, several]} if self.or_alone else several


class PointField(PlanField):
    """Two coordinates."""

    def __init__(self, **more: Any) -> None:
        super().__init__(**more)
        self.coordinate = Quantity(Dimension.LENGTH, Bounds())

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> tuple[float, float]:
        if type(value) is not list or len(value) != 2:
            raise refuse(FaultCode.WRONG_TYPE, f"{found(value)} was found; a point [x, y] was wanted")
        read, errors = [], {}
        for index, each in enumerate(value):
            try:
                read.append(self.coordinate.deserialize(each))
            except ValidationError as error:
                errors[index] = error.messages
        if errors:
            raise ValidationError(errors)
        return (read[0], read[1])

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        return {"type": "array", "prefixItems": [self.coordinate.json_schema(refer)] * 2, "minItems": 2, "maxItems": 2}


@dataclass(slots=True, init=False)
class Loaded(Generic[Kind]):
    """Facts that were read but do not know their pointer yet; keys are Python names. ``said_at``: where defaults state some.

    Nothing changes one once it is made. It is not frozen because each of a plan's thousands would take three times as long to make.
    """

    kind: type[Kind]
    facts: Mapping[str, Any]
    said_at: Mapping[str, Pointer]

    def __init__(self, kind: type[Kind], facts: Mapping[str, Any], said_at: Mapping[str, Pointer] = NOWHERE_ELSE) -> None:
        self.kind, self.facts, self.said_at = kind, facts, said_at


class Detail(PlanField):
    """An object of its own within a part."""

    def __init__(self, schema: Callable[[], type[Schema]], **more: Any) -> None:
        super().__init__(**more)
        self._schema = schema
        self._ready: Schema | None = None

    @property
    def schema(self) -> Schema:
        """The schema, made when first needed so that kinds may stand in any order."""
        if self._ready is None:
            self._ready = self._schema()()
        return self._ready

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> Any:
        return self.schema.load(value)

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        return refer(type(self.schema))


class OneOf(PlanField):
    """One of several objects, told apart by the one key that only it has."""

    def __init__(self, details: Mapping[str, Detail], **more: Any) -> None:
        super().__init__(**more)
        self.details = details

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> Any:
        if type(value) is not dict:
            raise refuse(FaultCode.WRONG_TYPE, f"{found(value)} was found; an object with {self._keys()} was wanted")
        given = [key for key in self.details if key in value]
        if len(given) != 1:
            raise refuse(
                FaultCode.CONTRADICTION if given else FaultCode.MISSING_FIELD, f"exactly one of {self._keys()} was wanted"
            )
        return self.details[given[0]].deserialize(value)

    def _keys(self) -> str:
        return " or ".join(repr(key) for key in self.details)

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        return {"oneOf": [detail.json_schema(refer) for detail in self.details.values()]}


class PartMap(PlanField):
    """Parts in a map keyed by the ids that their author chose."""

    key_pattern = f"^{ID_PATTERN}$"

    def __init__(self, detail: Detail, **more: Any) -> None:
        super().__init__(**more)
        self.detail = detail

    def _deserialize(self, value: Any, attr: Any, data: Any, **more: Any) -> dict[str, Any]:
        if type(value) is not dict:
            raise refuse(FaultCode.WRONG_TYPE, f"{found(value)} was found; an object of parts keyed by id was wanted")
        read, errors = {}, {}
        for key, part in value.items():
            try:
                self.check_key(key)
                read[key] = self.detail.deserialize(part)
            except ValidationError as error:
                errors[key] = error.messages
        if errors:
            raise ValidationError(errors, valid_data=read)
        return read

    def check_key(self, key: str) -> None:
        check_id(key)

    def json_schema(self, refer: Callable[[type[Schema]], dict[str, Any]]) -> dict[str, Any]:
        return {
            "type": "object",
            "propertyNames": {"pattern": self.key_pattern},
            "additionalProperties": self.detail.json_schema(refer),
        }


class PointerMap(PartMap):
    """Objects in a map keyed by JSON Pointers into the plan."""

    key_pattern = "^/[^/]"

    def check_key(self, key: str) -> None:
        if not 1 < len(key) <= LONGEST_POINTER or key[0] != "/" or key[1] == "/":
            raise refuse(FaultCode.BAD_ID, f"{found(key)} is no JSON Pointer into the plan, like '/boxes/kit-2/volume'")
