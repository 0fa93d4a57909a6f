"""Where GFCI protection comes from, and what a circuit supplies."""

import json
from typing import Any

import pytest

from nailplate.plan import PlanRefused
from nailplate.survey import Survey
from nailplate.survey.protection.ground_faults import (
    GroundFaultProtection,
    at_or_below,
    feed_chain,
    ground_fault_protection,
    way_from_panel,
)
from nailplate.survey.protection.ratings import home_run, receptacle_amperes, supplied
from nailplate.wire import read_plan


def circuit(protects: str | None = "none") -> dict[str, Any]:
    return {"voltage": 120, "breaker": {"rating": 20, **({"protects": protects} if protects else {})}}


def surveyed(devices: dict[str, Any], protects: str | None = "none", **more: Any) -> Survey:
    whole = {name: {"kind": "receptacle", "circuit": "c", **facts} for name, facts in devices.items()}
    maps = {"circuits": {"c": circuit(protects), "d": circuit()}, "devices": whole, **more}
    return Survey(read_plan(json.dumps({"plan_format": 1, "name": "p", "basis": {"edition": "2023"}, **maps}).encode()))


def traced(survey: Survey, device: str = "r") -> GroundFaultProtection:
    return ground_fault_protection(survey, survey.plan.devices[device])


def source(survey: Survey) -> str | None:
    found = traced(survey).source
    return found.id if found else None


def chain(length: int, last: dict[str, Any]) -> dict[str, Any]:
    """``r``, fed from 0, fed from 1, and so on up to ``last``."""
    devices: dict[str, Any] = {"r": {"gfci": False, "feed_through_source": "0"}}
    for number in range(length):
        devices[str(number)] = {"gfci": False, "feed_through_source": str(number + 1)}
    return {**devices, str(length): last}


@pytest.mark.parametrize("protects", ["gfci", "dual"])
def test_breaker_that_protects_people_is_the_source(protects: str) -> None:
    assert source(surveyed({"r": {}}, protects)) == "c"


@pytest.mark.parametrize("length", [0, 1, 12])
def test_interrupter_any_number_of_devices_upstream_is_the_source(length: int) -> None:
    assert source(surveyed(chain(length, {"kind": "blank_gfci"}))) == str(length)
    assert source(surveyed(chain(length, {"gfci": True}))) == str(length)


def test_nearest_interrupter_is_the_source() -> None:
    assert source(surveyed(chain(2, {"gfci": True}) | {"0": {"gfci": True, "feed_through_source": "1"}})) == "0"


def test_feeds_that_close_on_themselves_end() -> None:
    survey = surveyed({"r": {"gfci": False, "feed_through_source": "s"}, "s": {"gfci": False, "feed_through_source": "r"}})
    assert [each.id for each in feed_chain(survey, survey.plan.devices["r"])] == ["r", "s"]
    assert traced(survey) == GroundFaultProtection(None, (), (survey.plan.circuits["c"],))


def test_two_devices_that_feed_each_other_end() -> None:
    loop = {"r": {"gfci": False, "feed_through_source": "s"}, "s": {"gfci": False, "feed_through_source": "r"}}
    assert traced(surveyed(loop)).unknown == ()


def test_circuit_of_what_feeds_it_is_the_circuit_of_a_device_that_states_none() -> None:
    devices = {"r": {"kind": "receptacle", "feed_through_source": "s"}, "s": {"kind": "receptacle", "circuit": "c"}}
    plan = {"plan_format": 1, "name": "p", "basis": {"edition": "2023"}, "circuits": {"c": circuit("gfci")}, "devices": devices}
    assert source(Survey(read_plan(json.dumps(plan).encode()))) == "c"


