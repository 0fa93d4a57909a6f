"""Plans made wrong on purpose break nothing; and those that once did stay whole. The night line is ``fuzz/run.py``."""

import json
from pathlib import Path
from typing import Any

import pytest

from fuzz.invariants import broken
from fuzz.mutants import mutant
from nailplate.plan import PlanRefused
from nailplate.wire import calculate, read_plan_value

PLANS, CHUNK = 500, 50
"""As many as a third of a minute of one core takes; each is checked at least three times, and its patches are tried."""

STILL_OPEN = {263: "a receptacle that wall-counter proposes beside a wall of unsaid thickness leaves its finding"}
"""Seeds that still break something, by what: to be corrected, not to be forgotten."""

ONCE_BROKEN = json.loads(Path(__file__).with_name("once_broken.json").read_text(encoding="utf-8"))
"""The smallest plans found that once broke something, each with what."""


@pytest.mark.long
@pytest.mark.parametrize("first", range(1, PLANS, CHUNK))
def test_mutated_plans_break_nothing(first: int) -> None:
    seeds = [seed for seed in range(first, first + CHUNK) if seed not in STILL_OPEN]
    assert {seed: what for seed in seeds if (what := broken(mutant(seed), schema=seed % 10 == 0))} == {}


@pytest.mark.parametrize("once", ONCE_BROKEN, ids=[each["broke"] for each in ONCE_BROKEN])
def test_what_once_broke_stays_whole(once: dict[str, Any]) -> None:
    assert broken(once["plan"], most_patches=len(once["plan"]) * 100) == []


def plan(edition: str = "2023", **maps: Any) -> dict[str, Any]:
    basis = {"edition": edition, "regime": "dwelling"}
    return {"plan_format": 1, "name": "once broken", "basis": basis, "panels": {"p": {"kind": "service"}}, **maps}


HOME_RUN = {"type": "NM-B", "size": "14 AWG", "insulated": 2, "grounding": "14 AWG", "ends": [{"panel": "p"}, {"box": "b"}]}
BOX = {"volume": "20 in3", "clamps": "none"}


@pytest.mark.parametrize("edition", ["2017", "2020", "2023", "2026"])
@pytest.mark.parametrize("size", ["4 AWG", "2/0 AWG", "250 kcmil"])
def test_sizes_over_the_box_fill_table_are_no_matter_of_box_fill(edition: str, size: str) -> None:
    blocks = {"b": {**BOX, "terminal_blocks": [{"size": size}]}}
    lamp = {"kind": "luminaire", "box": "b", "domed_canopy": False, "fixture_wires": {"size": size, "count": 3}}
    assert broken(plan(edition, boxes=blocks, cables={"k": HOME_RUN})) == []
    assert broken(plan(edition, boxes={"b": BOX}, devices={"l": lamp}, cables={"k": HOME_RUN})) == []
    assert broken(plan(edition, boxes={"b": BOX}, cables={"k": {**HOME_RUN, "grounding": size}})) == []


def test_a_cord_that_passes_a_box_says_what_it_carries_or_nothing() -> None:
    cord = {"type": "cord", "size": "14 AWG", "passes": [{"box": "b"}], "ends": [{"panel": "p"}, {"box": "c"}]}
    assert broken(plan(boxes={"b": BOX, "c": {}}, cables={"k": cord})) == []


def closet(walls: dict[str, Any], openings: dict[str, Any]) -> dict[str, Any]:
    room = {"level": "m", "uses": ["closet"], "outline": [[0, 0], [60, 0], [60, 60], [0, 60]]}
    at = {"room": "c", "point": [30, 30], "height": 96}
    lamp = {"kind": "luminaire", "source": "led", "enclosed": True, "luminaire_mount": "surface", "at": at}
    levels = {"m": {"kind": "storey"}}
    return plan(levels=levels, walls=walls, openings=openings, rooms={"c": room}, devices={"l": lamp})


def test_a_closet_without_walls_or_open_on_every_side_is_undetermined() -> None:
    corners = [[-2, -2], [62, -2], [62, 62], [-2, 62]]
    walls = {
        f"w{n}": {"level": "m", "from": corners[n], "to": corners[(n + 1) % 4], "thickness": 4, "kind": "interior"}
        for n in range(4)
    }
    doors = {f"d{n}": {"wall": f"w{n}", "along": 1, "width": 62, "kind": "door", "head": 80} for n in range(4)}
    assert broken(closet({}, {})) == []
    assert broken(closet(walls, doors)) == []


def test_a_switch_in_a_box_that_is_not_listed_is_told_at_the_switch() -> None:
    body = {
        "edition": "2023",
        "boxes": ["a"],
        "feed": "a",
        "cables": [],
        "switches": [{"box": "zz", "kind": "single_pole"}],
        "outlets": [{"box": "a"}],
        "neutral_at_switches": True,
    }
    with pytest.raises(PlanRefused) as refused:
        calculate("switching", body)
    assert [str(fault.pointer) for fault in refused.value.faults] == ["/switches/0/box"]


def test_a_route_without_a_segment_is_refused_and_not_asked_for() -> None:
    """Eighteen rules asked for the route that the plan states."""
    cable = {"type": "NM-B", "size": "12 AWG", "insulated": 2, "ends": [{"box": "b"}, {"panel": "p"}], "route": []}
    with pytest.raises(PlanRefused) as refused:
        read_plan_value(plan(boxes={"b": {}}, cables={"k": cable}))
    assert [str(fault.pointer) for fault in refused.value.faults] == ["/cables/k/route"]
