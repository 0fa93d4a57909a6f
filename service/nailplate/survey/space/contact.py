"""Where things that stand in a room touch its floor line: cabinets, fireplaces, heaters, holes in the floor."""

from collections.abc import Iterator

from nailplate.calc import geometry
from nailplate.plan import Counter, Room
from nailplate.plan.words import Side

TOUCH = 3.0
"""Inches off the floor line within which a thing is drawn against the wall; a wall between two rooms is thicker."""
DEEPEST_COUNTER = 30.0
"""Inches; a base cabinet's top is no deeper (common practice). Only used to see whether a depth left out could matter."""
_SLIVER = 0.1


def touched(edge: geometry.Segment, outline: geometry.Outline) -> geometry.Interval | None:
    """The stretch of ``edge`` that ``outline`` stands against, or None."""
    seen = [along for side in geometry.sides(outline) for along in _in_band(edge, side)]
    if not seen:
        return None
    start, end = max(0.0, min(seen)), min(geometry.length_of(edge), max(seen))
    return (start, end) if end - start > geometry.DUST else None


def _in_band(edge: geometry.Segment, side: geometry.Segment) -> Iterator[float]:
    """How far along ``edge`` the part of ``side`` begins and ends that is no more than ``TOUCH`` off the edge's line."""
    one, two = (geometry.project(point, edge) for point in side)
    if max(one.offset, two.offset) < -TOUCH or min(one.offset, two.offset) > TOUCH:
        return
    for limit in (-TOUCH, TOUCH):
        if (one.offset < limit < two.offset) or (two.offset < limit < one.offset):
            part = (limit - one.offset) / (two.offset - one.offset)
            yield one.along + part * (two.along - one.along)
    for end in (one, two):
        if abs(end.offset) <= TOUCH:
            yield end.along


def footprints(counter: Counter, room: Room) -> tuple[geometry.Outline, ...]:
    """The counter on the floor, as far as the plan says it: its outline, or its back line with its depth in front of it.

    Raises UnknownFact where neither outline nor back line is drawn. Without a depth it is a sliver along the back line.
    """
    if counter.knows("outline"):
        return (counter.outline,)
    return _before_back(counter, room, counter.depth if counter.knows("depth") else _SLIVER)


def widest_footprints(counter: Counter, room: Room) -> tuple[geometry.Outline, ...]:
    """The most that the counter can cover on the floor; differs from ``footprints`` only where the depth is not said."""
    if counter.knows("outline") or counter.knows("depth"):
        return footprints(counter, room)
    return _before_back(counter, room, DEEPEST_COUNTER)


def _before_back(counter: Counter, room: Room, depth: float) -> tuple[geometry.Outline, ...]:
    return tuple(_strip(line, depth, counter, room) for line in zip(counter.back, counter.back[1:], strict=False))


def _strip(line: geometry.Segment, depth: float, counter: Counter, room: Room) -> geometry.Outline:
    front = geometry.offset_segment(line, depth if faces_left(line, counter, room) else -depth)
    return (*line, front[1], front[0])


def faces_left(line: geometry.Segment, counter: Counter, room: Room) -> bool:
    """Whether a counter stands to the left of a piece of its back line. Raises UnknownFact where nothing tells."""
    if counter.knows("facing"):
        return counter.facing is Side.LEFT
    middle = geometry.point_along(geometry.offset_segment(line, 2 * TOUCH), geometry.length_of(line) / 2)
    return geometry.contains(room.outline, middle)