@pytest.mark.parametrize(
    ("facts", "protects", "unknown"),
    [
        ({"gfci": False}, "none", ()),
        ({"gfci": False}, "afci", ()),
        ({"gfci": False}, None, ("/circuits/c/breaker/protects",)),
        ({}, "none", ("/devices/r/gfci",)),
        ({}, None, ("/devices/r/gfci", "/circuits/c/breaker/protects")),
        ({"gfci": False, "second_circuit": "d"}, "gfci", ()),  # d's breaker is known not to protect its half
        ({"second_circuit": "d"}, None, ("/devices/r/gfci",)),  # whatever c's breaker does, d's half has none
    ],
)
def test_what_is_unknown_is_what_would_settle_it(facts: dict[str, Any], protects: str | None, unknown: tuple[str, ...]) -> None:
    found = traced(surveyed({"r": facts}, protects))
    assert found.source is None
    assert found.unknown == unknown


def test_upstream_device_of_unknown_kind_is_asked_about() -> None:
    survey = surveyed({"r": {"gfci": False, "feed_through_source": "s"}, "s": {}})
    assert traced(survey).unknown == ("/devices/s/gfci",)


def test_feed_is_asked_for_only_where_an_interrupter_could_be_its_source() -> None:
    lone = {"r": {"gfci": False}}
    assert traced(surveyed(lone)).unknown == ()
    assert traced(surveyed({**lone, "g": {"gfci": True}})).unknown == ("/devices/r/feed_through_source",)
    assert traced(surveyed({**lone, "g": {"gfci": True, "circuit": "d"}})).unknown == ()
    assert traced(surveyed({**lone, "g": {"gfci": True, "feed_through_source": "r"}})).unknown == ()


def test_load_side_feeds_one_half_of_a_split_receptacle() -> None:
    devices = {"r": {"gfci": False, "feed_through_source": "g", "second_circuit": "d"}, "g": {"gfci": True}}
    assert source(surveyed(devices)) is None
    assert source(surveyed(devices, circuits={"c": circuit(), "d": circuit("gfci")})) == "g"


def test_receptacle_without_a_rating_is_bounded_by_its_circuit() -> None:
    survey = surveyed({"r": {}, "s": {"rating": 15}})
    assert [receptacle_amperes(survey, survey.plan.devices[each]) for each in "rs"] == [20, 15]


def test_home_run_is_the_cable_from_the_panel() -> None:
    survey = surveyed(
        {"r": {"box": "a"}, "s": {"box": "b"}},
        panels={"p": {"kind": "service"}},
        boxes={"a": {}, "b": {}},
        cables={
            "run": {"circuit": "c", "ends": [{"panel": "p"}, {"box": "a"}]},
            "on": {"circuit": "c", "ends": [{"box": "a"}, {"box": "b"}]},
        },
    )
    run = home_run(survey, survey.plan.circuits["c"])
    assert run is not None
    assert run.cable.id == "run"
    assert [run.ends_at(survey.plan.devices[each]) for each in "rs"] == [True, False]
    assert home_run(survey, survey.plan.circuits["d"]) is None


def test_circuit_supplies_the_switches_that_control_its_outlets() -> None:
    rooms = {"x": {"level": "main", "uses": ["bathroom"]}, "hall": {"level": "main", "uses": ["hallway"]}}
    devices = {
        "light": {"kind": "luminaire", "circuit": "c", "at": {"room": "x", "point": [0, 0]}},
        "switch": {"kind": "switch", "at": {"room": "hall", "point": [0, 0]}},
        "lost": {"kind": "luminaire", "circuit": "c"},
    }
    plan = {
        "plan_format": 1,
        "name": "p",
        "basis": {"edition": "2023"},
        "levels": {"main": {"kind": "storey"}},
        "rooms": rooms,
        "circuits": {"c": circuit()},
        "devices": devices,
        "controls": {"k": {"switches": ["switch"], "outlets": ["light"]}},
    }
    survey = Survey(read_plan(json.dumps(plan).encode()))
    found = supplied(survey, survey.plan.circuits["c"])
    assert [(part.id, room.id if room else None) for part, room in found.places] == [("light", "x"), ("switch", "hall")]
    assert found.unknown == ("/devices/lost/at",)


# Held against the cables drawn


