"""What stands in the walls of a room and against them, and what that makes of the floor line there.

Follows 210.52(A)(2): doorways, fireplaces and fixed cabinets break a wall space; windows above the floor do not.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise

from nailplate.calc import geometry
from nailplate.plan import Appliance, Counter, Opening, Pointer, Room, Stair, Wall
from nailplate.plan.trade import FOOD_ROOMS, SET_IN_COUNTERS
from nailplate.plan.words import ApplianceKind, CounterKind, FixtureKind, OpeningKind, SliderPanel, Use, WallKind
from nailplate.survey.index import Survey
from nailplate.survey.places import room_at
from nailplate.survey.space.appliance_places import possible_rooms_of
from nailplate.survey.space.contact import TOUCH, footprints, touched, widest_footprints
from nailplate.survey.space.edge_walls import OnWall
from nailplate.survey.space.joined_walls import SNAP, half_thickness
from nailplate.units import reaches, within

THRESHOLD = 2.0
"""Inches; an opening that begins no higher begins at the floor."""
LOW_WALL = 24.0
"""Inches; whether a wall lower than this is wall space is asked of the authority having jurisdiction (our own threshold)."""
JOINT = 3.0
"""Inches between a range and the counter beside it that still make one run of counter."""
WIDEST_SET_IN = 48.0
"""Inches; a range is no wider (common practice). Only used to see whether a footprint left out could matter."""


class Contest(StrEnum):
    """Why it is contested whether a stretch is wall space."""

    GUARD = "guard"
    LOW = "low"
    RANGE = "range"


EVERY_VARIANT = frozenset({0, 1, 2, 3})
"""Readings of facts left out: 0 all make wall space, 1 none does, 2 and 3 the one or the other half of a slider does."""
ALL_WALL, FIRST_HALF, LAST_HALF = frozenset({0, 2, 3}), frozenset({0, 2}), frozenset({0, 3})
AS_WALL = frozenset({0, 2})


@dataclass(frozen=True, slots=True)
class Mark:
    """Something on a stretch of an edge that decides what it is."""

    start: float
    end: float
    variants: frozenset[int] = EVERY_VARIANT
    breaks: bool = False
    contest: Contest | None = None
    needs: tuple[Pointer, ...] = ()
    clear: bool = True


def marks_on(survey: Survey, room: Room, edge: geometry.Segment, walls: list[OnWall], tops_break: bool) -> Iterator[Mark]:
    """Everything on an edge that decides what it is. Raises UnknownFact where something that breaks it is not drawn."""
    for on in walls:
        yield from _contests(survey, room, edge, on)
        for opening in survey.openings_in_wall.get(on.wall.id, []):
            yield from _clipped(_opening_marks(opening, on.wall, edge), on)
    yield from _fixture_marks(survey, room, edge)
    yield from _counter_marks(survey, room, edge, tops_break)
    yield from _hole_marks(survey, room, edge)


def _clipped(marks: Iterable[Mark], on: OnWall) -> Iterator[Mark]:
    for mark in marks:
        start, end = max(mark.start, on.start), min(mark.end, on.end)
        if end - start > geometry.DUST:
            yield replace(mark, start=start, end=end)


def _opening_marks(opening: Opening, wall: Wall, edge: geometry.Segment) -> list[Mark]:
    match opening.kind:
        case OpeningKind.FIXED_GLASS:
            return []
        case OpeningKind.SLIDING_DOOR:
            return _slider_marks(opening, wall, edge)
        case OpeningKind.WINDOW | OpeningKind.CASED:
            return _sill_marks(opening, wall, edge)
        case _:
            return [Mark(*_interval(opening, wall, edge), breaks=True)]


def _sill_marks(opening: Opening, wall: Wall, edge: geometry.Segment) -> list[Mark]:
    """A window or pass-through above the floor leaves the wall below it; one that opens down to the floor does not."""
    if not opening.knows("sill"):
        if opening.kind is OpeningKind.CASED:
            return [Mark(*_interval(opening, wall, edge), breaks=True)]
        return [Mark(*_interval(opening, wall, edge), variants=AS_WALL, needs=(opening.where("sill"),))]
    return [Mark(*_interval(opening, wall, edge), breaks=True)] if within(opening.sill, THRESHOLD) else []


def _slider_marks(opening: Opening, wall: Wall, edge: geometry.Segment) -> list[Mark]:
    if opening.knows("panels"):
        width = opening.width / len(opening.panels)
        return [
            Mark(*_interval(opening, wall, edge, number * width, width), breaks=True)
            for number, panel in enumerate(opening.panels)
            if panel is SliderPanel.SLIDING
        ]
    half = opening.width / 2
    return [
        Mark(*_interval(opening, wall, edge, 0, half), variants=FIRST_HALF, needs=(opening.where("panels"),)),
        Mark(*_interval(opening, wall, edge, half, half), variants=LAST_HALF, needs=(opening.where("panels"),)),
    ]


def _interval(
    opening: Opening, wall: Wall, edge: geometry.Segment, on: float = 0.0, width: float | None = None
) -> geometry.Interval:
    line = (wall.start, wall.end)
    start = opening.along + on
    ends = (geometry.point_along(line, start), geometry.point_along(line, start + (opening.width if width is None else width)))
    one, two = sorted(geometry.project(end, edge).along for end in ends)
    return one, two


def _contests(survey: Survey, room: Room, edge: geometry.Segment, on: OnWall) -> Iterator[Mark]:
    if on.wall.kind in (WallKind.HALF, WallKind.RAILING) and _guards(survey, room, edge, on):
        yield Mark(on.start, on.end, contest=Contest.GUARD, clear=on.wall.kind is WallKind.HALF)
    elif (height := _height(survey, room, edge, on.wall)) is not None and not reaches(height, LOW_WALL):
        yield Mark(on.start, on.end, contest=Contest.LOW)
    if on.wall.kind in (WallKind.RAILING, WallKind.GLASS):
        yield Mark(on.start, on.end, clear=False)


def _guards(survey: Survey, room: Room, edge: geometry.Segment, on: OnWall) -> bool:
    """Whether beyond the wall is no room of this level, but a drop or a stair."""
    beyond = geometry.offset_segment(edge, -(2 * half_thickness(on.wall) + SNAP))
    point = geometry.point_along(beyond, (on.start + on.end) / 2)
    other = room_at(survey, room.level, point)
    if other is None or set(other.uses) == {Use.STAIRWAY}:
        return True
    return any(geometry.contains(hole, point) for hole in survey.once(stair_holes, room.level).near((*point, *point)))


def stair_holes(survey: Survey, level: str) -> geometry.Grid[geometry.Outline]:
    """The openings that stairs make in a level's floor, by where they are."""
    stairs = survey.once(_stairs_up_to).get(level, ())
    return geometry.Grid((geometry.bounding_box(each.opening), each.opening) for each in stairs)


