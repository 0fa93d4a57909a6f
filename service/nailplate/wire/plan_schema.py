"""Marshmallow schemas of a plan, made out of the annotations of its parts, so that a field is said once."""

import types
from collections.abc import Callable
from enum import StrEnum
from functools import cached_property
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from marshmallow import EXCLUDE, Schema, ValidationError

from nailplate.codes import BoxShape, edition
from nailplate.plan import Cable, Facts, FaultCode
from nailplate.plan.facts import Doc, Items, Needed, OrAlone, Refers, json_names
from nailplate.plan.marks import Date, TradeSize, WireSize
from nailplate.plan.wiring import Conductors
from nailplate.units import Amperes, Celsius, CubicInches, Dimension, Inches, Pounds, SquareInches, VoltAmperes, Volts
from nailplate.wire.fields import (
    Bounds,
    Choice,
    Day,
    Detail,
    Free,
    Id,
    Listed,
    Loaded,
    Number,
    OneOf,
    PartMap,
    PlanField,
    PointField,
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
        if type(data) is not dict:
            raise ValidationError({SELF: [Problem(FaultCode.WRONG_TYPE, f"{found(data)} was found; an object was wanted")]})
        strange: dict[str | int, Any] = {key: [self._unknown(key)] for key in data if key not in self._keys}
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


def schema_of(kind: type[Facts]) -> type[FactsSchema]:
    """The schema of a kind of facts. A field is what is annotated with a ``Doc``."""
    if kind not in _MADE:
        _MADE[kind] = _made(kind)
    return _MADE[kind]


_MADE: dict[type, type[FactsSchema]] = {}


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
        value = get_args(plain)[1]
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
}
