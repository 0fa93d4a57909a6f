"""Bathrooms too small to keep a receptacle clear of the tub or shower: how far their walls get from it, and which is farthest."""

from typing import Final

from nailplate.calc.geometry import (
    DUST,
    Outline,
    Point,
    Segment,
    bounding_box,
    boxes_touch,
    distance_between_segments,
    distance_to_outline,
    distance_to_segment,
    grown,
    length_of,
    point_along,
    sides,
)
from nailplate.plan import Fixture, Room
from nailplate.plan.words import FixtureKind
from nailplate.survey.index import Survey
from nailplate.units import reaches, within

_ON_A_WALL: Final = 3.0  # inches between a receptacle and the finish line of the wall that it is on
_STEP: Final = 1.0  # inches between the places along a wall that are looked at
_SAME: Final = 0.5  # inches by which two walls may differ and be equally far


def deepest(room: Room, bath: Fixture) -> float:
    """How far from the tub or shower the farthest place in the room is."""
    return max(distance_to_outline(corner, bath.outline) for corner in room.outline)


def is_on_farthest_wall(room: Room, bath: Fixture, point: Point) -> bool:
    """Whether a place is on the wall of the room that is farthest from the tub or shower."""
    away = {side: _away(side, bath.outline) for side in sides(room.outline)}
    farthest = max(away.values())
    return any(
        reaches(distance, farthest - _SAME) and within(distance_to_segment(point, side), _ON_A_WALL)
        for side, distance in away.items()
    )


def basins_reached(survey: Survey, room: Room, point: Point) -> list[Fixture]:
    """The basins of the room that a receptacle at this place may be the required one for. Raises UnknownFact if one is undrawn."""
    basins = [each for each in survey.fixtures_in_room.get(room.id, []) if each.kind is FixtureKind.BASIN]
    reach = survey.inches("basin_reach")
    return [each for each in basins if _is_within(point, each.outline, reach)]


def has_place_outside(survey: Survey, room: Room, baths: list[Fixture], basin: Fixture) -> bool:
    """Whether some place along the walls is within reach of the basin and three feet from every tub and shower."""
    kept = survey.shelf(_place_outside)
    key = (room, basin, *baths)
    if key not in kept:
        kept[key] = _place_outside(survey, room, baths, basin)
    return kept[key]


def _place_outside(survey: Survey, room: Room, baths: list[Fixture], basin: Fixture) -> bool:
    reach, across = survey.inches("basin_reach"), survey.inches("tub_zone_across")
    return any(
        _is_within(spot, basin.outline, reach) and all(_is_clear(spot, bath.outline, across) for bath in baths)
        for side in sides(room.outline)
        for spot in _spots(side)
    )


def _is_within(spot: Point, outline: Outline, reach: float) -> bool:
    return _may_be_within(spot, outline, reach) and within(distance_to_outline(spot, outline), reach)


def _is_clear(spot: Point, outline: Outline, across: float) -> bool:
    return not _may_be_within(spot, outline, across) or reaches(distance_to_outline(spot, outline), across)


def _may_be_within(spot: Point, outline: Outline, by: float) -> bool:
    """By the rectangle around the outline alone."""
    return boxes_touch((*spot, *spot), grown(bounding_box(outline), by + DUST))


def _spots(side: Segment) -> list[Point]:
    length = length_of(side)
    return [point_along(side, min(step * _STEP, length)) for step in range(int(length / _STEP) + 2)]


def _away(side: Segment, outline: Outline) -> float:
    return min(distance_between_segments(side, edge) for edge in sides(outline))