def cabled(joins: list[tuple[str, str]], devices: dict[str, Any], **more: Any) -> Survey:
    """Boxes a, b and so on, joined as told; ``p`` is the panel."""
    boxes: dict[str, Any] = {name: {} for pair in (*joins, ("r",)) for name in pair if name != "p"}
    ends = [[{"panel": end} if end == "p" else {"box": end} for end in pair] for pair in joins]
    cables = {str(number): {"circuit": "c", "ends": both} for number, both in enumerate(ends)}
    circuits = {"c": {**circuit(), "panel": "p"}, "d": circuit()}
    return surveyed(devices, boxes=boxes, cables=cables, panels={"p": {"kind": "service"}}, circuits=circuits, **more)


ROUND = [("p", "a"), ("a", "g"), ("a", "r")]
THROUGH = [("p", "a"), ("a", "g"), ("g", "r")]
NAMED = {"r": {"gfci": False, "box": "r", "feed_through_source": "g"}, "g": {"gfci": True, "box": "g"}}


def test_source_that_the_cables_pass_protects() -> None:
    assert source(cabled(THROUGH, NAMED)) == "g"


def test_source_that_the_cables_leave_out_protects_nothing_and_is_told() -> None:
    found = traced(cabled(ROUND, NAMED))
    assert (found.source, found.unknown) == (None, ())
    assert found.bypassed is not None
    assert found.bypassed.id == "g"


@pytest.mark.parametrize("joins", [[("p", "a"), ("a", "g")], [*THROUGH, ("a", "r")]])
def test_cables_that_do_not_reach_or_form_a_ring_decide_nothing(joins: list[tuple[str, str]]) -> None:
    assert source(cabled(joins, NAMED)) == "g"


def test_blank_face_device_on_the_line_side_protects_what_its_load_side_feeds_only() -> None:
    blank = {"g": {"kind": "blank_gfci", "box": "g"}}
    splice = {"r": {"gfci": False, "box": "r", "fed_from": "circuit"}}
    load = {"r": {"gfci": False, "box": "r", "fed_from": "load_side"}}
    spliced = traced(cabled(THROUGH, {**splice, **blank}))
    assert (spliced.source, spliced.unknown) == (None, ())
    assert source(cabled(THROUGH, {**load, **blank})) == "g"
    assert traced(cabled(ROUND, {**load, **blank})).unknown == ("/devices/r/feed_through_source",)


def test_interrupter_on_another_branch_is_not_asked_about() -> None:
    unsaid = {"r": {"gfci": False, "box": "r"}, "g": {"gfci": True, "box": "g"}}
    assert traced(cabled(ROUND, unsaid)).unknown == ()
    assert traced(cabled(THROUGH, unsaid)).unknown == ("/devices/r/feed_through_source",)


def test_further_sources_in_series_are_told() -> None:
    chain_of_two = {"r": {"gfci": True, "feed_through_source": "g"}, "g": {"gfci": True}}
    found = traced(surveyed(chain_of_two, "gfci"))
    assert found.source is not None
    assert [each.id for each in (found.source, *found.also)] == ["r", "g", "c"]
    assert traced(surveyed({"r": {"gfci": True}})).also == ()


def test_what_a_device_would_cover_is_what_is_fed_by_way_of_its_box() -> None:
    run = {"r": {"box": "a"}, "s": {"box": "b"}, "t": {"box": "d"}, "u": {"box": "e"}}
    survey = cabled([("p", "a"), ("a", "b"), ("b", "d"), ("a", "e")], run)
    covered = {each: [below.id for below in at_or_below(survey, survey.plan.devices[each])] for each in run}
    assert covered == {"r": ["s", "u", "t"], "s": ["t"], "t": [], "u": []}
    assert [node.id for node in way_from_panel(survey, survey.plan.devices["t"])] == ["a", "b", "d"]


def test_device_that_names_a_source_is_not_fed_from_the_circuit_itself() -> None:
    with pytest.raises(PlanRefused) as refused:
        surveyed({"r": {"fed_from": "circuit", "feed_through_source": "g"}, "g": {}})
    assert [str(fault.pointer) for fault in refused.value.faults] == ["/devices/r/fed_from"]
