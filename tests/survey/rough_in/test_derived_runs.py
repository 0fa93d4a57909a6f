"""Rules on rough-in judge a route that is worked out: what passes passes, what would not is asked for, and nothing is a violation."""

import copy
from typing import Any

from nailplate.catalog import catalog
from nailplate.review import check
from nailplate.review.report import Finding
from nailplate.wire import read_plan_value

SAID = {
    "member": "2x8", "material": "wood", "bearing": True, "plates": "none", "sealed": False, "exposure": "dry",
    "supports": {"spacing": 48, "first": 8}, "bend": {"radius": 3, "side": "flat"}, "edge_distance": 1.5,
    "bored": {"hole": {"diameter": 0.75, "centre_offset": 0}, "edge_distance": 1.375},
}  # fmt: skip
WALL = {"level": "m", "from": [0, 0], "to": [240, 0], "kind": "interior", "thickness": 4.5, "cavity": "none"}
FRAMING = {"member": "2x4", "spacing": 16, "material": "wood", "bearing": False}
PLAN: dict[str, Any] = {
    "plan_format": 1,
    "name": "ends",
    "basis": {"edition": "2023", "regime": "dwelling"},
    "defaults": {"segments": SAID},
    "levels": {"m": {"kind": "storey", "elevation": 0, "ceiling": {"height": 96, "cavity": "none"}}},
    "walls": {"s": {**WALL, "framing": FRAMING}},
    "boxes": {
        name: {"at": {"wall": "s", "along": along, "height": height, "side": "left"}, "clamps": "none", "material": "nonmetallic",
               "gangs": 1, "shape": "device"}
        for name, along, height in (("a", 20, 16), ("b", 100, 48))
    },
    "cables": {"k": {"type": "NM-B", "size": "14 AWG", "insulated": 2, "ends": [{"box": "a"}, {"box": "b"}]}},
}  # fmt: skip
RULES = (
    "bored-hole-edge",
    "bore-strength",
    "parallel-run-edge",
    "support-interval",
    "first-support",
    "bend-radius",
    "cable-place",
)


def judged(plan: dict[str, Any]) -> tuple[list[Finding], dict[str, int]]:
    report = check(read_plan_value(plan), catalog())
    found = [each for each in report.findings if each.rule in RULES]
    return found, {each.rule: each.passed for each in report.coverage.rules if each.rule in RULES}


def test_with_what_the_defaults_say_every_rule_passes() -> None:
    found, passed = judged(PLAN)
    assert found == []
    assert all(passed[rule] > 0 for rule in RULES)


def test_without_them_the_route_is_asked_for() -> None:
    plan = copy.deepcopy(PLAN)
    del plan["defaults"]
    found, _ = judged(plan)
    asked = {each.rule: each for each in found}
    assert {each.outcome for each in found} == {"undetermined"}
    assert "bored-hole-edge" in asked
    assert all(need == "/cables/k/route" for each in found for need in each.needs)


def test_a_hole_that_nobody_draws_is_no_violation() -> None:
    plan = copy.deepcopy(PLAN)
    plan["defaults"]["segments"]["bored"]["edge_distance"] = 0.5
    [found] = [each for each in judged(plan)[0] if each.rule == "bored-hole-edge"]
    assert (found.outcome, [*found.needs]) == ("undetermined", ["/cables/k/route"])
    assert "route worked out between its ends (derived)" in found.message


def test_the_same_hole_drawn_is_one() -> None:
    plan = copy.deepcopy(PLAN)
    route = [{"how": "bored", "wall": "s", "edge_distance": 0.5, "points": [[20, 0], [100, 0]], "heights": [16, 16]}]
    plan["cables"]["k"]["route"] = route
    assert "violation" in {each.outcome for each in judged(plan)[0] if each.rule == "bored-hole-edge"}
