"""The resolved plan is a plan with the same findings, resolves to itself, and says where everything comes from."""

import copy
from typing import Any

import pytest

from houses import house as whole_house
from nailplate.catalog import catalog
from nailplate.plan import PlanRefused
from nailplate.review import OverBudget, check
from nailplate.wire import read_plan_value, resolved

HOUSES = ("tamarack-wren", "tamarack-heron", "tamarack-osprey")
HEAD: dict[str, Any] = {"plan_format": 1, "name": "small", "basis": {"edition": "2023"}}


def house(name: str, *, ends_only: bool) -> Any:
    value = whole_house(name)
    if ends_only:
        for cable in value["cables"].values():
            cable.pop("route", None)
            cable.pop("length", None)
    return value


def findings(value: Any) -> list[tuple[str, str, str]]:
    report = check(read_plan_value(value), catalog())
    return [(each.fingerprint, each.outcome, each.message) for each in (*report.findings, *report.accepted)]


@pytest.mark.parametrize("ends_only", [False, True], ids=["drawn", "ends only"])
@pytest.mark.parametrize("name", HOUSES)
def test_resolved_plan_gives_the_same_findings_and_resolves_to_itself(name: str, ends_only: bool) -> None:
    value = house(name, ends_only=ends_only)
    before = copy.deepcopy(value)
    once = resolved(value)
    assert value == before
    assert resolved(once) == once
    assert findings(once) == findings(value)


def test_defaults_stand_in_the_parts_with_the_pointer_that_they_come_from() -> None:
    breaker = {"rating": 20, "poles": 1}
    defaults = {"circuits": {"breaker": breaker}, "devices": {"switch": {"rating": "15 A"}}, "boxes": {"gangs": 2}}
    parts = {
        "circuits": {"a": {}, "b": {"breaker": {"poles": 2}}},
        "devices": {"s": {"kind": "switch"}, "r": {"kind": "receptacle"}},
    }
    found = resolved({**HEAD, "defaults": defaults, **parts})
    assert "defaults" not in found
    assert found["circuits"] == {"a": {"breaker": breaker}, "b": {"breaker": {"rating": 20, "poles": 2}}}
    assert found["devices"] == {"s": {"kind": "switch", "rating": "15 A"}, "r": {"kind": "receptacle"}}
    assert found["derived"] == {
        "/circuits/a/breaker/poles": {"from": "default", "by": "/defaults/circuits/breaker/poles"},
        "/circuits/a/breaker/rating": {"from": "default", "by": "/defaults/circuits/breaker/rating"},
        "/circuits/b/breaker/rating": {"from": "default", "by": "/defaults/circuits/breaker/rating"},
        "/devices/s/rating": {"from": "default", "by": "/defaults/devices/switch/rating"},
    }
    assert resolved(found) == found


def test_lists_that_are_defaults_are_written_whole() -> None:
    layers = {"left": [{"material": "gypsum board", "thickness": 0.5}]}
    walls = {"w": {"level": "m", "from": [0, 0], "to": [9, 0], "kind": "interior"}}
    plan = {**HEAD, "levels": {"m": {"kind": "storey"}}, "walls": walls, "defaults": {"walls": {"finish": layers}}}
    assert resolved(plan)["walls"]["w"]["finish"] == layers


def test_continued_routes_are_written_out_in_the_plans_own_words() -> None:
    route = [
        {"how": "bored", "points": [["1 ft", 0], [20, 0]], "heights": [3, "4 in"]},
        {"how": "along_member", "to_height": "3 ft"},
        {"how": "bored", "to": [20, "2 ft"]},
    ]
    ends = [{"box": "a"}, {"box": "b"}]
    found = resolved({**HEAD, "boxes": {"a": {}, "b": {}}, "cables": {"k": {"ends": ends, "route": route}}})
    assert found["cables"]["k"]["route"][1:] == [
        {"how": "along_member", "points": [[20, 0], [20, 0]], "heights": ["4 in", "3 ft"]},
        {"how": "bored", "points": [[20, 0], [20, "2 ft"]], "heights": ["3 ft", "3 ft"]},
    ]
    assert found["derived"]["/cables/k/route/2/points"] == {"from": "continued", "by": "/cables/k/route/1"}
    assert resolved(found) == found


def test_routes_and_lengths_are_worked_out_in_the_unit_of_the_plan_and_only_where_none_is_stated() -> None:
    walls = {"w": {"level": "m", "from": [0, 0], "to": [2540, 0], "kind": "interior", "thickness": 114.3, "height": 2438.4}}
    boxes = {
        name: {"at": {"wall": "w", "along": along, "height": 406.4, "side": "left"}}
        for name, along in (("a", 254), ("b", 1270))
    }
    cables = {"k": {"ends": [{"box": "a"}, {"box": "b"}]}}
    plan = {
        **HEAD,
        "units": {"length": "mm"},
        "levels": {"m": {"kind": "storey"}},
        "walls": walls,
        "boxes": boxes,
        "cables": cables,
    }
    found = resolved(plan)
    assert "route" not in found["cables"]["k"]
    facts = found["derived"]["/cables/k/route"]["facts"]
    assert [facts[name] for name in ("along", "makeup", "slack", "length")] == [1016, 508, 304.8, 1524]
    assert facts["route"] == [
        {"level": "m", "wall": "w", "points": [[254, 0], [1270, 0]], "heights": [406.4, 406.4], "how": "bored"}
    ]


def test_what_cannot_be_routed_says_why() -> None:
    found = resolved({**HEAD, "boxes": {"a": {}, "b": {}}, "cables": {"k": {"ends": [{"box": "a"}, {"box": "b"}]}}})
    facts = found["derived"]["/cables/k/route"]["facts"]
    assert facts == {"why_not": "the plan does not state /boxes/a/at, where 'a' is"}


def test_a_plan_that_takes_too_many_steps_is_not_resolved_by_half() -> None:
    with pytest.raises(OverBudget) as over:
        resolved(house("tamarack-wren", ends_only=True), budget=300)
    assert over.value.faults[0].detail == "routes, lengths and loads went past the 300 steps of work that one check may take"


WRONG = [
    ({"boxes/a": {"from": "default"}}, "/derived/boxes~1a"),
    ({"/boxes/a": {"from": "nowhere"}}, "/derived/~1boxes~1a/from"),
    ({"/boxes/a": {}}, "/derived/~1boxes~1a/from"),
]


@pytest.mark.parametrize(("derived", "pointer"), WRONG, ids=[each[1] for each in WRONG])
def test_what_is_derived_is_read_as_strictly_as_all_else(derived: Any, pointer: str) -> None:
    with pytest.raises(PlanRefused) as refused:
        read_plan_value({**HEAD, "derived": derived})
    assert [fault.pointer for fault in refused.value.faults] == [pointer]


def test_defaults_of_segments_stay_for_routes_that_are_worked_out() -> None:
    value = house("tamarack-heron", ends_only=True)
    said = {"plates": "none", "member": "2x8", "material": "wood", "bored": {"edge_distance": 1.375}, "edge_distance": 1.5}
    value["defaults"] = {"segments": said, "boxes": {"gangs": 1}}
    once = resolved(value)
    assert once["defaults"] == {"segments": said}
    assert resolved(once) == once
    assert findings(once) == findings(value)
