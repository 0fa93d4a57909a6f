"""Marshmallow schemas of a plan, made out of the annotations of its parts, so that a field is said once."""

import types
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from enum import StrEnum
from functools import cache, cached_property
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from marshmallow import EXCLUDE, Schema, ValidationError

from nailplate.codes import BoxShape, edition
from nailplate.plan import PART_KINDS, Cable, Facts, FaultCode, Plan, Pointer, Segment
from nailplate.plan.defaults import SAID_OF_ONE, SEGMENTS, Defaults, kind_fields
from nailplate.plan.facts import Doc, Items, Needed, OrAlone, Refers, json_names
from nailplate.plan.marks import Date, Line, Outline, Point, TradeSize, WireSize
from nailplate.plan.supplies import Conductors
from nailplate.units import Amperes, Celsius, CubicInches, Dimension, Inches, Pounds, SquareInches, VoltAmperes, Volts
from nailplate.wire.compound_fields import Detail, Listed, Loaded, OneOf, PartMap, PointerMap, PointField
from nailplate.wire.default_fields import DefaultsField, SectionShape
from nailplate.wire.facts_at_once import NOT_AT_ONCE, facts_at_once
from nailplate.wire.fields import (
    DEFAULTED,
    Bounds,
    Choice,
    Day,
    Free,
    Id,
    Number,
    PlanField,
    Problem,
    Quantity,
    Text,
    YesNo,
    found,
    meant,
)
from nailplate.wire.limits import LONGEST_LINE, LONGEST_NOTE

_DIMENSIONS: dict[object, Dimension] = {
    Inches: Dimension.LENGTH,
    SquareInches: Dimension.AREA,
    CubicInches: Dimension.VOLUME,
    Amperes: Dimension.CURRENT,
    Volts: Dimension.VOLTAGE,
    VoltAmperes: Dimension.POWER,
    Pounds: Dimension.WEIGHT,
    Celsius: Dimension.TEMPERATURE,
}

SELF = "the object itself"
"""In a tree of errors, the key of what is wrong with an object and not with one of its fields; no field has such a name."""

_NOTES = frozenset({"reason", "description"})
_MAY_BE_NONE = frozenset({(Cable, "grounding"), (Conductors, "grounding")})
"""Wire sizes for which ``none`` is a fact: a service has no grounding conductor on its line side."""


class FactsSchema(Schema):
    """What every object of a plan keeps to: no unknown fields, and a suggestion where one was probably meant."""

    class Meta:
        """Unknown fields are told by ``load``: marshmallow takes them out of order, and very long over very many."""

        unknown = EXCLUDE

    facts_kind: type[Facts]

    def load(self, data: Any, **more: Any) -> Any:
        """The facts that an object states. Raises ValidationError with everything that is wrong with it."""
        if not _BY_MARSHMALLOW_ALONE.get():
            try:
                return facts_at_once(self)(data)
            except NOT_AT_ONCE:
                pass  # what is wrong with it, if anything, is worded below; the objects in it that are sound are again read at once
        return self._by_marshmallow(data, **more)

    def _by_marshmallow(self, data: Any, **more: Any) -> Any:
        if type(data) is not dict:
            raise ValidationError({SELF: [Problem(FaultCode.WRONG_TYPE, f"{found(data)} was found; an object was wanted")]})
        strange: dict[str | int, Any] = {key: [self._unknown(key)] for key in data if key not in self._keys}
        if unsaid := DEFAULTED.get().get(self.facts_kind):
            more["partial"] = unsaid
        try:
            facts: dict[str, Any] = super().load(data, **more)
        except ValidationError as error:
            messages: Any = error.messages
            raise ValidationError({**messages, **strange}, valid_data=error.valid_data) from None
        if strange:
            raise ValidationError(strange, valid_data=facts)
        return Loaded(self.facts_kind, facts)

    @cached_property
    def _keys(self) -> frozenset[str]:
        return frozenset(str(field.data_key or name) for name, field in self.fields.items())

    def _unknown(self, key: str) -> Problem:
        said = f"there is no field {found(key)} here"
        return Problem(
            FaultCode.UNKNOWN_FIELD,
            said,
            lambda: said + (meant(key, sorted(self._keys)) or "; data of your own goes under extra"),
        )


_BY_MARSHMALLOW_ALONE: ContextVar[bool] = ContextVar("by_marshmallow_alone", default=False)


@contextmanager
def by_marshmallow_alone() -> Iterator[None]:
    """Within it nothing is read at once."""
    before = _BY_MARSHMALLOW_ALONE.set(True)
    try:
        yield
    finally:
        _BY_MARSHMALLOW_ALONE.reset(before)


