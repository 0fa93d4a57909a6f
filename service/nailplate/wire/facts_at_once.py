"""Facts read at once: what a marshmallow schema declares, as one small function a field that takes what is surely sound.

The schemas stay the one truth. Whatever these functions do not take, sound or not, is read by the schema itself, which words every
fault; so no function here tells anything but the value. A field, validator or hook that is not known here is asked itself.

Errors: ``Odd``, ``KeyError`` (an unknown field or choice), ``QuantityError`` and marshmallow's own; all mean: ask the schema.
"""

import math
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any, NoReturn

from marshmallow import Schema, ValidationError, missing

from nailplate.plan import Facts
from nailplate.units import Dimension, QuantityError, read_quantity
from nailplate.wire.compound_fields import Detail, Listed, Loaded, OneOf, PartMap, PointerMap, PointField
from nailplate.wire.fields import (
    BARE_NUMBERS,
    DEFAULTED,
    ID,
    LENGTH_FACTOR,
    LINE_END,
    Bounds,
    Choice,
    Free,
    Id,
    Number,
    PlanField,
    Quantity,
    Text,
    YesNo,
)
from nailplate.wire.limits import LARGEST, LONGEST_LINE

Take = Callable[[Any], Any]

MOST_REMEMBERED = 4096
"""Quantity texts of which the figure is remembered; three houses of 1,000 parts hold 59 between them."""
_figure = lru_cache(MOST_REMEMBERED)(read_quantity)


class Odd(Exception):
    """A value that is not surely taken."""


NOT_AT_ONCE = (Odd, KeyError, QuantityError, ValidationError)


def facts_at_once(schema: Any) -> Take:
    """The function that reads the objects of a ``FactsSchema`` into ``Loaded``."""
    if type(schema) not in _READY:
        _READY[type(schema)] = _object(schema) if _is_plain(schema) else _odd
    return _READY[type(schema)]


_READY: dict[type[Schema], Take] = {}


def _is_plain(schema: Schema) -> bool:
    """Whether a schema does nothing that marshmallow alone knows of."""
    hooks = any(schema._hooks.values())  # noqa: SLF001 - there is no public list of them
    fields = schema.fields.values()
    return not hooks and all(each.load_default is missing and each.attribute is None and not each.dump_only for each in fields)


def _object(schema: Any) -> Take:
    kind: type[Facts] = schema.facts_kind
    takes = {str(field.data_key or name): (name, _take(field)) for name, field in schema.fields.items()}
    needed = frozenset(name for name, field in schema.fields.items() if field.required)

    def take(value: Any) -> Loaded[Any]:
        if type(value) is not dict:
            raise Odd
        facts = {}
        for key, given in value.items():
            name, take = takes[key]
            facts[name] = take(given)
        if not facts.keys() >= needed and not needed.difference(facts).issubset(DEFAULTED.get().get(kind, ())):
            raise Odd
        return Loaded(kind, facts)

    return take


def _take(field: Any) -> Take:
    """The function for a field; that of an unknown class, or with validators, is asked itself."""
    known = _TAKES.get(type(field)) if not field.validators and not field.allow_none else None
    take: Take = known(field) if known else field.deserialize
    return take


def _odd(given: object = None) -> NoReturn:
    raise Odd


def _range(bounds: Bounds) -> tuple[float, float]:
    """The least and greatest number that is surely within bounds; those within float dust of them are asked of the field."""
    more_than = -math.inf if bounds.more_than is None else math.nextafter(bounds.more_than, math.inf)
    at_least = -math.inf if bounds.at_least is None else bounds.at_least
    at_most = math.inf if bounds.at_most is None else bounds.at_most
    return float(max(more_than, at_least, -LARGEST)), float(min(at_most, LARGEST))  # comparing a float to an int takes long


