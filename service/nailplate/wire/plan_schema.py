"""Marshmallow schemas of a plan, made out of the annotations of its parts, so that a field is said once."""

import types
from collections.abc import Callable
from enum import StrEnum
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from marshmallow import RAISE, Schema, ValidationError, post_load

from nailplate.codes import BoxShape, edition
from nailplate.plan import Facts, FaultCode
from nailplate.plan.facts import Doc, Items, Needed, Refers, json_names
from nailplate.plan.marks import Date, TradeSize, WireSize
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

_UNKNOWN = "unknown field"
_NO_OBJECT = "no object"


class FactsSchema(Schema):
    """What every object of a plan keeps to: no unknown fields, and a suggestion where one was probably meant."""

    class Meta:
        """Unknown fields are faults."""

        unknown = RAISE

    facts_kind: type[Facts]
    error_messages = {"unknown": _UNKNOWN, "type": _NO_OBJECT}  # noqa: RUF012 - marshmallow's own way

    @post_load
    def _loaded(self, data: dict[str, Any], **_: object) -> Loaded[Facts]:
        return Loaded(self.facts_kind, data)

    def handle_error(self, error: ValidationError, data: Any, *, many: bool, **_: object) -> None:
        """Puts our own words in place of marshmallow's two."""
        messages: Any = error.messages
        for key, said in messages.items():
            if said == [_UNKNOWN]:
                messages[key] = [Problem(FaultCode.UNKNOWN_FIELD, self._unknown(str(key)))]
            elif said == [_NO_OBJECT]:
                messages[key] = [Problem(FaultCode.WRONG_TYPE, f"{found(data)} was found; an object was wanted")]

    def _unknown(self, key: str) -> str:
        known = [str(field.data_key or name) for name, field in self.fields.items()]
        return f"there is no field {found(key)} here{meant(key, known) or '; data of your own goes under extra'}"


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
        return OneOf({_only_key(kind): _detail(kind) for kind in get_args(plain)}, **more)
    return _plain_field(plain, marks, more)


def _plain_field(plain: Any, marks: tuple[object, ...], more: dict[str, Any]) -> PlanField:
    if plain is bool:
        return YesNo(**more)
    if plain is str:
        return Text(**more)
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
    return Listed(field_of(inner[0]), _mark(hint, Items) or Items(), **more)


def _detail(kind: type[Facts], **more: Any) -> Detail:
    return Detail(lambda: schema_of(kind), **more)


def _only_key(kind: type[Facts]) -> str:
    """The key that tells a member of a union: its needed field."""
    hints = get_type_hints(kind, include_extras=True)
    return next(json_names(kind)[name] for name, hint in hints.items() if any(mark is Needed for mark in _marks(hint)))


def _wire_sizes(more: dict[str, Any]) -> PlanField:
    sizes = [*edition("2023").conductors.area, "none"]
    return Choice({size: size for size in sizes}, "wire size", **more)


def _trade_sizes(more: dict[str, Any]) -> PlanField:
    volumes = edition("2023").box_volumes.volumes
    return Choice({size: size for shape in BoxShape for size in volumes.get(shape, ())}, "trade size", **more)


_NAMED: dict[object, Callable[[dict[str, Any]], PlanField]] = {
    WireSize: _wire_sizes,
    TradeSize: _trade_sizes,
    Date: lambda more: Day(**more),
}
