"""The floor area that a dwelling's load is counted by: each floor by outside dimensions, with the rooms that were counted.

A room's outline runs along its inside faces. Each edge is moved out by the thickness of an exterior wall, or by half of an interior
one, so that the areas of neighbours meet in the middle of the wall between them.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from nailplate.calc import geometry
from nailplate.plan import Pointer, Room, UnknownFact
from nailplate.plan.trade import LEVELS_OUTSIDE, OUTDOOR
from nailplate.plan.words import LevelKind, Use, WallKind
from nailplate.survey.index import Survey
from nailplate.survey.space.edge_walls import walls_on
from nailplate.units import SquareInches

UNFINISHED_USES = frozenset({Use.ATTIC, Use.CRAWL_SPACE, Use.ACCESSORY})
"""Counted only where they are stated to be finished or fit for living in."""


@dataclass(frozen=True, slots=True)
class CountedArea:
    """``area`` in square inches, and the rooms that make it up, lofts among them."""

    area: SquareInches
    rooms: tuple[Room, ...]
    lofts: tuple[Room, ...]


def counted_area(survey: Survey, *, garages: bool) -> CountedArea:
    """The area of the dwelling. Raises UnknownFact for a counted room without an outline, or a wall without thickness."""
    return survey.once(_counted_area, garages)


def ground_area(survey: Survey) -> SquareInches:
    """What the house covers: the area without its lofts. Raises UnknownFact as ``counted_area`` does."""
    found = counted_area(survey, garages=False)
    if survey.plan.basis.knows("floor_area"):
        return found.area
    return SquareInches(found.area - sum(_outside_area(survey, room) for room in found.lofts))


def area_needs(survey: Survey, *, garages: bool) -> tuple[Pointer, ...]:
    """The facts that the area lacks: one of each room that has not all it takes."""
    stated = survey.plan.basis.knows("floor_area")
    found = [] if survey.plan.rooms else [survey.plan.where("rooms")]
    for room in survey.plan.rooms.values():
        try:
            if _counts(survey, room, garages=garages) and not stated:
                _outside_area(survey, room)
        except UnknownFact as unknown:
            found.append(unknown.pointer)
    return tuple(found)


def _counted_area(survey: Survey, garages: bool) -> CountedArea:
    rooms = tuple(room for room in survey.plan.rooms.values() if _counts(survey, room, garages=garages))
    lofts = tuple(room for room in rooms if survey.plan.levels[room.level].kind is LevelKind.LOFT)
    if not rooms:
        raise UnknownFact(survey.plan.where("rooms"))
    stated = survey.plan.basis.knows("floor_area")
    area = survey.plan.basis.floor_area if stated else sum(_outside_area(survey, room) for room in rooms)
    return CountedArea(SquareInches(area), rooms, lofts)


def _counts(survey: Survey, room: Room, *, garages: bool) -> bool:
    uses = set(room.uses)
    if uses <= OUTDOOR or survey.plan.levels[room.level].kind in LEVELS_OUTSIDE:
        return False
    if uses <= {Use.GARAGE, *OUTDOOR}:
        return garages
    if uses <= {*UNFINISHED_USES, Use.STORAGE} and uses & UNFINISHED_USES:
        return _is_fit_for_use(room)
    if uses <= {Use.STORAGE} and survey.plan.levels[room.level].kind is LevelKind.LOFT:
        return _is_fit_for_use(room)
    return not (uses <= {Use.STAIRWAY} and survey.plan.levels[room.level].kind is LevelKind.LOFT)


def _is_fit_for_use(room: Room) -> bool:
    return any(room.knows(name) and getattr(room, name) for name in ("finished", "habitable"))


def _outside_area(survey: Survey, room: Room) -> float:
    kept = survey.shelf(_worked_out)
    if room.id not in kept:
        kept[room.id] = _worked_out(survey, room)
    return kept[room.id]


def _worked_out(survey: Survey, room: Room) -> float:
    outline = geometry.counter_clockwise(room.outline)
    moves = [_moved_out(survey, room, side) for side in geometry.sides(outline)]
    strips = sum(geometry.length_of(side) * move for side, move in zip(geometry.sides(outline), moves, strict=True))
    return geometry.area(outline) + strips + sum(_corners(outline, moves))


def _moved_out(survey: Survey, room: Room, side: geometry.Segment) -> float:
    """How far an edge moves, on average over its length."""
    length = geometry.length_of(side)
    found = walls_on(survey, room.level, side)
    share = sum((each.end - each.start) * _thickness_counted(each.wall.kind) * each.wall.thickness for each in found)
    return share / length if length else 0.0


def _thickness_counted(kind: WallKind) -> float:
    if kind in (WallKind.EXTERIOR, WallKind.GLASS):
        return 1.0
    return _HALF if kind is WallKind.INTERIOR else 0.0


_HALF = 0.5


def _corners(outline: geometry.Outline, moves: list[float]) -> Iterator[float]:
    """What the strips leave out at outside corners, and count twice at inside ones."""
    sides = list(geometry.sides(outline))
    turns = zip(pairwise([*sides, sides[0]]), pairwise([*moves, moves[0]]), strict=True)
    for (before, after), (one, other) in turns:
        (ax, ay), (bx, by) = (_direction(each) for each in (before, after))
        yield (ax * by - ay * bx) * one * other


def _direction(side: geometry.Segment) -> geometry.Point:
    length = geometry.length_of(side) or 1.0
    return ((side[1][0] - side[0][0]) / length, (side[1][1] - side[0][1]) / length)
