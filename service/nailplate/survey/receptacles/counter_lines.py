"""Wall counter spaces: the back lines of a room's wall counters, on around inside corners, cut where a sink or range breaks them.

Follows 210.52(C)(1) and its figure: no outlet is asked for on the wall right behind a sink or range where the counter behind it is
less than 12 in deep, 18 in where it sits across a corner; where it is deeper the wall behind counts as the rest does. What lies
on both sides of such a unit are spaces of their own.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from nailplate.calc import geometry
from nailplate.plan import Counter, Pointer, Room, UnknownFact
from nailplate.plan.words import CounterKind
from nailplate.survey.index import Survey
from nailplate.survey.receptacles.counter_units import Unit, UnitsAt, units_at
from nailplate.survey.space import JOINT, Stretch, Surface, WallSpace, faces_left, run_of, walls_on
from nailplate.units import reaches

ASKEW = 0.26
"""Sine of the turn, 15 degrees, from which on a unit may sit across a corner (our own measure)."""
DEEPEST = 36.0
"""Inches from the back line within which a sink or range stands in a counter, where its depth is not said (our own measure)."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One straight piece of a counter's back line; the counter is to the left of it."""

    counter: Counter
    segment: geometry.Segment

    @property
    def depth(self) -> float:
        """How deep the counter is, or may be."""
        return self.counter.depth if self.counter.knows("depth") else DEEPEST


@dataclass(frozen=True, slots=True)
class CounterSpace:
    """One unbroken space of wall counter. ``needs`` are facts left out without which its extent is not known."""

    counter: Counter
    space: WallSpace
    needs: tuple[Pointer, ...]


def counter_spaces(survey: Survey, room_id: str) -> tuple[CounterSpace, ...]:
    """The wall counter spaces of a room. Raises UnknownFact where a wall counter's back line is not drawn."""
    room = survey.plan.rooms[room_id]
    pieces = [piece for counter in _wall_counters(survey, room) for piece in _pieces(counter, room)]
    units = units_at(survey, room)
    return tuple(space for chain in _chains(pieces) for space in _spaces(survey, room, chain, pieces, units))


def _wall_counters(survey: Survey, room: Room) -> list[Counter]:
    counters = survey.counters_in_room.get(room.id, [])
    return [each for each in counters if each.kind is CounterKind.WALL and not (each.knows("has_top") and not each.has_top)]


def _pieces(counter: Counter, room: Room) -> list[Piece]:
    line = counter.back
    segments = [each for each in pairwise(line) if geometry.length_of(each) > geometry.DUST]
    if segments and not faces_left(segments[0], counter, room):
        segments = [(end, start) for start, end in reversed(segments)]
    return [Piece(counter, segment) for segment in segments]


def _chains(pieces: list[Piece]) -> Iterator[list[int]]:
    """The pieces in rows, each going on where the one before ends."""
    starts = geometry.Grid((geometry.grown((*p.segment[0], *p.segment[0]), JOINT), n) for n, p in enumerate(pieces))
    following: dict[int, int] = {}
    taken: set[int] = set()
    for number, piece in enumerate(pieces):
        end = piece.segment[1]
        near = [n for n in starts.near((*end, *end)) if n != number and n not in taken and _joins(piece, pieces[n])]
        if near:
            following[number] = min(near, key=lambda n: geometry.distance(end, pieces[n].segment[0]))
            taken.add(following[number])
    yield from _rows(following, len(pieces))


def _joins(one: Piece, other: Piece) -> bool:
    return geometry.distance(one.segment[1], other.segment[0]) <= JOINT


def _rows(following: dict[int, int], count: int) -> Iterator[list[int]]:
    led_to = set(following.values())
    seen: set[int] = set()
    for first in (*(n for n in range(count) if n not in led_to), *range(count)):
        row: list[int] = []
        number: int | None = first
        while number is not None and number not in seen:
            seen.add(number)
            row.append(number)
            number = following.get(number)
        if row:
            yield row


def _spaces(survey: Survey, room: Room, row: list[int], pieces: list[Piece], units: UnitsAt) -> Iterator[CounterSpace]:
    counters = {pieces[number].counter.id for number in row}
    needs = tuple(dict.fromkeys(need for counter, need in units.undrawn if counter is None or counter in counters))
    run: list[Stretch] = []
    for number in row:
        breaks = [at for unit in units.drawn for at in _breaks(survey, unit, number, row, pieces)]
        length = geometry.length_of(pieces[number].segment)
        reached = 0.0
        for start, end in geometry.subtracted([(0.0, length)], breaks):
            if run and start - reached > geometry.DUST:
                yield _space(pieces, run, needs)
                run = []
            run += _stretches(survey, room, number, pieces[number], (start, end))
            reached = end
        if run and length - reached > geometry.DUST:
            yield _space(pieces, run, needs)
            run = []
    if run:
        yield _space(pieces, run, needs)


