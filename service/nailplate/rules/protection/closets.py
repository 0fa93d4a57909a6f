"""The storage space of a clothes closet as upright blocks, and how far a luminaire keeps from it in three dimensions.

The storage space (410.2, from 2023 in Article 100) runs along the back and the sides: 24 in out from the wall up to 6 ft or the
highest rod, and from there to the ceiling 12 in out or as far as the shelf, whichever is more. Where a rod is reached from both
sides it is also 12 in to either side of the rod, below it. The front, with the door, is neither a back nor a side, unless a shelf
or rod stands along it.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from nailplate.calc.geometry import (
    Outline,
    Segment,
    bounding_box,
    collinear_overlap,
    contains,
    counter_clockwise,
    distance_between_segments,
    length_of,
    offset_segment,
    point_along,
    project,
    sides,
)
from nailplate.plan import Fixture, Pointer, Room, UnknownFact
from nailplate.plan.words import FixtureKind, OpeningKind, Use
from nailplate.survey.index import Survey
from nailplate.survey.space import SNAP, OnWall, half_thickness, walls_on
from nailplate.units import within

_ALONG_A_WALL: Final = 3.0  # inches from a wall within which a shelf is one along it


@dataclass(frozen=True, slots=True)
class Block:
    """An upright block of storage space, from ``bottom`` to ``top`` above the floor."""

    outline: Outline
    bottom: float
    top: float
    what: str


@dataclass(frozen=True, slots=True)
class Extent:
    """The room that a luminaire takes: an outline seen from above (or a point with a ``radius``), from ``bottom`` to ``top``."""

    outline: Outline
    radius: float
    bottom: float
    top: float


@dataclass(frozen=True, slots=True)
class Closest:
    """The block that comes nearest, and how near."""

    block: Block
    distance: float


def is_closet(room: Room) -> bool:
    """Whether clothes are kept in this room, by its use."""
    return Use.CLOSET in room.uses


def rods(survey: Survey, room: Room) -> list[Fixture]:
    """The clothes rods of a room."""
    return [each for each in survey.fixtures_in_room.get(room.id, []) if each.kind is FixtureKind.CLOSET_ROD]


def storage_space(survey: Survey, room: Room) -> tuple[Block, ...]:
    """The storage space of a closet. Raises UnknownFact where the drawing does not tell."""
    return survey.once(_storage_space, room.id)


def closest(blocks: Iterable[Block], luminaire: Extent) -> Closest:
    """The block nearest to a luminaire and the clear distance, 0 where the luminaire stands in it."""
    return min((Closest(block, _clearance(block, luminaire)) for block in blocks), key=lambda each: each.distance)


# Distances


def _clearance(block: Block, luminaire: Extent) -> float:
    level = max(0.0, _level_distance(block.outline, luminaire.outline) - luminaire.radius)
    upright = max(0.0, block.bottom - luminaire.top, luminaire.bottom - block.top)
    return math.hypot(level, upright)


def _level_distance(block: Outline, luminaire: Outline) -> float:
    if any(contains(block, corner) for corner in luminaire) or any(contains(luminaire, corner) for corner in block):
        return 0.0
    edges = list(sides(luminaire)) or [(luminaire[0], luminaire[0])]
    return min(distance_between_segments(side, edge) for side in sides(block) for edge in edges)


# Blocks


def _storage_space(survey: Survey, room_id: str) -> tuple[Block, ...]:
    room = survey.plan.rooms[room_id]
    edges = list(sides(counter_clockwise(room.outline)))
    fronts = [edge for edge in edges if _is_front(survey, room, edge)]
    if not fronts:
        raise UnknownFact(Pointer("/openings"))
    top = max([survey.inches("hanging_space_height"), *(rod.height for rod in rods(survey, room))])
    shelves = _shelves(survey, room)
    blocks = [block for edge in edges for block in _along(survey, edge, edge in fronts, top, shelves)]
    drawn = [rod for rod in rods(survey, room) if rod.knows("outline")]
    blocks += [_beside(survey, rod) for rod in drawn if _is_reached_from_both_sides(survey, rod, edges)]
    if not blocks:  # one comes in on every side: only rods and shelves that are drawn tell where things are kept
        raise UnknownFact(Pointer("/fixtures"))
    return tuple(blocks)


def _along(survey: Survey, edge: Segment, is_front: bool, top: float, shelves: list[Fixture]) -> Iterator[Block]:
    depths = [depth for shelf in shelves if (depth := _depth_along(shelf, edge)) is not None]
    if not is_front:
        yield Block(_strip(edge, survey.inches("hanging_space_depth")), 0.0, top, "the space for hanging clothes")
    if depths or not is_front:
        yield Block(_strip(edge, max([survey.inches("shelf_space_depth"), *depths])), top, math.inf, "the shelf space")


def _shelves(survey: Survey, room: Room) -> list[Fixture]:
    """The shelves that may reach farther than 12 in; raises UnknownFact where one of them is not drawn."""
    shelves = [each for each in survey.fixtures_in_room.get(room.id, []) if each.kind is FixtureKind.SHELF]
    deepest = survey.inches("shelf_space_depth")
    deep = [each for each in shelves if each.knows("outline") or not (each.knows("depth") and within(each.depth, deepest))]
    for shelf in deep:
        if not shelf.knows("outline"):
            raise UnknownFact(shelf.where("outline"))
    return deep


def _depth_along(shelf: Fixture, edge: Segment) -> float | None:
    """How far a shelf along this wall reaches from it; None for one along another wall."""
    spots = [project(corner, edge) for corner in shelf.outline]
    overlap = min(max(each.along for each in spots), length_of(edge)) - max(min(each.along for each in spots), 0.0)
    nearest, farthest = min(each.offset for each in spots), max(each.offset for each in spots)
    runs_along = max(each.along for each in spots) - min(each.along for each in spots) >= farthest - nearest
    return farthest if runs_along and overlap > _ALONG_A_WALL and abs(nearest) <= _ALONG_A_WALL else None


def _strip(edge: Segment, depth: float) -> Outline:
    inner = offset_segment(edge, depth)
    return (edge[0], edge[1], inner[1], inner[0])


def _centre_line(rod: Fixture) -> Segment:
    left, bottom, right, top = bounding_box(rod.outline)
    x, y = (left + right) / 2, (bottom + top) / 2
    return ((left, y), (right, y)) if right - left >= top - bottom else ((x, bottom), (x, top))


def _is_reached_from_both_sides(survey: Survey, rod: Fixture, edges: list[Segment]) -> bool:
    """Whether there is more between the rod and each wall that it runs along than hanging clothes take."""
    hanging = survey.inches("hanging_space_depth")
    ends = [[abs(project(end, edge).offset) for end in _centre_line(rod)] for edge in edges]
    return all(not within(offsets[0], hanging) for offsets in ends if abs(offsets[0] - offsets[1]) <= _ALONG_A_WALL)


def _beside(survey: Survey, rod: Fixture) -> Block:
    line, beside = _centre_line(rod), survey.inches("space_beside_rod")
    one, other = offset_segment(line, beside), offset_segment(line, -beside)
    return Block((*one, other[1], other[0]), 0.0, rod.height, "the space beside the rod")


# The front


def _is_front(survey: Survey, room: Room, edge: Segment) -> bool:
    """Whether one comes in here: through a door or opening in the wall, or because no wall stands on this edge."""
    on_it = walls_on(survey, room.level, edge)
    if not on_it:
        if not survey.walls_on_level.get(room.level):
            raise UnknownFact(Pointer("/walls"))
        return True
    return any(_opens(survey, each, edge) for each in on_it)


def _opens(survey: Survey, on: OnWall, edge: Segment) -> bool:
    wall = on.wall
    line = (wall.start, wall.end)
    for opening in survey.openings_in_wall.get(wall.id, []):
        if opening.kind in (OpeningKind.WINDOW, OpeningKind.FIXED_GLASS):
            continue
        gap = (point_along(line, opening.along), point_along(line, opening.along + opening.width))
        overlap = collinear_overlap(edge, gap, half_thickness(wall) + SNAP)
        if overlap and overlap[1] - overlap[0] > _ALONG_A_WALL:
            return True
    return False
