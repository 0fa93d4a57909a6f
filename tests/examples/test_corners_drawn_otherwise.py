"""One house drawn in every lawful way of drawing corners gives the same findings.

The end of a wall may stand on the other wall's center line, near face or far face, or one of the two runs through. The example houses,
sound and with every planted fault, are drawn anew in each way; what stands along a wall stays where it is.
"""

import copy
import json
import math
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache
from importlib.resources import files
from typing import Any

import jsonpatch
import pytest
from jsonpatch import JsonPatchException
from jsonpointer import JsonPointerException

from houses import whole
from nailplate.catalog import catalog
from nailplate.plan import PlanRefused
from nailplate.review import Report, check
from nailplate.wire import read_plan_value

pytestmark = pytest.mark.long
HOUSES = ("wren", "heron", "osprey")
Point = tuple[float, float]
Way = Callable[[str, str], float]
"""How far past the other wall's center line an end goes, in halves of that wall's thickness, for a wall and the one it meets."""

WAYS: dict[str, Way] = {
    "center line": lambda wall, other: 0.0,
    "near face": lambda wall, other: -1.0,
    "far face": lambda wall, other: 1.0,
    "one runs through": lambda wall, other: 1.0 if wall < other else -1.0,
    "the other runs through": lambda wall, other: -1.0 if wall < other else 1.0,
}


@cache
def _text(name: str) -> str:
    return (files("nailplate") / "examples" / name).read_text(encoding="utf-8")


def house(name: str, *, faulty: bool) -> dict[str, Any]:
    """A house, with every fault planted that the ones before leave a place for."""
    plan: dict[str, Any] = json.loads(_text(f"tamarack-{name}.json"))
    for fault in json.loads(_text(f"tamarack-{name}.faults.json"))["faults"] if faulty else ():
        try:
            changed = jsonpatch.apply_patch(plan, fault["patch"])
            read_plan_value(copy.deepcopy(changed))
        except (JsonPatchException, JsonPointerException, PlanRefused, IndexError):
            continue
        plan = changed
    drawn: dict[str, Any] = whole(plan)
    return drawn


def drawn(plan: dict[str, Any], way: Way) -> dict[str, Any]:
    """The plan with its corners drawn in one way."""
    walls = plan["walls"]
    moved = {name: {end: _extended(walls, name, end, way) for end in ("from", "to")} for name in walls}
    for name, by in moved.items():
        start, end = walls[name]["from"], walls[name]["to"]
        length = math.dist(start, end)
        unit = [(b - a) / length for a, b in zip(start, end, strict=True)]
        walls[name] = walls[name] | {
            "from": [a - u * by["from"] for a, u in zip(start, unit, strict=True)],
            "to": [b + u * by["to"] for b, u in zip(end, unit, strict=True)],
        }
    for place in _places(plan):
        place["along"] += moved[place["wall"]]["from"]
    return plan


def _extended(walls: dict[str, Any], name: str, end: str, way: Way) -> float:
    """How far one end of a wall is drawn out, to where it should stop in the wall that it meets."""
    wall = walls[name]
    here, there = wall[end], wall["to" if end == "from" else "from"]
    met = [
        other
        for other in walls
        if other != name and walls[other]["level"] == wall["level"] and _meets(here, there, walls[other])
    ]
    if not met:
        return 0.0
    other = met[0]
    (ax, ay), (bx, by) = walls[other]["from"], walls[other]["to"]
    length, own = math.dist((ax, ay), (bx, by)), math.dist(here, there)
    off = ((here[0] - ax) * (by - ay) - (here[1] - ay) * (bx - ax)) / length
    outward = ((here[0] - there[0]) * (by - ay) - (here[1] - there[1]) * (bx - ax)) / length / own
    past: float = (way(name, other) * walls[other]["thickness"] / 2 * math.copysign(1.0, outward) - off) / outward
    return past


def _meets(here: Point, there: Point, other: dict[str, Any]) -> bool:
    """Whether an end stands in another wall, across it; a wall that goes on in the same line is not met."""
    (ax, ay), (bx, by) = other["from"], other["to"]
    length, half = math.dist((ax, ay), (bx, by)), other["thickness"] / 2 + 0.01
    along = ((here[0] - ax) * (bx - ax) + (here[1] - ay) * (by - ay)) / length
    off = ((here[0] - ax) * (by - ay) - (here[1] - ay) * (bx - ax)) / length
    across = abs((here[0] - there[0]) * (by - ay) - (here[1] - there[1]) * (bx - ax)) > 0.3 * length * math.dist(here, there)
    return bool(across and abs(off) <= half and -half <= along <= length + half)


def _places(value: Any) -> Iterator[dict[str, Any]]:
    """Everything that stands along a wall."""
    if isinstance(value, dict):
        if "wall" in value and "along" in value:
            yield value
        for each in value.values():
            yield from _places(each)


Found = Counter[tuple[Any, ...]]
FROM_A_DRAWN_END = ("box-in-opening", "corner-framing")
"""Rules whose figure tells how far along its wall a part is: that is counted from the end as drawn."""

MOVES_WITH_THE_END = "box-beside-stud"
"""Its stated studs count from the end as drawn: a wall drawn from another end has them elsewhere."""


def found_in(report: Report) -> tuple[Found, Found]:
    """The findings with their figures, and how many parts each rule passed and failed."""
    findings = Counter(
        (
            each.rule,
            str(each.where.pointer),
            each.outcome,
            "" if each.rule in FROM_A_DRAWN_END else _rounded(each.measured),
            _rounded(each.limit),
            tuple(map(str, each.needs)),
        )
        for each in report.findings
        if each.rule != MOVES_WITH_THE_END
    )
    passed = {(each.rule, each.passed): 1 for each in report.coverage.rules if each.rule != MOVES_WITH_THE_END}
    return findings, Counter(passed)


def _rounded(quantity: Any) -> str:
    return "" if quantity is None else f"{quantity.value:.2f} {quantity.unit}"


@cache
def as_drawn(name: str, faulty: bool) -> tuple[Found, Found]:
    return found_in(check(read_plan_value(house(name, faulty=faulty)), catalog()))


@pytest.mark.parametrize("faulty", [False, True], ids=["sound", "with faults"])
@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("name", HOUSES)
def test_every_lawful_way_to_draw_corners_gives_the_same_findings(name: str, way: str, faulty: bool) -> None:
    plan = drawn(house(name, faulty=faulty), WAYS[way])
    findings, passes = found_in(check(read_plan_value(plan), catalog()))
    before, passed_before = as_drawn(name, faulty)
    assert (findings - before, before - findings) == (Counter(), Counter())
    assert (passes - passed_before) == Counter()
