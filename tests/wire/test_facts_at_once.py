"""Facts read at once: marshmallow's own values, and its words for every fault. The long line is ``fuzz/loader.py``."""

import math
from collections.abc import Iterator
from contextvars import copy_context
from typing import Any

import pytest
from marshmallow import ValidationError, fields, post_load, validate

from examples.folding import folded, unfolded
from fuzz.loader import NUMBERS, QUANTITIES, differing, document
from fuzz.mutants import OTHERS
from fuzz.seeds import HOUSES, example
from nailplate.plan import Device, Plan, PlanRefused
from nailplate.plan.cables import Segment
from nailplate.wire import read_plan_value
from nailplate.wire.compound_fields import Detail, Listed, OneOf, PartMap
from nailplate.wire.default_fields import DefaultsField
from nailplate.wire.facts_at_once import NOT_AT_ONCE, Odd, facts_at_once
from nailplate.wire.fields import LENGTH_FACTOR, Day
from nailplate.wire.plan_schema import (
    FactsSchema,
    by_marshmallow_alone,
    default_sections,
    marshmallow_load,
    reader_of,
    schema_of,
)

DOCUMENTS, CHUNK = 10_000, 2500


@pytest.mark.long
@pytest.mark.parametrize("first", range(1, DOCUMENTS, CHUNK))
def test_mutated_documents_are_read_alike(first: int) -> None:
    seeds = range(first, first + CHUNK)
    assert {seed: what for seed in seeds if (what := differing(document(seed)))} == {}


@pytest.mark.parametrize("name", HOUSES)
def test_houses_are_read_at_once_whole_with_defaults_and_without(name: str) -> None:
    assert facts_at_once(reader_of(Plan))(example(name)) == marshmallow_load(example(name))
    assert differing(example(name)) is None
    assert differing(folded(unfolded(example(name)))) is None


def test_one_bad_part_is_worded_as_ever() -> None:
    house = example("tamarack-wren")
    device = next(iter(house["devices"].values()))
    device["ratng"], device["kind"], device["gangs"] = 20, "recptacle", 0
    assert differing(house) is None
    with pytest.raises(PlanRefused) as caught:
        read_plan_value(house)
    assert [fault.code.value for fault in caught.value.faults] == ["bad-choice", "unknown-field", "bad-value"]


def every_schema() -> dict[type[FactsSchema], FactsSchema]:
    found: dict[type[FactsSchema], FactsSchema] = {}

    def walk(schema: Any) -> None:
        if type(schema) not in found:
            found[type(schema)] = schema
            for each in schema.fields.values():
                look(each)

    def look(field: Any) -> None:
        if isinstance(field, Detail):
            walk(field.schema)
        for inner in (getattr(field, "inner", None), getattr(field, "detail", None), *getattr(field, "details", {}).values()):
            if inner is not None:
                look(inner)

    walk(reader_of(Plan))
    for shape in default_sections().values():
        walk(shape.schema)
    return found


def takes_of(function: Any) -> Any:
    """The fields of an object, as its function holds them."""
    return next(cell.cell_contents for cell in function.__closure__ if type(cell.cell_contents) is dict)


def test_every_kind_of_facts_has_its_quick_way() -> None:
    """But a date and the author's defaults, of which a plan has few: the schema is asked for those itself."""
    schemas = every_schema()
    assert {Plan, Device, Segment} <= {schema.facts_kind for schema in schemas.values()}
    for schema in schemas.values():
        quick: Any = facts_at_once(schema)
        assert quick.__name__ == "take", schema
        takes = takes_of(quick)
        asked = {key for key, (_, take) in takes.items() if getattr(take, "__name__", "") == "deserialize"}
        assert asked == {str(each.data_key) for each in schema.fields.values() if type(each) in (Day, DefaultsField)}, schema


