"""Distances to tubs and showers around walls, against an independent geometry library and hand-drawn ways."""

import json
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import box as rectangle

from nailplate.survey import Survey
from nailplate.survey.receptacles.bath_zones import (
    Between,
    NearBath,
    baths_near,
    baths_near_line,
    has_baths,
    undrawn_baths,
)
from nailplate.survey.receptacles.small_baths import deepest, has_place_outside, is_on_farthest_wall
from nailplate.wire import read_plan

TUB = rectangle(0, 0, 30, 60)


ACROSS = 36.0
"""Inches: 406.9(C) of the NEC, 3 ft measured level."""


def ring(x0: float, y0: float, x1: float, y1: float) -> list[list[float]]:
    return [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]


def surveyed(walls: Any = None, openings: Any = None, room: Any = None, fixtures: Any = None) -> Survey:
    plan = {
        "plan_format": 1,
        "name": "p",
        "basis": {"edition": "2023"},
        "levels": {"m": {"kind": "storey"}, "up": {"kind": "storey"}},
        "walls": {name: {"level": "m", "kind": "interior", "thickness": 4, **wall} for name, wall in (walls or {}).items()},
        "openings": {name: {"wall": "w", **opening} for name, opening in (openings or {}).items()},
        "rooms": {"bath": {"level": "m", "uses": ["bathroom"], "outline": room or ring(0, 0, 120, 96)}},
        "fixtures": {"tub": {"room": "bath", "kind": "tub", "outline": ring(0, 0, 30, 60)}, **(fixtures or {})},
    }
    return Survey(read_plan(json.dumps(plan).encode()))


def near(survey: Survey, *points: tuple[float, float], reach: float = ACROSS) -> NearBath | None:
    found = baths_near(survey, "m", points, reach)
    return found[0] if found else None


@given(x=st.floats(-60, 90), y=st.floats(-60, 120))
def test_without_walls_the_distance_is_the_straight_one_and_any_side_counts(x: float, y: float) -> None:
    wanted = TUB.distance(ShapelyPoint(x, y))
    found = near(surveyed(), (x, y))
    if found is None:
        assert wanted > ACROSS - 1e-6
    else:
        assert found.across == pytest.approx(wanted, abs=1e-6)
        assert wanted <= ACROSS + 1e-6


WALL = {"w": {"from": [40, -50], "to": [40, 200]}}


def test_full_wall_hides_what_is_behind_it() -> None:
    assert near(surveyed(WALL), (50, 30)) is None
    assert near(surveyed(WALL), (38, 30)) is not None


def test_window_is_a_barrier_as_the_wall_is() -> None:
    assert near(surveyed(WALL, {"o": {"along": 60, "width": 40, "kind": "window"}}), (50, 30)) is None


@pytest.mark.parametrize(
    ("kind", "between"), [("door", Between.DOOR), ("pocket_door", Between.DOOR), ("cased", Between.NOTHING)]
)
def test_doorway_lets_through_as_far_as_its_kind_says(kind: str, between: Between) -> None:
    found = near(surveyed(WALL, {"o": {"along": 60, "width": 40, "kind": kind}}), (50, 30))
    assert found is not None
    assert found.across == pytest.approx(20)
    assert found.between is between


@pytest.mark.parametrize("low", [{"kind": "half"}, {"kind": "interior", "height": 48}])
def test_low_wall_is_said_to_lie_between(low: dict[str, Any]) -> None:
    found = near(surveyed({"w": {**WALL["w"], **low}}), (50, 30))
    assert found is not None
    assert found.between is Between.HALF_WALL


def test_railing_holds_nothing_back() -> None:
    found = near(surveyed({"w": {**WALL["w"], "kind": "railing"}}), (50, 30))
    assert found is not None
    assert found.between is Between.NOTHING


def test_way_goes_around_the_end_of_a_wall() -> None:
    found = near(surveyed({"w": {"from": [40, -50], "to": [40, 40]}}), (50, 30))
    assert found is not None
    assert found.across == pytest.approx(10 + math.hypot(10, 10))


def test_nearest_of_several_points_counts() -> None:
    found = near(surveyed(), (90, 30), (50, 30), (64, 30))
    assert found is not None
    assert found.across == pytest.approx(20)


def test_place_over_the_tub_is_told_from_one_beside_it() -> None:
    inside, beside = near(surveyed(), (15, 30)), near(surveyed(), (31, 30))
    assert inside is not None
    assert beside is not None
    assert (inside.over, beside.over) == (True, False)


def test_tub_on_another_level_is_none_here() -> None:
    assert baths_near(surveyed(), "up", [(15, 30)], ACROSS) == []


def test_tub_without_outline_is_named() -> None:
    survey = surveyed(fixtures={"shower": {"room": "bath", "kind": "shower"}})
    assert has_baths(survey)
    assert [str(each) for each in undrawn_baths(survey, survey.plan.rooms["bath"])] == ["/fixtures/shower/outline"]


def test_depth_of_a_bathroom_and_its_farthest_wall() -> None:
    survey = surveyed(room=ring(0, 0, 60, 60))
    room, tub = survey.plan.rooms["bath"], survey.plan.fixtures["tub"]
    assert deepest(room, tub) == pytest.approx(30)
    assert is_on_farthest_wall(room, tub, (60, 40))
    assert not is_on_farthest_wall(room, tub, (45, 0))


@pytest.mark.parametrize(("deep", "there_is"), [(96, True), (95.9, False)])
def test_place_outside_the_zone_within_reach_of_the_basin(deep: float, there_is: bool) -> None:
    """A room as wide as its tub, which ends at 60 in: its far wall is 3 ft away if the room is 96 in deep."""
    survey = surveyed(
        room=ring(0, 0, 30, deep), fixtures={"b": {"room": "bath", "kind": "basin", "outline": ring(10, 66, 28, 90)}}
    )
    room, fixtures = survey.plan.rooms["bath"], survey.plan.fixtures
    assert has_place_outside(survey, room, [fixtures["tub"]], fixtures["b"]) is there_is


@given(y=st.floats(-40, 110), slant=st.floats(-60, 60))
def test_nearest_place_of_a_straight_course_agrees_with_an_independent_library(y: float, slant: float) -> None:
    line = ((-80.0, y), (130.0, y + slant))
    found = baths_near_line(surveyed(), "m", line, ACROSS)
    wanted = TUB.distance(LineString(line))
    assert [each.across for each in found] == ([pytest.approx(wanted, abs=1e-6)] if wanted <= ACROSS else [])
