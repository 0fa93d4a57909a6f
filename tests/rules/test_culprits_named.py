"""Where a receptacle is missing, the message names the one that is drawn there and says why it does not count."""

import json
from importlib.resources import files
from typing import Any

import pytest

from nailplate.catalog import catalog
from nailplate.review import check
from nailplate.review.report import Finding
from nailplate.wire import read_plan_value

CULPRITS = [
    ("wall-space", "living-south", {"height": 70}, "living-south-receptacle", "it is 5 ft 10 in above the floor"),
    ("wall-counter", "counter-east", {"height": 62}, "counter-east-receptacle", "it is 2 ft 2 in above the top"),
    ("wall-counter", "counter-east", {"height": 30}, "counter-east-receptacle", "it is below the top"),
    ("bath-receptacle", "basin-wall", {"height": 15}, "basin-wall-receptacle", "it is 1 ft 7 in below the basin's top"),
]


def found(box: str, place: dict[str, Any], rule: str) -> Finding:
    plan = json.loads((files("nailplate") / "examples" / "tamarack-heron.json").read_text(encoding="utf-8"))
    plan["boxes"][box]["at"].update(place)
    (only,) = [each for each in check(read_plan_value(plan), catalog()).findings if each.rule == rule]
    return only


@pytest.mark.parametrize(("rule", "box", "place", "device", "why"), CULPRITS, ids=[f"{each[0]} {each[4]}" for each in CULPRITS])
def test_message_names_the_receptacle_that_does_not_count(
    rule: str, box: str, place: dict[str, Any], device: str, why: str
) -> None:
    finding = found(box, place, rule)
    assert finding.outcome == "violation"
    assert f"does not count: {why}" in finding.message
    assert f"/devices/{device}" in map(str, finding.where.related)
