"""The storage space of a closet, against an independent geometry library and the worked depths of the trade."""

import json
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon
from shapely.geometry import box as rectangle

from nailplate.plan import UnknownFact
from nailplate.rules.protection.closets import Block, Extent, closest, storage_space
from nailplate.survey import Survey
from nailplate.wire import read_plan

HALF = 2.25
TWO_WINGS = ((0, 0), (96, 0), (96, 60), (48, 60), (48, 120), (0, 120))


def ring(x0: float, y0: float, x1: float, y1: float) -> tuple[tuple[float, float], ...]:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def surveyed(outline: Any, fixtures: Any = None, door: bool = True) -> Survey:
    """A closet with a wall outside each edge; the door is in the first, ``w0``."""
    corners = list(outline)
    walls = {}
    for number, (start, end) in enumerate(zip(corners, [*corners[1:], corners[0]], strict=True)):
        length = math.dist(start, end)
        out = ((end[1] - start[1]) / length * HALF, -(end[0] - start[0]) / length * HALF)
        moved = [[x + out[0], y + out[1]] for x, y in (start, end)]
        walls[f"w{number}"] = {"level": "m", "from": moved[0], "to": moved[1], "thickness": 4.5, "kind": "interior"}
    plan = {
        "plan_format": 1,
        "name": "p",
        "basis": {"edition": "2023"},
        "levels": {"m": {"kind": "storey"}},
        "walls": walls,
        "openings": {"d": {"wall": "w0", "along": 12, "width": 30, "kind": "door"}} if door else {},
        "rooms": {"c": {"level": "m", "uses": ["closet"], "outline": [list(point) for point in outline]}},
        "fixtures": {name: {"room": "c", **facts} for name, facts in (fixtures or {}).items()},
    }
    return Survey(read_plan(json.dumps(plan).encode()))


def blocks_of(survey: Survey) -> tuple[Block, ...]:
    return storage_space(survey, survey.plan.rooms["c"])


def seen_from_above(blocks: tuple[Block, ...], height: float) -> Any:
    union: Any = Polygon()
    for block in blocks:
        if block.bottom <= height < block.top:
            union = union.union(Polygon(block.outline))
    return union


# Back and sides 24 in out up to 6 ft or the highest rod, 12 in or the shelf's width above: the definition as told at
# http://mcgarryandmadsen.com/Blog/Entries/2013/11/30_Is_a_bare_bulb_light_in_a_closet_alright.html


@pytest.mark.parametrize(("height", "depth"), [(1, 24), (71, 24), (73, 12), (200, 12)])
def test_space_is_a_u_along_back_and_sides(height: float, depth: float) -> None:
    space = seen_from_above(blocks_of(surveyed(ring(0, 0, 96, 72))), height)
    u = rectangle(0, 0, 96, 72).difference(rectangle(depth, 0, 96 - depth, 72 - depth))
    assert space.symmetric_difference(u).area == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(("rod", "height", "depth"), [(60, 71, 24), (80, 79, 24), (80, 81, 12)])
def test_highest_rod_takes_the_hanging_space_up_with_it(rod: float, height: float, depth: float) -> None:
    survey = surveyed(ring(0, 0, 96, 72), {"rod": {"kind": "closet_rod", "height": rod}})
    space = seen_from_above(blocks_of(survey), height)
    u = rectangle(0, 0, 96, 72).difference(rectangle(depth, 0, 96 - depth, 72 - depth))
    assert space.symmetric_difference(u).area == pytest.approx(0, abs=1e-6)


def test_shelf_deeper_than_a_foot_widens_the_space_along_its_wall_only() -> None:
    shelf = {"kind": "shelf", "height": 84, "outline": [list(point) for point in ring(0, 54, 96, 72)]}
    space = seen_from_above(blocks_of(surveyed(ring(0, 0, 96, 72), {"shelf": shelf})), 90)
    wanted = rectangle(0, 0, 96, 72).difference(rectangle(12, 0, 84, 54))
    assert space.symmetric_difference(wanted).area == pytest.approx(0, abs=1e-6)


def test_shelf_along_the_front_makes_space_there() -> None:
    shelf = {"kind": "shelf", "height": 84, "outline": [list(point) for point in ring(50, 0, 96, 10)]}
    space = seen_from_above(blocks_of(surveyed(ring(0, 0, 96, 72), {"shelf": shelf})), 90)
    assert space.contains(rectangle(50, 0, 96, 12).buffer(-1e-6))


