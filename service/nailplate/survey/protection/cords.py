"""Cord paths: the sinks, tubs and showers that an appliance's cord would reach from a receptacle within six feet.

Everything is seen from above on one level. Heights are left out, half walls and railings hold no cord back, walls have no
thickness, and cabinets are open: each makes a path no longer than it really is, so that a receptacle near the limit is counted
in. Measured from the top inside edge of a sink's bowl and the outside edge of a tub or shower to the receptacle's center.

Walls and fixed glass stop a cord; so does the corner or T where a wall is drawn only to the face of the next. Doors and other
doorways stop it where the edition in force says so (2017) and let it through otherwise (from 2020); windows that open let it
through from 2023, which no longer names them. A sliding door lets it through at its sliding panels.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from nailplate.calc.cord_floor import SearchTooLarge
from nailplate.calc.cord_path import Barriers, shortest_path
from nailplate.calc.geometry import (
    DUST,
    Grid,
    Interval,
    Outline,
    Point,
    Segment,
    bounding_box,
    distance,
    distance_to_outline,
    grown,
    point_along,
    subtracted,
)
from nailplate.plan import Device, Fixture, Opening, Pointer, Wall
from nailplate.plan.trade import FULL_WALLS, SINKS
from nailplate.plan.words import FixtureKind, OpeningKind, SliderPanel
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, beside_wall, standing
from nailplate.survey.space import joined
from nailplate.units import within


class Water(StrEnum):
    """What a cord path is measured from: the fact of a fixture that draws its edge."""

    BOWL = "bowl"
    OUTLINE = "outline"


_FIXTURES: Final = {
    Water.BOWL: SINKS,
    Water.OUTLINE: frozenset({FixtureKind.TUB, FixtureKind.SHOWER}),
}
NOTHING: Final[frozenset[OpeningKind]] = frozenset()
DOORWAYS: Final = frozenset(set(OpeningKind) - {OpeningKind.WINDOW, OpeningKind.FIXED_GLASS})
DOORWAYS_AND_WINDOWS: Final = DOORWAYS | {OpeningKind.WINDOW}
"""What a cord passes: nothing in 2017, doorways in 2020, windows that open too from 2023."""
_OFF_THE_LINE: Final = 0.001  # inches: a wall drawn without thickness is a barrier, and its receptacle stands on one side of it
_BUDGET: Final = 50_000  # comparisons for one receptacle, all fixtures near it together; a house takes under 1000 for each


@dataclass(frozen=True, slots=True)
class InReach:
    """A fixture within six feet. ``length`` is None where only the outline around it is drawn, and all of that is in reach."""

    fixture: Fixture
    length: float | None


@dataclass(frozen=True, slots=True)
class CordReach:
    """The nearest fixture in reach; if none, the undrawn edges of those that may be; and whether a search was given up."""

    nearest: InReach | None
    unknown: tuple[Pointer, ...]
    given_up: bool


def sink_in_reach(survey: Survey, device: Device, *, through: frozenset[OpeningKind]) -> CordReach:
    """The nearest sink whose bowl is within six feet of a receptacle by cord path. UnknownFact if its place is."""
    return survey.once(_in_reach, device.id, Water.BOWL, through)


def tub_in_reach(survey: Survey, device: Device, *, through: frozenset[OpeningKind]) -> CordReach:
    """The nearest tub or shower within six feet of a receptacle by cord path. UnknownFact if its place is."""
    return survey.once(_in_reach, device.id, Water.OUTLINE, through)


def barriers_on(survey: Survey, level: str, *, through: frozenset[OpeningKind]) -> Barriers:
    """What stops a cord on a level."""
    return survey.once(_barriers, level, through)


# Fixtures


@dataclass(frozen=True, slots=True)
class _Edge:
    """A fixture's edge if it is drawn, or else the outline (its own or its room's) that it lies somewhere inside."""

    fixture: Fixture
    ring: Outline
    drawn: bool
    wanted: Pointer

    @property
    def span(self) -> float:
        left, bottom, right, top = bounding_box(self.ring)
        return distance((left, bottom), (right, top))


def _in_reach(survey: Survey, device_id: str, water: Water, through: frozenset[OpeningKind]) -> CordReach:
    where = standing(survey, survey.plan.devices[device_id])
    grid, unplaced = survey.once(_fixtures, where.level, water)
    point = plug_of(where)
    reach = survey.inches("cord_to_water")
    near = grid.near(grown((*point, *point), reach + DUST))
    if not near:
        return CordReach(None, unplaced, given_up=False)
    barriers = barriers_on(survey, where.level, through=through)
    search = _Search(point, barriers, reach, _BUDGET // len(near))
    for straight, edge in sorted(((distance_to_outline(point, each.ring), each) for each in near), key=lambda each: each[0]):
        search.look(edge, straight)
    if search.nearest:
        return CordReach(search.nearest, (), given_up=False)
    return CordReach(None, (*search.unknown, *unplaced), search.given_up)


class _Search:
    """Looks along cord paths from one receptacle, each no longer than the best so far."""

    def __init__(self, point: Point, barriers: Barriers, reach: float, budget: int) -> None:
        self._point = point
        self._barriers = barriers
        self._budget = budget
        self._reach = self._limit = reach
        self.nearest: InReach | None = None
        self.unknown: list[Pointer] = []
        self.given_up = False

    def look(self, edge: _Edge, straight: float) -> None:
        if not within(straight, self._limit):
            return
        try:
            found = shortest_path(edge.ring, [self._point], self._barriers, self._limit, budget=self._budget)
        except SearchTooLarge:
            self.given_up = True
            return
        if found is None or not within(found.length, self._reach):
            return
        if edge.drawn:
            self.nearest, self._limit = InReach(edge.fixture, found.length), found.length
        elif within(found.length + edge.span, self._reach):
            self.nearest = self.nearest or InReach(edge.fixture, None)
        else:
            self.unknown.append(edge.wanted)


def _fixtures(survey: Survey, level: str, water: Water) -> tuple[Grid[_Edge], tuple[Pointer, ...]]:
    """The edges of a level's fixtures by place, and the pointers of those of which nothing is drawn, not even the room."""
    placed: list[_Edge] = []
    unplaced: list[Pointer] = []
    for room in survey.rooms_on_level.get(level, []):
        for fixture in survey.fixtures_in_room.get(room.id, []):
            if fixture.kind not in _FIXTURES[water]:
                continue
            wanted = fixture.where(water)
            if fixture.knows(water):
                placed.append(_Edge(fixture, getattr(fixture, water), drawn=True, wanted=wanted))
            elif fixture.knows("outline") or room.knows("outline"):
                around = fixture.outline if fixture.knows("outline") else room.outline
                placed.append(_Edge(fixture, around, drawn=False, wanted=wanted))
            else:
                unplaced.append(wanted)
    return Grid((bounding_box(each.ring), each) for each in placed), tuple(unplaced)


