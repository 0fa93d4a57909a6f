"""Bathrooms too small to keep a receptacle clear of the tub or shower: how far their walls get from it, and which is farthest."""

from typing import Final

from nailplate.calc.geometry import (
    Outline,
    Point,
    Segment,
    distance_between_segments,
    distance_to_outline,
    distance_to_segment,
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
    return [each for each in basins if within(distance_to_outline(point, each.outline), survey.inches("basin_reach"))]


def has_place_outside(survey: Survey, room: Room, baths: list[Fixture], basin: Fixture) -> bool:
    """Whether some place along the walls is within reach of the basin and three feet from every tub and shower."""
    return any(
        within(distance_to_outline(spot, basin.outline), survey.inches("basin_reach"))
        and all(reaches(distance_to_outline(spot, bath.outline), survey.inches("tub_zone_across")) for bath in baths)
        for side in sides(room.outline)
        for spot in _spots(side)
    )


def _spots(side: Segment) -> list[Point]:
    length = length_of(side)
    return [point_along(side, min(step * _STEP, length)) for step in range(int(length / _STEP) + 2)]


def _away(side: Segment, outline: Outline) -> float:
    return min(distance_between_segments(side, edge) for edge in sides(outline))
