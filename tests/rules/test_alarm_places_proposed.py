"""A place that a remedy proposes for a smoke alarm is at whole inches of the drawing, and in the room."""

from typing import Any

import pytest

from nailplate.calc import geometry
from nailplate.rulekit import Operation, Violation
from rules.judging import answers, document, loaded, packs

CORNERED = [[0.25, 0.3], [240.7, 0.3], [240.7, 60.9], [60.4, 60.9], [60.4, 300.2], [0.25, 300.2]]
"""A room in the shape of an L, whose middle is outside of it."""
TRIANGLE = [[0.5, 0.5], [120.3, 0.5], [0.5, 170.2]]


def house(outline: list[list[float]], **devices: Any) -> dict[str, Any]:
    range_ = {"kind": "range", "room": "r", "fuel": "none", "footprint": [[5, 1], [35, 1], [35, 26], [5, 26]]}
    return {
        "basis": {"regime": "dwelling"},
        "levels": {"m": {"kind": "storey", "elevation": 0, "ceiling": {"height": 96}}},
        "rooms": {"r": {"level": "m", "outline": outline, "uses": ["bedroom"]}},
        "appliances": {"range": range_},
        "devices": devices,
    }


def points(rule: str, plan: dict[str, Any]) -> list[tuple[float, ...]]:
    """Every place that the patches of a rule's violations name, in inches."""
    found = answers(packs().rules[rule], loaded(document({"edition": "nec-2023", "plan": plan})))
    wrong = [outcome for _, outcome in found if isinstance(outcome, Violation)]
    patches = [each for outcome in wrong for remedy in outcome.remedies for each in remedy.patch]
    return [tuple(float(text.removesuffix(" in")) for text in point) for each in patches for point in _named(each)]


def _named(patch: Operation) -> list[list[str]]:
    value: Any = patch.value
    if str(patch.path).endswith("/point"):
        return [value]
    parts = value.values() if isinstance(value, dict) and "at" not in value else [value]
    return [each["at"]["point"] for each in parts if isinstance(each, dict) and "at" in each]


@pytest.mark.parametrize("outline", [CORNERED, TRIANGLE], ids=["L", "triangle"])
def test_an_alarm_is_added_at_whole_inches_of_its_room(outline: list[list[float]]) -> None:
    plan = house(outline, light={"kind": "luminaire"})
    found = points("smoke-alarm-places", plan)
    assert found
    for point in found:
        assert all(each == round(each) for each in point)
        assert geometry.contains(tuple((x, y) for x, y in outline), (point[0], point[1]))


@pytest.mark.parametrize("outline", [CORNERED, TRIANGLE], ids=["L", "triangle"])
def test_an_alarm_near_cooking_is_moved_to_whole_inches_of_its_room(outline: list[list[float]]) -> None:
    alarm = {"kind": "smoke_alarm", "sensing": "photoelectric", "at": {"room": "r", "point": [40.3, 33.7], "height": 95}}
    plan = house(outline, alarm=alarm)
    found = points("smoke-alarm-clear-of", {**plan, "basis": {"regime": "dwelling", "residential_code": "2018"}})
    assert found
    for point in found:
        assert all(each == round(each) for each in point)
        assert geometry.contains(tuple((x, y) for x, y in outline), (point[0], point[1]))