def _quantity(field: Quantity) -> Take:
    dimension = field.dimension
    low, high = _range(field.bounds)
    may_be_bare = dimension in BARE_NUMBERS

    def bare(given: Any) -> float:
        kind = type(given)
        if kind is str:
            number = _figure(given, dimension)
        elif may_be_bare and (kind is int or kind is float):
            number = float(given)
        else:
            raise Odd
        return number if low <= number <= high else _odd()

    def length(given: Any) -> float:
        kind, factor = type(given), LENGTH_FACTOR.get()
        if kind is str:
            number = _figure(given, dimension)
        elif factor is not None and (kind is int or kind is float):
            number = given * factor
        else:
            raise Odd
        return number if low <= number <= high else _odd()

    return length if dimension is Dimension.LENGTH else bare


def _number(field: Number) -> Take:
    low, high = _range(field.bounds)
    whole = field.whole

    def take(given: Any) -> float:
        if (type(given) is int or (type(given) is float and not whole)) and low <= given <= high:
            number: float = given
            return number
        raise Odd

    return take


def _yes_no(field: YesNo) -> Take:
    return lambda given: given if given is True or given is False else _odd()


def _text(field: Text) -> Take:
    longest, one_line = field.longest, field.longest == LONGEST_LINE

    def take(given: Any) -> str:
        if (
            type(given) is not str
            or not 0 < len(given) <= longest
            or (one_line and not given.isprintable() and LINE_END.search(given))
        ):
            raise Odd
        return given

    return take


def _choice(field: Choice) -> Take:
    choices = field.choices
    return lambda given: choices[given] if type(given) is str else _odd()


def _id(field: Id) -> Take:
    is_id = ID.fullmatch
    return lambda given: given if type(given) is str and is_id(given) else _odd()


def _free(field: Free) -> Take:
    return lambda given: given if type(given) is dict else _odd()


def _listed(field: Listed) -> Take:
    inner, least, most, or_alone = _take(field.inner), field.items.at_least, field.items.at_most, field.or_alone

    def take(given: Any) -> tuple[Any, ...]:
        if type(given) is list and least <= len(given) <= most:
            return tuple([inner(each) for each in given])
        return (inner(given),) if or_alone and type(given) is not list else _odd()

    return take


def _point(field: PointField) -> Take:
    coordinate = _take(field.coordinate)
    low, high = _range(field.coordinate.bounds)

    def take(given: Any) -> tuple[float, float]:
        if type(given) is not list or len(given) != 2:
            raise Odd
        x, y = given
        factor = LENGTH_FACTOR.get()
        if type(x) in _FIGURES and type(y) in _FIGURES and factor is not None:
            x, y = x * factor, y * factor
            if low <= x <= high and low <= y <= high:
                return (x, y)
            raise Odd
        return (coordinate(x), coordinate(y))

    return take


_FIGURES = frozenset({int, float})


def _detail(field: Detail) -> Take:
    return facts_at_once(field.schema)


def _one_of(field: OneOf) -> Take:
    takes = {key: _take(detail) for key, detail in field.details.items()}

    def take(given: Any) -> Any:
        if type(given) is not dict:
            raise Odd
        chosen = [take for key, take in takes.items() if key in given]
        return chosen[0](given) if len(chosen) == 1 else _odd()

    return take


def _map(field: PartMap) -> Take:
    detail, check_key = _take(field.detail), field.check_key

    def take(given: Any) -> dict[str, Any]:
        if type(given) is not dict:
            raise Odd
        read = {}
        for key, part in given.items():
            check_key(key)
            read[key] = detail(part)
        return read

    return take


_TAKES: Mapping[type[PlanField], Callable[[Any], Take]] = {
    Quantity: _quantity,
    Number: _number,
    YesNo: _yes_no,
    Text: _text,
    Choice: _choice,
    Id: _id,
    Free: _free,
    Listed: _listed,
    PointField: _point,
    Detail: _detail,
    OneOf: _one_of,
    PartMap: _map,
    PointerMap: _map,
}
"""By the very class of a field: one derived from another may take something else."""
