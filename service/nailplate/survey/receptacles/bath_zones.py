"""Where a place stands to the tubs and showers of its level: how far from their edge, how high over the rim, what lies between.

Distances are level, from the outside edge of the tub or shower around the walls and other barriers in between; heights count from
the rim of a tub or the threshold of a shower. Wall lines are barriers; windows and fixed glass in them are too.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import Final

from nailplate.calc.cord_floor import SearchTooLarge
from nailplate.calc.cord_path import Barriers, shortest_path
from nailplate.calc.geometry import (
    Grid,
    Interval,
    Outline,
    Point,
    Segment,
    bounding_box,
    distance_to_outline,
    grown,
    meeting_place,
    nearest_on_segment,
    point_along,
    sides,
    subtracted,
)
from nailplate.plan import Fixture, Opening, Pointer, Room, Wall
from nailplate.plan.words import FixtureKind, OpeningKind, WallKind
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, beside_wall
from nailplate.survey.space import joined
from nailplate.units import within

AT_THE_EDGE: Final = 0.5
"""Inches from a tub's outline within which a place on the wall beside it is over the tub; finish lines in plans differ by less."""

_BATHS: Final = frozenset({FixtureKind.TUB, FixtureKind.SHOWER})
_LOW_WALL: Final = 72.0  # inches: a wall that is lower leaves the space over it open, as a half wall does
_OFF_THE_LINE: Final = 0.001  # inches: a wall drawn without thickness parts what stands on its two sides
_BUDGET: Final = 50_000  # comparisons for one way around walls; a house takes under 1000


class Between(StrEnum):
    """What most parts a place from a tub or shower, least first."""

    NOTHING = "nothing"
    HALF_WALL = "half wall"
    DOOR = "door"
    TOO_MUCH_DRAWN = "too much drawn"


@dataclass(frozen=True, slots=True)
class NearBath:
    """A tub or shower near a place: the level distance to its edge, 0 inside it, and what lies between."""

    fixture: Fixture
    across: float
    between: Between

    @property
    def over(self) -> bool:
        """Whether the place is within the outline, or over it."""
        return within(self.across, AT_THE_EDGE)

    def rise(self, height: float) -> float:
        """How far above the rim or threshold a height is; raises UnknownFact where the plan does not say the rim's."""
        return height - self.fixture.rim_height


def baths_in(survey: Survey, room: Room | None) -> list[Fixture]:
    """The tubs and showers of a room."""
    return [each for each in survey.fixtures_in_room.get(room.id, []) if each.kind in _BATHS] if room else []


def undrawn_baths(survey: Survey, room: Room | None) -> tuple[Pointer, ...]:
    """Where the outlines of a room's tubs and showers would stand that are not drawn."""
    return tuple(each.where("outline") for each in baths_in(survey, room) if not each.knows("outline"))


def has_baths(survey: Survey) -> bool:
    """Whether the plan has a tub or shower at all."""
    return survey.once(_any_bath)


def baths_near(survey: Survey, level: str, points: Iterable[Point], reach: float) -> list[NearBath]:
    """The tubs and showers of a level that come within ``reach`` of any of the points; a full wall in between hides them."""
    found: dict[str, NearBath] = {}
    for point in points:
        box = grown((*point, *point), reach)
        for fixture in survey.once(_baths_on, level).near(box):
            near = _near(survey, level, point, fixture, reach)
            if near and (fixture.id not in found or near.across < found[fixture.id].across):
                found[fixture.id] = near
    return list(found.values())


def baths_near_line(survey: Survey, level: str, line: tuple[Point, ...], reach: float) -> list[NearBath]:
    """The same for a course of straight pieces, such as a track, of which any place may be the nearest."""
    box = grown(bounding_box(line), reach)
    pieces = list(pairwise(line))
    spots = [
        spot
        for fixture in survey.once(_baths_on, level).near(box)
        for piece in pieces
        for spot in _nearest_spots(piece, fixture.outline)
    ]
    return baths_near(survey, level, dict.fromkeys((*line, *spots)), reach)