def _stairs_up_to(survey: Survey) -> dict[str, list[Stair]]:
    found: dict[str, list[Stair]] = {}
    for stair in survey.plan.stairs.values():
        if stair.knows("opening"):
            found.setdefault(stair.upper, []).append(stair)
    return found


def _height(survey: Survey, room: Room, edge: geometry.Segment, wall: Wall) -> float | None:
    """How high the wall is, if the plan says it: by itself, or by a sloped ceiling that comes down on it."""
    if wall.knows("height"):
        return wall.height
    level = survey.plan.levels[room.level]
    part = room if room.knows("ceiling") else level
    if not part.knows("ceiling") or not part.ceiling.knows("profile"):
        return None
    for line in part.ceiling.profile:
        if all(abs(geometry.project(point, edge).offset) <= half_thickness(wall) + SNAP for point in line.line):
            return line.height
    return None


def _fixture_marks(survey: Survey, room: Room, edge: geometry.Segment) -> Iterator[Mark]:
    for fixture in survey.fixtures_in_room.get(room.id, []):
        if fixture.kind is FixtureKind.FIREPLACE and (place := touched(edge, fixture.outline)):
            yield Mark(*place, breaks=True)
    for appliance in survey.once(_heaters).get(room.id, []):
        if place := touched(edge, appliance):
            yield Mark(*place, clear=False)


def _heaters(survey: Survey) -> dict[str, list[geometry.Outline]]:
    found: dict[str, list[geometry.Outline]] = {}
    for each in survey.plan.appliances.values():
        if each.kind is ApplianceKind.BASEBOARD_HEATER and each.knows("room", "footprint"):
            found.setdefault(each.room, []).append(each.footprint)
    return found


