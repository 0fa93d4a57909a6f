"""The space in front of a panel, held against shapely's cutting of the same shapes, and ceilings against heights by hand."""

import json
import math
import random
from typing import Any

import pytest
from shapely import Polygon, box
from shapely.affinity import rotate, translate

from nailplate.plan import Plan
from nailplate.survey import Survey
from nailplate.survey.ceiling_heights import ceiling_over
from nailplate.survey.equipment.clearances import SLACK, clear_depth, clear_width, front_of, pieces_in_front
from nailplate.wire import read_plan

HALF, DEPTH, WIDE = 7.25, 36.0, 30.0
L_SHAPE = ((0, 0), (60, 0), (60, 24), (24, 24), (24, 60), (0, 60))


def plan(**more: Any) -> Plan:
    """A long wall along x with its face at y = 0 and a panel of 14 1/2 in at x = 0 on it."""
    document = {
        "plan_format": 1,
        "name": "front",
        "basis": {"edition": "2023"},
        "levels": {"m": {"kind": "storey", "ceiling": {"height": 96}}},
        "walls": {"w": {"level": "m", "from": [-500, -2], "to": [500, -2], "thickness": 4, "kind": "interior"}},
        "rooms": {"r": {"level": "m", "outline": [[-500, 0], [500, 0], [500, 400], [-500, 400]], "uses": ["utility"]}},
        "panels": {
            "p": {
                "kind": "subpanel",
                "at": {"wall": "w", "along": 500, "height": 60, "side": "left"},
                "face": {"width": 2 * HALF, "height": 30},
            }
        },
        **more,
    }
    return read_plan(json.dumps(document).encode())


def shapes(seed: int) -> list[Polygon]:
    """Rectangles and L-shaped counters, turned any way, within reach of the panel."""
    chance = random.Random(seed)
    found = []
    for _ in range(chance.randint(1, 3)):
        width, depth = chance.uniform(4, 40), chance.uniform(4, 40)
        shape = Polygon(L_SHAPE) if chance.random() < 0.3 else box(0, 0, width, depth)
        turned = rotate(shape, chance.choice([0, 0, 90, chance.uniform(0, 360)]), origin=(0, 0))
        x, y, *_ = turned.bounds
        found.append(translate(turned, chance.uniform(-60, 40) - x, chance.uniform(0.5, 50) - y))
    return found


def drawn(found: list[Polygon]) -> Plan:
    counters = {
        f"c{number}": {
            "room": "r",
            "kind": "island",
            "outline": [list(point) for point in shape.exterior.coords[:-1]],
            "height": 36,
        }
        for number, shape in enumerate(found)
    }
    return plan(counters=counters)


def by_shapely(found: list[Polygon]) -> tuple[float, float, float]:
    strip = box(-WIDE, SLACK, WIDE, DEPTH - SLACK)
    ahead = box(SLACK - HALF, SLACK, HALF - SLACK, DEPTH - SLACK)
    left, right = box(-WIDE * 9, SLACK, SLACK - HALF, DEPTH - SLACK), box(HALF - SLACK, SLACK, WIDE * 9, DEPTH - SLACK)
    near = [shape for shape in found if shape.intersects(strip)]
    depths = [cut.bounds[1] for shape in near if (cut := shape.intersection(ahead)).area > 0.01]
    lefts = [cut.bounds[2] for shape in near if (cut := shape.intersection(left)).area > 0.01]
    rights = [cut.bounds[0] for shape in near if (cut := shape.intersection(right)).area > 0.01]
    return min(depths, default=math.inf), max(lefts, default=-math.inf), min(rights, default=math.inf)


@pytest.mark.parametrize("seed", range(400))
def test_depth_and_width_are_what_shapely_cuts(seed: int) -> None:
    found = shapes(seed)
    survey = Survey(drawn(found))
    front = front_of(survey, survey.plan.panels["p"])
    pieces = pieces_in_front(survey, front, 0.0, DEPTH, 78.0, WIDE)
    ahead = clear_depth(pieces, HALF)
    left, right, _ = clear_width(pieces, HALF)
    depth, wanted_left, wanted_right = by_shapely(found)
    assert (ahead[0] if ahead else math.inf) == pytest.approx(depth, abs=1e-6)
    assert max(left, -WIDE) == pytest.approx(max(wanted_left, -WIDE), abs=1e-6)
    assert min(right, WIDE) == pytest.approx(min(wanted_right, WIDE), abs=1e-6)


def test_the_shapes_of_these_tests_both_block_and_leave_the_space_free() -> None:
    depths = [by_shapely(shapes(seed))[0] for seed in range(400)]
    assert 60 < sum(math.isinf(depth) for depth in depths) < 340


@pytest.mark.parametrize(("height", "counted"), [(78.0, True), (66.0, False)])
def test_what_begins_above_the_space_is_in_nobodys_way(height: float, counted: bool) -> None:
    rod = {"room": "r", "kind": "closet_rod", "outline": [[-50, 12], [50, 12], [50, 14], [-50, 14]], "height": 66}
    survey = Survey(plan(fixtures={"rod": rod}))
    front = front_of(survey, survey.plan.panels["p"])
    assert bool(pieces_in_front(survey, front, 0.0, DEPTH, height, WIDE)) is counted


GABLE = {"profile": [{"line": [[-500, y], [500, y]], "height": height} for y, height in ((0, 60), (120, 120), (240, 60))]}


@pytest.mark.parametrize(
    ("y", "height"),
    # By hand: 60 in of rise over 120 in of run, so half an inch up for an inch in.
    [(0, 60), (36, 78), (60, 90), (120, 120), (180, 90), (240, 60), (300, 60)],
)
def test_a_sloped_ceiling_is_plane_between_its_lines(y: float, height: float) -> None:
    room = {"level": "m", "outline": [[-500, 0], [500, 0], [500, 400], [-500, 400]], "uses": ["bedroom"], "ceiling": GABLE}
    assert ceiling_over(Survey(plan(rooms={"r": room})), "m", (10.0, y)) == pytest.approx(height)


def test_a_room_without_a_ceiling_of_its_own_has_that_of_its_level() -> None:
    assert ceiling_over(Survey(plan()), "m", (10.0, 10.0)) == 96
