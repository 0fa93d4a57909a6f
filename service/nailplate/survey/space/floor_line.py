"""The floor line of a room: its outline cut into stretches, each one wall space, a break, or open with no wall on it.

What a plan leaves unsaid (a window's sill, a slider's panels) is kept open: ``variants`` names the readings of those facts in
which the stretch is wall space. What the words of the code leave open (a guard, a very low wall) is kept as ``contest``.
Follows 210.52(A)(2): corners never break a wall space; doorways, fireplaces and fixed cabinets do.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise

from nailplate.calc import geometry
from nailplate.plan import Pointer, Room, Wall
from nailplate.plan.words import LevelKind, Side
from nailplate.survey.index import Survey
from nailplate.survey.places import room_at
from nailplate.survey.space.edge_marks import EVERY_VARIANT, Contest, Mark, marks_on
from nailplate.survey.space.edge_walls import OnWall, walls_on
from nailplate.survey.space.joined_walls import SNAP, THICKEST
from nailplate.units import within

BRIDGED = 12.0
"""Inches; a gap between walls that is no wider (a wall's end, a jamb, a corner) is no doorway and breaks nothing."""


class Surface(StrEnum):
    """What a stretch of the floor line is."""

    WALL = "wall"
    BREAK = "break"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of one edge of a room's outline; the room's inside is to the left of ``segment``, which is the whole edge.

    ``clear`` tells whether a box could be set in the wall there as far as cabinets and heaters go; openings are not looked at.
    """

    room: str
    edge: int
    segment: geometry.Segment
    start: float
    end: float
    surface: Surface
    wall: Wall | None = None
    side: Side | None = None
    variants: frozenset[int] = EVERY_VARIANT
    contest: Contest | None = None
    needs: tuple[Pointer, ...] = ()
    clear: bool = True

    @property
    def length(self) -> float:
        """How long it is."""
        return self.end - self.start

    def along_wall(self, along: float) -> float:
        """How far along its wall a place of its edge lies."""
        if self.wall is None:
            return along
        return geometry.project(geometry.point_along(self.segment, along), (self.wall.start, self.wall.end)).along


def floor_line(survey: Survey, room_id: str, tops_break: bool) -> tuple[Stretch, ...]:
    """The stretches of a room's outline, counter-clockwise; with ``tops_break`` cabinets that have a top break it too.

    Raises UnknownFact where the room's outline, or that of something that breaks the line, is not drawn.
    """
    room = survey.plan.rooms[room_id]
    ring = geometry.counter_clockwise(room.outline)
    real = [edge for edge in geometry.edges(ring) if edge.length > geometry.DUST]
    return _bridged([stretch for edge in real for stretch in _edge(survey, room, edge, tops_break)])


def _edge(survey: Survey, room: Room, edge: geometry.Edge, tops_break: bool) -> Iterator[Stretch]:
    walls = walls_on(survey, room.level, edge.segment)
    marks = sorted(marks_on(survey, room, edge.segment, walls, tops_break), key=lambda mark: mark.start)
    ends = [*((on.start, on.end) for on in walls), *((mark.start, mark.end) for mark in marks)]
    bounds = {0.0, edge.length, *(end for each in ends for end in each)}
    waiting, active = 0, list[Mark]()
    for start, end in pairwise(_without_dust(sorted(bounds), edge.length)):
        middle = (start + end) / 2
        while waiting < len(marks) and marks[waiting].start < middle:
            active.append(marks[waiting])
            waiting += 1
        active = [mark for mark in active if mark.end > middle]
        on = next((each for each in walls if each.start < middle < each.end), None)
        yield _stretch(room, edge, (start, end), on, active)


def _without_dust(bounds: list[float], length: float) -> list[float]:
    kept = [0.0]
    kept += [each for each in bounds if kept[-1] + geometry.DUST < each < length - geometry.DUST]
    thinned = [one for one, two in pairwise([*kept, length]) if two - one > geometry.DUST]
    return [*thinned, length]


def _stretch(room: Room, edge: geometry.Edge, place: geometry.Interval, on: OnWall | None, marks: list[Mark]) -> Stretch:
    if on is None:
        return Stretch(room.id, edge.number, edge.segment, *place, Surface.OPEN)
    variants = frozenset.intersection(EVERY_VARIANT, *(mark.variants for mark in marks))
    broken = any(mark.breaks for mark in marks) or not variants
    return Stretch(
        room.id,
        edge.number,
        edge.segment,
        *place,
        Surface.BREAK if broken else Surface.WALL,
        on.wall,
        on.side,
        variants,
        next((mark.contest for mark in marks if mark.contest), None),
        tuple(dict.fromkeys(need for mark in marks for need in mark.needs)),
        all(mark.clear for mark in marks),
    )


# Small gaps


def _bridged(stretches: list[Stretch]) -> tuple[Stretch, ...]:
    """The ring with small open gaps between two walls made wall: the end of a wall, or a corner drawn a little short."""
    found = list(stretches)
    for gap in _open_gaps(found):
        before, after = found[gap[0] - 1], found[(gap[-1] + 1) % len(found)]
        small = within(sum(found[index].length for index in gap), BRIDGED)
        if small and before.surface is Surface.WALL and after.surface is Surface.WALL and before.wall is not None:
            for index in gap:
                found[index] = replace(
                    found[index],
                    surface=Surface.WALL,
                    wall=before.wall,
                    side=before.side,
                    variants=before.variants & after.variants,
                    contest=before.contest or after.contest,
                    clear=False,
                )
    return tuple(found)


def _open_gaps(ring: list[Stretch]) -> Iterator[list[int]]:
    """The indexes of each row of open stretches, over the seam of the ring too."""
    if all(stretch.surface is Surface.OPEN for stretch in ring):
        return
    start = next(index for index, stretch in enumerate(ring) if stretch.surface is not Surface.OPEN)
    gap: list[int] = []
    for step in range(1, len(ring) + 1):
        index = (start + step) % len(ring)
        if ring[index].surface is Surface.OPEN:
            gap.append(index)
        elif gap:
            yield gap
            gap = []


# What the drawing leaves out


def undrawn(survey: Survey, room: Room, line: Iterable[Stretch]) -> tuple[Stretch, ...]:
    """Open stretches on a story with neither a wall nor another room nor a stair beyond: most likely a wall left out.

    A loft's edge may be open to the room below.
    """
    if survey.plan.levels[room.level].kind is LevelKind.LOFT:
        return ()
    return tuple(
        each
        for each in line
        if each.surface is Surface.OPEN
        for start, end in geometry.subtracted([(each.start, each.end)], _shared(survey, room, each))
        if not within(end - start, BRIDGED) and not _leads_on(survey, room, each, (start + end) / 2)
    )[:_TOLD]


_TOLD = 20


def _shared(survey: Survey, room: Room, stretch: Stretch) -> Iterator[geometry.Interval]:
    """Where along a stretch's edge other rooms begin, until one of them has all of the stretch."""
    box = geometry.grown(geometry.bounding_box(stretch.segment), SNAP)
    for other, side in survey.once(_room_sides, room.level).each_near(box):
        if other != room.id and (overlap := geometry.collinear_overlap(stretch.segment, side, SNAP)):
            yield overlap
            if overlap[0] <= stretch.start and overlap[1] >= stretch.end:
                return


def _room_sides(survey: Survey, level: str) -> geometry.Grid[tuple[str, geometry.Segment]]:
    rooms = [room for room in survey.rooms_on_level.get(level, []) if room.knows("outline")]
    return geometry.Grid(
        (geometry.bounding_box(side), (room.id, side)) for room in rooms for side in geometry.sides(room.outline)
    )


def _leads_on(survey: Survey, room: Room, stretch: Stretch, along: float) -> bool:
    point = geometry.point_along(geometry.offset_segment(stretch.segment, -THICKEST), along)
    near = survey.once(_stair_rings, room.level).near(geometry.grown((*point, *point), THICKEST))
    return room_at(survey, room.level, point) is not None or any(geometry.contains(ring, point, THICKEST) for ring in near)


def _stair_rings(survey: Survey, level: str) -> geometry.Grid[geometry.Outline]:
    """The stairs of a level, and the holes that stairs make in its floor."""
    rings = survey.once(_rings_on_levels).get(level, ())
    return geometry.Grid((geometry.bounding_box(ring), ring) for ring in rings)


def _rings_on_levels(survey: Survey) -> dict[str, list[geometry.Outline]]:
    found: dict[str, list[geometry.Outline]] = {}
    for stair in survey.plan.stairs.values():
        for name, level in (("outline", stair.lower), ("opening", stair.upper)):
            if stair.knows(name):
                found.setdefault(level, []).append(getattr(stair, name))
    return found
