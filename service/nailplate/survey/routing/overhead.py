"""The framing over a level: how high a cable runs there, and whether a straight leg stays over rooms and clear of openings in it."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Ceiling, Room, Wall
from nailplate.plan.trade import OUTDOOR
from nailplate.plan.words import FixtureKind, Side
from nailplate.survey.ceiling_heights import height_at
from nailplate.survey.index import Survey
from nailplate.survey.places import beside_wall, point_on_wall, room_at
from nailplate.survey.routing.ends import Point

UNDER_FLOOR: Final = -6.0
"""Height of a run in the framing of a floor (common practice)."""
INTO_FRAMING: Final = 4.0
"""Inches above a ceiling at which a run crosses joists or rafters, or lies along them (common practice)."""
STEP: Final = 30.0
"""Inches between the places of a leg that are looked at."""
LONGEST_LEG: Final = 6000.0
"""Inches past which a leg is no longer looked at; no run of a dwelling is longer."""
BESIDE: Final = 2.0
LEVEL_ENOUGH: Final = 6.0
"""Inches by which two ceilings may differ and still be crossed without going up or down in a wall."""
Point3 = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Over:
    """The ceiling over one point: the room that it belongs to, and the height of a run in the framing above it."""

    room: str | None
    height: float


def over(survey: Survey, level: str, point: Point) -> Over | None:
    """What is over a point of a level; None where the plan states no ceiling there."""
    return _over(survey, level, point, room_at(survey, level, point))


def _over(survey: Survey, level: str, point: Point, room: Room | None) -> Over | None:
    ceiling = _ceiling(survey, level, room)
    return Over(room.id if room else None, height_at(ceiling, point) + INTO_FRAMING) if ceiling is not None else None


def _ceiling(survey: Survey, level: str, room: Room | None) -> Ceiling | None:
    for part in (room, survey.plan.levels[level]):
        if part is not None and part.knows("ceiling"):
            found: Ceiling = part.ceiling
            return found if found.knows("height") or found.knows("profile") else None
    return None


def over_wall(survey: Survey, wall: Wall, along: float) -> float | None:
    """The height of a run over a wall: in the framing over the higher of the rooms at its sides, but no higher than over the wall."""
    at = point_on_wall(wall, along)
    sides = [over(survey, wall.level, beside_wall(wall, at, side, BESIDE)) for side in Side]
    known = [each.height for each in sides if each is not None]
    if not known:
        return wall.height + INTO_FRAMING if wall.knows("height") else None
    return min(max(known), wall.height + INTO_FRAMING) if wall.knows("height") else max(known)


def leg_below(survey: Survey, level: str, one: Point3, other: Point3) -> tuple[Point3, ...] | None:
    """The course of a run in the framing under a level's floor; None where neither way round stays under its rooms and walls."""
    if _apart(one, other) > LONGEST_LEG:
        return None
    wells = [stair.opening for stair in survey.plan.stairs.values() if stair.upper == level and stair.knows("opening")]
    holes = (*wells, *survey.once(chimneys, level))
    for corner in ((one[0], other[1]), (other[0], one[1])):
        places = [place for start, end in pairwise((one[:2], corner, other[:2])) for place in _places(start, end)]
        if all(
            _among_rooms(survey, level, place, room_at(survey, level, place)) and not _in_any(holes, place) for place in places
        ):
            return tuple(dict.fromkeys((one, (*corner, one[2]), other)))
    return None


def _among_rooms(survey: Survey, level: str, place: Point, room: Room | None) -> bool:
    """Whether there is framing overhead or below: of a room that is indoors, or in a wall."""
    if room is not None:
        return not OUTDOOR.intersection(room.uses)
    near = survey.once(_bodies, level).near((*place, *place))
    return not survey.once(_any_outline, level) or any(_on(wall, place) for wall in near)


def _in_any(holes: tuple[geometry.Outline, ...], place: Point) -> bool:
    return any(geometry.contains(outline, place) for outline in holes)


def leg(survey: Survey, level: str, one: Point3, other: Point3) -> tuple[Point3, ...] | None:
    """The course of a run overhead between two points, at right angles; None where neither way round stays in the framing."""
    if _apart(one, other) > LONGEST_LEG:
        return None
    for corner in ((one[0], other[1]), (other[0], one[1])):
        course = _course(survey, level, one, corner, other)
        if course is not None:
            return course
    return None


def _apart(one: Point3, other: Point3) -> float:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])


def _course(survey: Survey, level: str, one: Point3, corner: Point, other: Point3) -> tuple[Point3, ...] | None:
    points = [one[:2], corner, other[:2]]
    before = None
    for start, end in pairwise(points):
        for place in _places(start, end):
            room = room_at(survey, level, place)
            here = _over(survey, level, place, room)
            if here is None or _in_any(survey.once(holes_over, level), place) or not _among_rooms(survey, level, place, room):
                return None
            if here.room is not None:
                if before is not None and before.room != here.room and abs(before.height - here.height) > LEVEL_ENOUGH:
                    return None
                before = here
    middle = over(survey, level, corner)
    if middle is None:
        return None
    height = middle.height if middle.room is not None else max(one[2], other[2])
    return tuple(dict.fromkeys((one, (*corner, height), other)))


def _places(start: Point, end: Point) -> Iterator[Point]:
    length = math.dist(start, end)
    number = max(1, math.ceil(length / STEP))
    for step in range(number + 1):
        yield (start[0] + (end[0] - start[0]) * step / number, start[1] + (end[1] - start[1]) * step / number)


def _on(wall: Wall, place: Point) -> bool:
    half = wall.thickness / 2 if wall.knows("thickness") else 0.0
    return geometry.distance_to_segment(place, (wall.start, wall.end)) <= half + BESIDE


def _any_outline(survey: Survey, level: str) -> bool:
    return any(room.knows("outline") for room in survey.rooms_on_level.get(level, []))


def _bodies(survey: Survey, level: str) -> geometry.Grid[Wall]:
    walls = survey.walls_on_level.get(level, [])
    boxes = [geometry.grown(geometry.bounding_box((wall.start, wall.end)), 12.0) for wall in walls]
    return geometry.Grid(zip(boxes, walls, strict=True), cell=60.0)


def holes_over(survey: Survey, level: str) -> tuple[geometry.Outline, ...]:
    """What no run crosses overhead: stairwells in the floor above, and chimneys."""
    wells = [stair.opening for stair in survey.plan.stairs.values() if stair.lower == level and stair.knows("opening")]
    return (*wells, *survey.once(chimneys, level))


def chimneys(survey: Survey, level: str) -> tuple[geometry.Outline, ...]:
    """Outlines of fireplaces of a level; their chimneys go up through it."""
    fixtures = (each for each in survey.plan.fixtures.values() if each.kind is FixtureKind.FIREPLACE and each.knows("outline"))
    return tuple(each.outline for each in fixtures if survey.plan.rooms[each.room].level == level)