def _counter_marks(survey: Survey, room: Room, edge: geometry.Segment, tops_break: bool) -> Iterator[Mark]:
    all_surely: list[geometry.Interval] = []
    for counter in survey.counters_in_room.get(room.id, []):
        if counter.kind in (CounterKind.ISLAND, CounterKind.DIVIDER):
            continue
        surely = [place for each in footprints(counter, room) if (place := touched(edge, each))]
        perhaps = [place for each in widest_footprints(counter, room) if (place := touched(edge, each))]
        all_surely += surely
        for place in surely:
            yield _counter_mark(counter, room, place, tops_break)
        for place in geometry.subtracted(perhaps, surely):
            yield Mark(*place, variants=AS_WALL, needs=(counter.where("depth"),), clear=False)
    if FOOD_ROOMS.intersection(room.uses):
        yield from _set_in_marks(survey, room, edge, geometry.merged(all_surely))


def _set_in_marks(
    survey: Survey, room: Room, edge: geometry.Segment, counters: tuple[geometry.Interval, ...]
) -> Iterator[Mark]:
    """A range in a run of counter belongs to the counter's line, which 210.52(C)(1) treats; at the run's end that is contested."""
    for appliance, needs in survey.once(_set_in).get(room.id, []):
        if not appliance.knows("footprint"):
            yield from _perhaps_set_in((*needs, appliance.where("footprint")), counters)
        elif (place := touched(edge, appliance.footprint)) and any(_joins(place, counter) for counter in counters):
            if needs:
                yield Mark(*place, variants=AS_WALL, needs=needs, clear=False)
                continue
            at_end = _is_freestanding(appliance) and not _is_between(place, counters)
            yield Mark(*place, contest=Contest.RANGE) if at_end else Mark(*place, breaks=True)


def _is_freestanding(appliance: Appliance) -> bool:
    """Whether it may be a range that is pulled out; one that is said to be fastened stands like a cabinet."""
    return appliance.kind is ApplianceKind.RANGE and not (appliance.knows("fastened") and appliance.fastened)


def _is_between(place: geometry.Interval, counters: tuple[geometry.Interval, ...]) -> bool:
    before = any(counter[0] < place[0] and _joins(place, counter) for counter in counters)
    return before and any(counter[1] > place[1] and _joins(place, counter) for counter in counters)


def _perhaps_set_in(needs: tuple[Pointer, ...], counters: tuple[geometry.Interval, ...]) -> Iterator[Mark]:
    """A range that is not drawn may stand in any gap between two counters that it would fill."""
    for (_, start), (end, _) in pairwise(counters):
        if within(end - start, WIDEST_SET_IN):
            yield Mark(start, end, variants=AS_WALL, needs=needs, clear=False)


def _joins(place: geometry.Interval, counter: geometry.Interval) -> bool:
    return within(counter[0] - JOINT, place[1]) and within(place[0], counter[1] + JOINT)


def _set_in(survey: Survey) -> dict[str, list[tuple[Appliance, tuple[Pointer, ...]]]]:
    """Room id to the ranges that stand in it, each with the fact left out without which it may stand in another."""
    found: dict[str, list[tuple[Appliance, tuple[Pointer, ...]]]] = {}
    for each in survey.plan.appliances.values():
        if each.kind in SET_IN_COUNTERS:
            rooms = possible_rooms_of(survey, each)
            needs = () if len(rooms) == 1 else (each.where("room"),)
            for room in rooms:
                found.setdefault(room.id, []).append((each, needs))
    return found


def _counter_mark(counter: Counter, room: Room, place: geometry.Interval, tops_break: bool) -> Mark:
    """Fixed cabinets break the line; with a top they do from 2026, and before that where 210.52(C) speaks of them."""
    topless = not counter.has_top if counter.knows("has_top") else counter.kind is CounterKind.TALL_CABINET
    if topless or tops_break or FOOD_ROOMS.intersection(room.uses):
        return Mark(*place, breaks=True)
    if counter.knows("has_top"):
        return Mark(*place, clear=False)
    return Mark(*place, variants=AS_WALL, needs=(counter.where("has_top"),), clear=False)


def _hole_marks(survey: Survey, room: Room, edge: geometry.Segment) -> Iterator[Mark]:
    near = geometry.grown(geometry.bounding_box(edge), TOUCH)
    for hole in survey.once(stair_holes, room.level).near(near):
        if place := touched(edge, hole):
            yield Mark(*place, breaks=True)