TEXTS = (
    "a\nb",
    "a\tb",
    "a\u2028b",
    "é",
    "\u00ad",
    "x" * 200,
    "x" * 201,
    "x" * 2000,
    "x" * 2001,
    "a.b:c-d_1",
    "-a",
    "a" * 64,
    "/a",
    "//a",
)
LISTS: tuple[Any, ...] = (
    [0],
    [1, 2],
    [1.5, "2 ft"],
    [1, 2, 3],
    [True, 1],
    ["1 A", 2],
    [[0, 0], [1, 1]],
    [[0, 0], [1, 1], [1, 0]],
    ["a", "b"],
    [{}],
    [[0, 0]] * 201,
)
OBJECTS: tuple[Any, ...] = (
    {"wall": "w"},
    {"room": "r"},
    {"wall": "w", "room": "r"},
    {"a": {}},
    {"a b": {}},
    {"box": "b"},
    {"a": 1},
    {"size": "14 AWG", "count": 3},
)
VALUES: tuple[Any, ...] = (
    *QUANTITIES,
    *NUMBERS,
    *OTHERS,
    *TEXTS,
    *LISTS,
    *OBJECTS,
    10**400,
    float("nan"),
    float("inf"),
    (1, 2),
)


def to_try(field: Any) -> Iterator[Any]:
    """Odd values, the field's own choices, and numbers at its bounds and next to them."""
    yield from VALUES
    yield from list(getattr(field, "choices", ()))[:3]
    bounds = getattr(field, "bounds", None)
    for limit in (bounds.more_than, bounds.at_least, bounds.at_most) if bounds else ():
        if limit is not None:
            near = (
                limit,
                math.nextafter(limit, math.inf),
                math.nextafter(limit, -math.inf),
                limit * (1 + 1e-10),
                limit + 1,
                limit - 1,
            )
            yield from (*near, int(limit), f"{limit} in", f"{limit} A", f"{limit} VA", f"{limit} V")


def told_by(take: Any, value: Any) -> str | None:
    """What is read, told so that 1, 1.0 and true differ; none where it is refused."""
    try:
        return repr(take(value))
    except (*NOT_AT_ONCE, OverflowError):
        return None


WITHIN_DUST = "3600.000000001 in"


@pytest.mark.parametrize("factor", [1.0, 1 / 25.4, None])
def test_every_field_takes_at_once_what_its_schema_takes(factor: float | None) -> None:
    """But numbers within float dust of a bound, which are left to the schema."""
    copy_context().run(look_at_every_field, factor)


def look_at_every_field(factor: float | None) -> None:
    LENGTH_FACTOR.set(factor)
    with by_marshmallow_alone():
        for schema in every_schema().values():
            takes = takes_of(facts_at_once(schema))
            for key, field in ((str(each.data_key), each) for each in schema.fields.values()):
                for value in to_try(field):
                    quick, slow = told_by(takes[key][1], value), told_by(field.deserialize, value)
                    left = quick is None and (type(value) is float or value == WITHIN_DUST)
                    assert quick == slow or left, (schema, key, value)


def made(**members: Any) -> FactsSchema:
    kind: type[FactsSchema] = type("MadeSchema", (FactsSchema,), {"facts_kind": Device, **members})
    return kind()


def test_what_only_marshmallow_knows_is_left_to_it() -> None:
    gangs = schema_of(Device)().fields["gangs"]
    hooked = made(gangs=gangs, doubled=post_load(lambda self, data, **_: {**data, "poles": 2}))
    assert hooked.load({"gangs": 1}).facts == {"gangs": 1, "poles": 2}
    with pytest.raises(Odd):
        facts_at_once(hooked)({"gangs": 1})
    preset = made(gangs=fields.Integer(load_default=3))
    assert preset.load({}).facts == {"gangs": 3}
    small = made(gangs=fields.Integer(validate=validate.Range(max=2)))
    assert facts_at_once(small)({"gangs": 2}).facts == {"gangs": 2}
    with pytest.raises(NOT_AT_ONCE):
        facts_at_once(small)({"gangs": 3})
    with pytest.raises(ValidationError):
        small.load({"gangs": 3})


def test_lists_and_unions_of_the_plan_are_walked() -> None:
    """So that the test above sees the kinds within them."""
    held = [type(field) for schema in every_schema().values() for field in schema.fields.values()]
    assert {Listed, OneOf, PartMap} <= set(held)