def marshmallow_load(value: Any) -> Loaded[Plan]:
    """A plan's facts read by marshmallow alone: what reading at once is measured and proved by. Raises ValidationError."""
    with by_marshmallow_alone():
        plan: Loaded[Plan] = schema_of(Plan)().load(value)
        return plan


def reader_of(kind: type[Facts]) -> FactsSchema:
    """The schema of a kind, ready to load."""
    if kind not in _READERS:
        _READERS[kind] = schema_of(kind)()
    return _READERS[kind]


_READERS: dict[type[Facts], FactsSchema] = {}


def schema_of(kind: type[Facts]) -> type[FactsSchema]:
    """The schema of a kind of facts. A field is what is annotated with a ``Doc``."""
    if kind not in _MADE:
        _MADE[kind] = _made(kind)
    return _MADE[kind]


_MADE: dict[type, type[FactsSchema]] = {}


def holding_facts(kind: type[Facts]) -> tuple[tuple[str, str], ...]:
    """The fields of a kind that hold objects, lists or maps of facts: Python name and JSON name."""
    if kind not in _HOLDING:
        fields = reader_of(kind).fields.items()
        _HOLDING[kind] = tuple((name, str(field.data_key)) for name, field in fields if _holds_facts(field))
    return _HOLDING[kind]


_HOLDING: dict[type[Facts], tuple[tuple[str, str], ...]] = {}


def _holds_facts(field: Any) -> bool:
    return isinstance(field, Detail | OneOf | PartMap) or (isinstance(field, Listed) and _holds_facts(field.inner))


def _made(kind: type[Facts]) -> type[FactsSchema]:
    hints = get_type_hints(kind, include_extras=True)
    made = {name: _named(kind, name, hint) for name, hint in hints.items() if _mark(hint, Doc)}
    return type(f"{kind.__name__}Schema", (FactsSchema,), {"facts_kind": kind, "__doc__": kind.__doc__, **made})


def _marks(hint: object) -> tuple[object, ...]:
    return getattr(hint, "__metadata__", ())


def _mark(hint: object, kind: type) -> Any:
    """The outermost mark of that kind."""
    return next((mark for mark in reversed(_marks(hint)) if isinstance(mark, kind)), None)


def _named(kind: type[Facts], name: str, hint: object) -> PlanField:
    more = {
        "data_key": json_names(kind)[name],
        "required": any(mark is Needed for mark in _marks(hint)),
        "metadata": {"description": _mark(hint, Doc).text},
    }
    if (kind, name) in _MAY_BE_NONE:
        return _wire_sizes(more, or_none=True)
    return field_of(hint, **more)


def field_of(hint: object, **more: Any) -> PlanField:
    """The field for an annotation."""
    marks = _marks(hint)
    plain = get_args(hint)[0] if get_origin(hint) is Annotated else hint
    refers = _mark(hint, Refers)
    if refers:
        return Id(refers.map_name, **more)
    if plain in _DIMENSIONS:
        return Quantity(_DIMENSIONS[plain], Bounds.of(marks), **more)
    if plain in _NAMED:
        return _NAMED[plain](more)
    origin = get_origin(plain)
    if origin is tuple:
        return _tuple_field(plain, hint, more)
    if origin is dict:
        key, value = get_args(plain)
        if key is Pointer:
            return PointerMap(_detail(value), **more)
        return Free(**more) if value is object else PartMap(_detail(value), **more)
    if origin in (Union, types.UnionType):
        return OneOf({only_key(kind): _detail(kind) for kind in get_args(plain)}, **more)
    return _plain_field(plain, marks, more)


def _plain_field(plain: Any, marks: tuple[object, ...], more: dict[str, Any]) -> PlanField:
    if plain is bool:
        return YesNo(**more)
    if plain is str:
        return Text(LONGEST_NOTE if more.get("data_key") in _NOTES else LONGEST_LINE, **more)
    if plain in (int, float):
        return Number(Bounds.of(marks), whole=plain is int, **more)
    if isinstance(plain, type) and issubclass(plain, StrEnum):
        return Choice.of(plain, **more)
    if isinstance(plain, type) and issubclass(plain, Facts):
        return _detail(plain, **more)
    raise TypeError(f"no field is known for {plain!r}")


def _tuple_field(plain: Any, hint: object, more: dict[str, Any]) -> PlanField:
    inner = get_args(plain)
    if inner[-1] is not Ellipsis:
        return PointField(**more)
    alone = any(mark is OrAlone for mark in _marks(hint))
    return Listed(field_of(inner[0]), _mark(hint, Items) or Items(), or_alone=alone, **more)


