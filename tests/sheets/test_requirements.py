"""What the house needs: all of it met in the sound houses, a planted fault unmet, and a bare layout told everything."""

import json
from functools import cache
from importlib.resources import files
from typing import Any

import jsonpatch
import pytest

from houses import house
from nailplate.catalog import catalog
from nailplate.review import Report, check
from nailplate.sheets.requirements import ASKED, Requirement
from nailplate.wire import read_plan_value

EXAMPLES = files("nailplate") / "examples"
MODELS = ("tamarack-wren", "tamarack-heron")
LAYOUT = ("plan_format", "name", "basis", "units", "levels", "walls", "openings", "rooms")


def model(name: str) -> Any:
    """The example's plan."""
    return json.loads((EXAMPLES / f"{name}.json").read_text(encoding="utf-8"))


def layout(name: str) -> dict[str, Any]:
    """The example with levels, walls, openings and rooms alone."""
    return {**{key: value for key, value in house(name).items() if key in LAYOUT}, "stage": "layout"}


def rules_of(fault: dict[str, Any]) -> set[str]:
    """The rules whose findings a planted fault raises."""
    finds = fault["finds"]
    return {each["rule"] for each in (finds if isinstance(finds, list) else [finds])}


def report(plan: Any) -> Report:
    """The report on a plan."""
    return check(read_plan_value(plan), catalog())


@cache
def bare() -> Report:
    """The smallest house as a layout."""
    return report(layout("tamarack-wren"))


def needed(made: Report, **like: object) -> list[Requirement]:
    """The requirements that are so."""
    assert made.requirements is not None
    return [item for item in made.requirements.items if all(getattr(item, name) == value for name, value in like.items())]


@pytest.mark.parametrize("name", MODELS)
def test_every_requirement_of_a_sound_house_is_met(name: str) -> None:
    made = report(model(name))
    assert needed(made)
    assert [item for item in needed(made) if item.met != "yes"] == []
    assert all(item.section for item in needed(made))


@pytest.mark.parametrize("name", MODELS)
def test_a_requirement_is_unmet_where_a_planted_fault_is_found_and_nowhere_else(name: str) -> None:
    plan, faults = model(name), json.loads((EXAMPLES / f"{name}.faults.json").read_text(encoding="utf-8"))["faults"]
    asked = [(fault, rules) for fault in faults if (rules := rules_of(fault) & ASKED.keys())]
    assert asked
    for fault, rules in asked:
        made = report(jsonpatch.apply_patch(plan, fault["patch"]))
        found = {finding.rule for finding in made.findings if finding.rule in ASKED}
        assert rules <= found
        assert {item.rule for item in needed(made) if item.met != "yes"} == found, fault


def test_a_layout_of_rooms_alone_is_told_all_that_it_needs() -> None:
    topics = {item.topic for item in needed(bare())}
    assert topics == {"receptacles", "lights", "alarms", "circuits", "panel", "protection"}
    (walls,) = needed(bare(), rule="wall-space", room="kitchen")
    assert walls.to_add == 4
    assert all(place.at.members[0] == "walls" for place in walls.places)
    assert any(
        place.words == "switch reached at 'Bath door'" for item in needed(bare(), topic="lights") for place in item.places
    )
    counts = {item.rule: item.how_many for item in needed(bare(), topic="circuits")}
    assert counts == {"small-appliance-circuits": 2, "bathroom-circuit": 1, "lighting-circuit-count": 1}


def test_the_load_is_a_range_that_says_what_moves_it() -> None:
    listed = bare().requirements
    assert listed is not None
    load = listed.load
    assert load is not None
    assert load.least.value < load.most.value
    assert {each.section for each in load.moves} == {"Table 220.55", "220.54", None}


def test_not_said_and_none_drawn_yet_are_answered_differently() -> None:
    drawn = report({**layout("tamarack-wren"), "devices": {}, "circuits": {}})
    for rule in ("wall-space", "small-appliance-circuits"):
        assert {item.met for item in needed(bare(), rule=rule)} == {"unknown"}
        assert {item.met for item in needed(drawn, rule=rule)} == {"no"}


def test_a_met_requirement_names_the_parts_that_meet_it() -> None:
    made = report(model("tamarack-wren"))
    (small,) = needed(made, rule="small-appliance-circuits")
    assert len(small.by) >= 2
    assert all(each.members[0] == "circuits" for each in small.by)
    assert all(item.by for item in needed(made, rule="wall-space"))


MET_BY = {
    ("wall-counter", "/counters/counter-right"): {"counter-east-receptacle"},
    ("wall-counter", "/counters/counter-sink"): {"counter-west-receptacle", "counter-south-receptacle"},
    ("wall-space", "/rooms/kitchen"): {"fridge-receptacle", "kitchen-north-receptacle"},
    ("bath-receptacle", "/fixtures/basin"): {"basin-wall-receptacle"},
    ("deck-receptacle", "/rooms/porch"): {"porch-receptacle"},
    ("light-exterior-door", "/openings/back-door"): {"back-luminaire", "sw-back"},
    ("light-habitable", "/rooms/kitchen"): {
        "kitchen-1-luminaire",
        "kitchen-2-luminaire",
        "sink-luminaire",
        "sw-kitchen",
        "sw-sink",
    },
    ("water-heater-circuit", "/appliances/water-heater"): {"water-heater"},
}
"""By the drawing of model Heron: a counter's receptacles serve no wall space, and the one beside the toilet no basin."""


@pytest.mark.parametrize(("rule", "at"), MET_BY)
def test_only_the_parts_that_the_rule_counts_are_named(rule: str, at: str) -> None:
    found = [item for item in needed(heron(), rule=rule) if item.at == at]
    assert [{each.members[1] for each in item.by} for item in found] == [MET_BY[rule, at]]
    assert all(len(set(item.by)) == len(item.by) for item in found)


@cache
def heron() -> Report:
    return report(model("tamarack-heron"))


@pytest.mark.parametrize("building", ["not_a_dwelling", "recreational_vehicle"])
def test_other_classes_are_not_told_what_dwellings_need(building: str) -> None:
    plan = layout("tamarack-wren")
    made = report({**plan, "basis": {**plan["basis"], "regime": building}})
    assert needed(made, rule="wall-space") == []
    assert needed(made, topic="alarms") == []
