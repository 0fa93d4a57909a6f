"""Counts in tens, lengths of a few hundred feet: what is past the trade is refused where it is written, with the bound in words."""

from typing import Any

import pytest

from nailplate.plan import Fault, PlanRefused
from nailplate.wire import calculate, read_plan_value


def plan(**maps: Any) -> dict[str, Any]:
    return {"plan_format": 1, "name": "bounds", "basis": {"edition": "2023"}, "levels": {"m": {"kind": "storey"}}, **maps}


def faults(value: dict[str, Any]) -> dict[str, str]:
    with pytest.raises(PlanRefused) as refused:
        read_plan_value(value)
    return told(refused.value.faults)


def told(faults: tuple[Fault, ...]) -> dict[str, str]:
    return {fault.pointer: fault.detail for fault in faults}


ROOM = {"level": "m", "uses": ["kitchen"]}
ENDS = [{"panel": "p"}, {"box": "b"}]


@pytest.mark.parametrize(
    ("maps", "pointer", "words"),
    [
        ({"rooms": {"g": {**ROOM, "vehicle_bays": 10_000_000}}}, "/rooms/g/vehicle_bays", "10000000 was found; at most 20"),
        ({"devices": {"s": {"kind": "switch", "poles": 7}}}, "/devices/s/poles", "7 was found; at most 6 was wanted"),
        ({"devices": {"r": {"kind": "receptacle", "contacts": 13}}}, "/devices/r/contacts", "at most 12 was wanted"),
        ({"boxes": {"x": {"gangs": 13}}}, "/boxes/x/gangs", "13 was found; at most 12 was wanted"),
        ({"panels": {"q": {"kind": "service", "spaces": 201}}}, "/panels/q/spaces", "at most 200 was wanted"),
        ({"circuits": {"c": {"position": [0]}}}, "/circuits/c/position/0", "0 was found; at least 1 was wanted"),
        ({"appliances": {"a": {"kind": "well_pump", "hp": 0}}}, "/appliances/a/hp", "0 was found; more than 0 was wanted"),
        ({"counters": {"c": {"room": "k", "kind": "wall", "height": "301 ft"}}}, "/counters/c/height", "at most 300 ft"),
    ],
)
def test_what_is_past_the_trade_is_refused_with_its_bound(maps: dict[str, Any], pointer: str, words: str) -> None:
    found = faults(plan(**{"rooms": {"k": ROOM}, **maps}))
    assert words in found[pointer]


def test_conductors_of_a_cable_are_tens() -> None:
    cable = {"insulated": 10_000_000, "ends": ENDS}
    found = faults(plan(panels={"p": {"kind": "service"}}, boxes={"b": {}}, cables={"c": cable}))
    assert found == {"/cables/c/insulated": "10000000 was found; at most 100 was wanted"}


def test_millimeters_without_their_unit_are_told_as_that() -> None:
    kitchen = {**ROOM, "outline": [[0, 0], [6096, 0], [6096, 5080], [0, 5080]]}
    said = "this reaches 508 ft; at most 300 ft was wanted; if bare numbers are millimeters, say so: `units.length`"
    assert faults(plan(rooms={"k": kitchen})) == {"/rooms/k/outline": said}
    read_plan_value(plan(rooms={"k": kitchen}, units={"length": "mm"}))


def test_a_length_with_its_unit_and_a_plan_with_its_unit_get_no_such_hint() -> None:
    counters = {"c": {"room": "k", "kind": "wall", "height": 6000}}
    assert "millimeters" in faults(plan(rooms={"k": ROOM}, counters=counters))["/counters/c/height"]
    stated = faults(plan(rooms={"k": ROOM}, counters=counters, units={"length": "in"}))
    assert stated["/counters/c/height"] == "500 ft was found; at most 300 ft was wanted"
    counters["c"]["height"] = "500 ft"
    assert "millimeters" not in faults(plan(rooms={"k": ROOM}, counters=counters))["/counters/c/height"]


def test_a_feeder_may_cross_the_land_and_a_house_may_stand_anywhere() -> None:
    far = [[500_000, 0], [500_100, 0], [500_100, 100], [500_000, 100]]
    supplies = {"f": {"kind": "feeder", "length": "1500 ft"}}
    read_plan_value(plan(rooms={"k": {**ROOM, "outline": far}}, supplies=supplies))


def test_a_calculation_bounds_its_counts_too() -> None:
    body = {
        "edition": "2023",
        "boxes": ["a", "b"],
        "feed": "a",
        "cables": [{"from": "a", "to": "b", "conductors": 10_000_000}],
        "switches": [{"box": "a", "kind": "single_pole"}],
        "outlets": [{"box": "b"}],
    }
    with pytest.raises(PlanRefused) as refused:
        calculate("switching", body)
    assert told(refused.value.faults) == {"/cables/0/conductors": "10000000 was found; at most 100 was wanted"}