def test_rod_reached_from_both_sides_has_space_beside_it_and_one_by_the_wall_has_not() -> None:
    room = ring(0, 0, 120, 120)
    middle = {"kind": "closet_rod", "height": 66, "outline": [list(point) for point in ring(30, 59, 90, 61)]}
    wall = {"kind": "closet_rod", "height": 66, "outline": [list(point) for point in ring(0, 107, 120, 109)]}
    beside = [block for block in blocks_of(surveyed(room, {"a": middle, "b": wall})) if "beside" in block.what]
    assert [Polygon(block.outline).equals(rectangle(30, 48, 90, 72)) for block in beside] == [True]
    assert [(block.bottom, block.top) for block in beside] == [(0, 66)]


@given(
    x=st.floats(1, 95),
    y=st.floats(1, 119),
    radius=st.floats(0, 12),
    bottom=st.floats(0, 130),
    tall=st.floats(0, 10),
)
def test_clearance_agrees_with_an_independent_library(x: float, y: float, radius: float, bottom: float, tall: float) -> None:
    blocks = SPACE_OF_TWO_WINGS
    found = closest(blocks, Extent(((x, y),), radius, bottom, bottom + tall)).distance
    wanted = min(_clearance(block, x, y, radius, bottom, bottom + tall) for block in blocks)
    assert found == pytest.approx(wanted, abs=1e-6)


SPACE_OF_TWO_WINGS = blocks_of(
    surveyed(TWO_WINGS, {"shelf": {"kind": "shelf", "outline": [list(point) for point in ring(0, 102, 48, 120)]}})
)


def _clearance(block: Block, x: float, y: float, radius: float, bottom: float, top: float) -> float:
    level = max(0.0, Polygon(block.outline).distance(ShapelyPoint(x, y)) - radius)
    return math.hypot(level, max(0.0, block.bottom - top, bottom - block.top))


@given(x=st.floats(-20, 120), y=st.floats(-20, 140), wide=st.floats(0.5, 30), deep=st.floats(0.5, 30))
def test_level_clearance_of_an_outline_agrees_with_an_independent_library(x: float, y: float, wide: float, deep: float) -> None:
    outline = ring(x, y, x + wide, y + deep)
    low = tuple(block for block in SPACE_OF_TWO_WINGS if block.bottom == 0)
    wanted = min(Polygon(block.outline).distance(Polygon(outline)) for block in low)
    assert closest(low, Extent(outline, 0.0, 10, 20)).distance == pytest.approx(wanted, abs=1e-6)


def test_closet_without_a_door_asks_for_it() -> None:
    with pytest.raises(UnknownFact) as raised:
        blocks_of(surveyed(ring(0, 0, 96, 72), door=False))
    assert str(raised.value.pointer) == "/openings"


def test_rod_of_unknown_height_is_asked_for() -> None:
    with pytest.raises(UnknownFact) as raised:
        blocks_of(surveyed(ring(0, 0, 96, 72), {"rod": {"kind": "closet_rod"}}))
    assert str(raised.value.pointer) == "/fixtures/rod/height"


# Depths at which a luminaire over the door fits at all, https://forums.mikeholt.com/threads/2552096: under 18 in none, at 18 in a
# recessed one, and https://forums.mikeholt.com/threads/130887: at 24 in nothing is left for a surface LED or incandescent.


@pytest.mark.parametrize(("depth", "clearance"), [(17.9, 5.9), (18, 6), (24, 12)])
def test_depth_that_a_recessed_luminaire_over_the_door_needs(depth: float, clearance: float) -> None:
    header = Extent(ring(44, 0, 52, 0), 0.0, 92, 100)
    assert closest(blocks_of(surveyed(ring(0, 0, 96, depth))), header).distance == pytest.approx(clearance)


@pytest.mark.parametrize("out", [0.5, 1, 4])
def test_in_a_closet_24_in_deep_no_surface_luminaire_is_12_in_clear(out: float) -> None:
    over_door = Extent(ring(44, 0, 52, out), 0.0, 92, 100)
    assert closest(blocks_of(surveyed(ring(0, 0, 96, 24))), over_door).distance == pytest.approx(12 - out)