def _detail(kind: type[Facts], **more: Any) -> Detail:
    return Detail(lambda: schema_of(kind), **more)


_ONLY_KEYS: dict[type, str] = {}


def only_key(kind: type[Facts]) -> str:
    """The key that tells a member of a union: its needed field."""
    if kind not in _ONLY_KEYS:
        hints = get_type_hints(kind, include_extras=True)
        needed = (name for name, hint in hints.items() if any(mark is Needed for mark in _marks(hint)))
        _ONLY_KEYS[kind] = json_names(kind)[next(needed)]
    return _ONLY_KEYS[kind]


# Defaults: facts of a kind, none of them needed


@cache
def default_sections() -> Mapping[str, SectionShape]:
    """What the section of ``defaults`` for each map takes."""
    kinds: dict[str, type[Facts]] = {name: kind for name, kind in PART_KINDS.items() if name not in ("needs", "suppressions")}
    return {name: _section(name, kind) for name, kind in {**kinds, SEGMENTS: Segment}.items()}


def _section(name: str, kind: type[Facts]) -> SectionShape:
    schema = defaults_schema_of(kind)()
    keys = tuple(str(each.data_key or key) for key, each in schema.fields.items())
    values = {field: tuple(_choices(schema_of(kind)().fields[field])) for field in kind_fields(name, kind)}
    return SectionShape(kind, values, schema, keys)


def _choices(field: Any) -> list[str]:
    """The names that a field takes."""
    return list(field.choices) if isinstance(field, Choice) else []


def defaults_schema_of(*kinds: type[Facts]) -> type[FactsSchema]:
    """The schema of defaults for parts of a kind; for a union, of what its members may have beside what tells them apart."""
    if kinds not in _MADE_FOR_DEFAULTS:
        _MADE_FOR_DEFAULTS[kinds] = _made_for_defaults(kinds)
    return _MADE_FOR_DEFAULTS[kinds]


_MADE_FOR_DEFAULTS: dict[tuple[type[Facts], ...], type[FactsSchema]] = {}
_IN_THE_PLANE = (Point, Line, Outline)


def _made_for_defaults(kinds: tuple[type[Facts], ...]) -> type[FactsSchema]:
    fields: dict[str, PlanField] = {}
    for kind in kinds:
        fields |= {name: field for name, field in _default_fields(kind) if len(kinds) == 1 or name != only_key(kind)}
    name, said = "Or".join(kind.__name__ for kind in kinds), "Defaults for parts of this kind."
    facts_kind = kinds[0] if len(kinds) == 1 else Facts
    return type(f"{name}DefaultsSchema", (FactsSchema,), {"facts_kind": facts_kind, "__doc__": said, **fields})


def _default_fields(kind: type[Facts]) -> Iterator[tuple[str, PlanField]]:
    for name, hint in get_type_hints(kind, include_extras=True).items():
        plain = _plain(hint)
        key = json_names(kind)[name]
        if _mark(hint, Doc) and key not in SAID_OF_ONE and plain not in [_plain(each) for each in _IN_THE_PLANE]:
            yield name, _default_field(kind, name, hint, plain)


def _plain(hint: Any) -> Any:
    return get_args(hint)[0] if get_origin(hint) is Annotated else hint


def _default_field(kind: type[Facts], name: str, hint: object, plain: Any) -> PlanField:
    inner = get_args(plain) if get_origin(plain) in (Union, types.UnionType) else (plain,)
    if all(isinstance(each, type) and issubclass(each, Facts) for each in inner):
        more = {"data_key": json_names(kind)[name], "metadata": {"description": _mark(hint, Doc).text}}
        return Detail(lambda: defaults_schema_of(*inner), **more)
    field = _named(kind, name, hint)
    field.required = False
    field.same_as = f"#/$defs/{kind.__name__}/properties/{json_names(kind)[name]}"
    return field


def _wire_sizes(more: dict[str, Any], *, or_none: bool = False) -> PlanField:
    sizes = [*edition("2023").conductors.area, *(["none"] if or_none else [])]
    return Choice({size: size for size in sizes}, "wire size", **more)


def _trade_sizes(more: dict[str, Any]) -> PlanField:
    volumes = edition("2023").box_volumes.volumes
    return Choice({size: size for shape in BoxShape for size in volumes.get(shape, ())}, "trade size", **more)


_NAMED: dict[object, Callable[[dict[str, Any]], PlanField]] = {
    WireSize: _wire_sizes,
    TradeSize: _trade_sizes,
    Date: lambda more: Day(**more),
    Defaults: lambda more: DefaultsField(default_sections, **more),
}