def _nearest_spots(piece: Segment, outline: Outline) -> Iterator[Point]:
    """The places of a straight piece of which one is nearest to an outline, if none of its ends is."""
    for edge in sides(outline):
        yield nearest_on_segment(edge[0], piece)
        crossing = meeting_place(piece, edge)
        if crossing is not None:
            yield crossing


def place_point(where: Standing) -> Point:
    """The point of a place, off the line of a wall that is drawn without thickness."""
    if where.wall is None or where.side is None or where.wall.knows("thickness"):
        return where.point
    return beside_wall(where.wall, where.point, where.side, _OFF_THE_LINE)


def _any_bath(survey: Survey) -> bool:
    return any(each.kind in _BATHS for each in survey.plan.fixtures.values())


def _baths_on(survey: Survey, level: str) -> Grid[Fixture]:
    rooms = survey.rooms_on_level.get(level, [])
    drawn = [each for room in rooms for each in baths_in(survey, room) if each.knows("outline")]
    return Grid((bounding_box(each.outline), each) for each in drawn)


def _near(survey: Survey, level: str, point: Point, fixture: Fixture, reach: float) -> NearBath | None:
    """By the fewest barriers that must be thought away; None where even then a full wall keeps it out of reach."""
    if not within(distance_to_outline(point, fixture.outline), reach):
        return None
    try:
        for between in _worth_thinking_away(survey, level):
            across = _way(fixture.outline, point, survey.once(_barriers, level, between), reach)
            if across is not None:
                return NearBath(fixture, across, between)
    except SearchTooLarge:
        return NearBath(fixture, distance_to_outline(point, fixture.outline), Between.TOO_MUCH_DRAWN)
    return None


def _worth_thinking_away(survey: Survey, level: str) -> tuple[Between, ...]:
    """What to try. Without a low wall on the level, thinking low walls away leaves the way as it is."""
    kept = survey.shelf(_worth_thinking_away)
    if level not in kept:
        low = any(_is_low(wall) for wall in survey.walls_on_level.get(level, []))
        kept[level] = (Between.NOTHING, Between.HALF_WALL, Between.DOOR) if low else (Between.NOTHING, Between.DOOR)
    return kept[level]


def _way(outline: Outline, point: Point, barriers: Barriers, reach: float) -> float | None:
    path = shortest_path(outline, [point], barriers, reach, budget=_BUDGET)
    return path.length if path else None


def _barriers(survey: Survey, level: str, thought_away: Between) -> Barriers:
    walls = survey.walls_on_level.get(level, [])
    return Barriers(piece for wall in walls for piece in _pieces(survey, wall, thought_away))


def _pieces(survey: Survey, wall: Wall, thought_away: Between) -> Iterator[Segment]:
    if wall.kind is WallKind.RAILING or (_is_low(wall) and thought_away is not Between.NOTHING):
        return
    line = (wall.start, wall.end)
    openings = survey.openings_in_wall.get(wall.id, [])
    gaps: list[Interval] = [
        (each.along, each.along + each.width) for each in openings if _is_open(each, doors=thought_away is Between.DOOR)
    ]
    whole = joined(survey, wall)
    for start, end in subtracted([(whole.start, whole.end)], gaps):
        yield (point_along(line, start), point_along(line, end))


def _is_low(wall: Wall) -> bool:
    return wall.kind is WallKind.HALF or (wall.knows("height") and wall.height < _LOW_WALL)


def _is_open(opening: Opening, *, doors: bool) -> bool:
    """Whether an opening leaves the way free: a cased one does, a door where it is thought away, a window never."""
    if opening.kind in (OpeningKind.WINDOW, OpeningKind.FIXED_GLASS):
        return False
    stays_open = opening.knows("stays_open") and opening.stays_open
    return doors or opening.kind is OpeningKind.CASED or stays_open