def plug_of(where: Standing) -> Point:
    """Where the cord ends: the receptacle's center on the face of its wall."""
    if where.wall is None or where.side is None or where.wall.knows("thickness"):
        return where.point
    return beside_wall(where.wall, where.point, where.side, _OFF_THE_LINE)


# Barriers


def _barriers(survey: Survey, level: str, through: frozenset[OpeningKind]) -> Barriers:
    walls = [wall for wall in survey.walls_on_level.get(level, []) if wall.kind in FULL_WALLS]
    return Barriers(piece for wall in walls for piece in _solid(survey, wall, through))


def _solid(survey: Survey, wall: Wall, through: frozenset[OpeningKind]) -> Iterator[Segment]:
    line = (wall.start, wall.end)
    openings = survey.openings_in_wall.get(wall.id, []) if through else []
    gaps = [gap for opening in openings if opening.kind in through for gap in _gaps(opening)]
    whole = joined(survey, wall)
    for start, end in subtracted([(whole.start, whole.end)], gaps):
        yield (point_along(line, start), point_along(line, end))


def _gaps(opening: Opening) -> Iterator[Interval]:
    if not opening.knows("panels"):
        yield (opening.along, opening.along + opening.width)
        return
    each = opening.width / len(opening.panels)
    for number, panel in enumerate(opening.panels):
        if panel is SliderPanel.SLIDING:
            yield (opening.along + number * each, opening.along + (number + 1) * each)