def _space(pieces: list[Piece], run: list[Stretch], needs: tuple[Pointer, ...]) -> CounterSpace:
    return CounterSpace(pieces[run[0].edge].counter, run_of(run), needs)


def _stretches(survey: Survey, room: Room, number: int, piece: Piece, place: geometry.Interval) -> Iterator[Stretch]:
    on_walls = walls_on(survey, room.level, piece.segment)
    bounds = sorted({*place, *(end for on in on_walls for end in (on.start, on.end) if place[0] < end < place[1])})
    for start, end in pairwise(bounds):
        on = next((each for each in on_walls if each.start < (start + end) / 2 < each.end), None)
        wall, side = (on.wall, on.side) if on else (None, None)
        yield Stretch(room.id, number, piece.segment, start, end, Surface.WALL, wall, side)


# Sinks and ranges


def _breaks(survey: Survey, unit: Unit, number: int, row: list[int], pieces: list[Piece]) -> Iterator[geometry.Interval]:
    """What of a piece of back line needs no outlet for a sink or range in front of it."""
    piece = pieces[number]
    corner = _corner_of(unit, row, pieces)
    if corner is not None:
        if number in corner and not reaches(
            _behind_in_corner(unit, pieces[corner[1]]), survey.inches("counter_behind_in_corner")
        ):
            along = [geometry.project(point, piece.segment).along for point in unit.ring]
            length = geometry.length_of(piece.segment)
            yield (min(along), length) if number == corner[0] else (0.0, max(along))
        return
    place = _in_front(unit, piece)
    if place is not None and not reaches(_behind(unit, piece, pieces), survey.inches("counter_behind_unit")):
        yield place


def _in_front(unit: Unit, piece: Piece) -> geometry.Interval | None:
    """The stretch of a piece that a unit stands in front of, within the depth of the counter."""
    seen = [geometry.project(point, piece.segment) for point in unit.ring]
    start = max(0.0, min(each.along for each in seen))
    end = min(geometry.length_of(piece.segment), max(each.along for each in seen))
    nearest, farthest = min(each.offset for each in seen), max(each.offset for each in seen)
    if end - start <= geometry.DUST or farthest <= 0 or reaches(nearest, piece.depth):
        return None
    return start, end


def _behind(unit: Unit, piece: Piece, pieces: Iterable[Piece]) -> float:
    """How deep the counter behind a unit is: as stated for the piece nearest to it, as drawn for the others."""
    drawn = _offset(unit, piece)
    nearest = min((_offset(unit, each) for each in pieces if _in_front(unit, each)), default=drawn)
    return unit.behind if unit.behind is not None and drawn <= nearest + geometry.DUST else drawn


def _offset(unit: Unit, piece: Piece) -> float:
    return max(0.0, min(geometry.project(point, piece.segment).offset for point in unit.ring))


def _corner_of(unit: Unit, row: list[int], pieces: list[Piece]) -> tuple[int, int] | None:
    """The two pieces whose inside corner a unit sits across. Raises UnknownFact where it may, and that is not said."""
    if unit.in_corner is False:
        return None
    corners = [
        (one, two)
        for one, two in pairwise(row)
        if _in_front(unit, pieces[one]) and _in_front(unit, pieces[two]) and _inside_corner(pieces[one], pieces[two])
    ]
    if unit.in_corner is None and corners:
        if not _askew(unit, pieces[corners[0][0]]):
            return None
        raise UnknownFact(unit.part.where("in_corner"))
    centre = geometry.centroid(unit.ring)
    return min(corners, key=lambda pair: geometry.distance(centre, pieces[pair[1]].segment[0]), default=None)


def _inside_corner(one: Piece, other: Piece) -> bool:
    return geometry.project(other.segment[1], one.segment).offset > geometry.DUST


def _askew(unit: Unit, piece: Piece) -> bool:
    """Whether a unit is turned against the counter, as one across a corner is."""
    longest = max(geometry.sides(unit.ring), key=geometry.length_of)
    (ax, ay), (bx, by) = geometry.left_normal(longest), geometry.left_normal(piece.segment)
    return ASKEW < abs(ax * by - ay * bx) < math.sqrt(1 - ASKEW**2)


def _behind_in_corner(unit: Unit, after: Piece) -> float:
    return unit.behind if unit.behind is not None else geometry.distance_to_outline(after.segment[0], unit.ring)
