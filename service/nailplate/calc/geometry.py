"""Plane geometry of a floor plan: points, segments, outlines and stretches along a line, all in inches, float dust forgiven.

An outline is a closed ring without its first point repeated; edge ``n`` runs from point ``n`` to the next. Left and right are
those of somebody who walks along a segment from its first point to its second, on a plan with x to the right and y up.
"""

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Generic, TypeVar

from nailplate.calc.work import spend
from nailplate.records import record

Point = tuple[float, float]
Outline = tuple[Point, ...]
Segment = tuple[Point, Point]
Box = tuple[float, float, float, float]
Interval = tuple[float, float]
Item = TypeVar("Item")

DUST: Final = 1e-6
"""Inches below which two places are one: far above what floats lose in a house's size, far below what anybody measures."""


@record(frozen=True, slots=True)
class Projection:
    """Where a point lies as seen from a segment: how far along its line, and how far to the left of it (right is negative)."""

    along: float
    offset: float


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where two edges of an outline meet that should not, and the numbers of the two."""

    place: Point
    edges: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Edge:
    """One edge of an outline: its number, its ends, and the way along the outline at which it starts."""

    number: int
    segment: Segment
    start: float
    length: float


# Points and segments


def distance(one: Point, two: Point) -> float:
    """The straight distance between two points."""
    return math.hypot(two[0] - one[0], two[1] - one[1])


def length_of(segment: Segment) -> float:
    """How long a segment is."""
    return distance(*segment)


def project(point: Point, segment: Segment) -> Projection:
    """Where ``point`` lies along the whole line of ``segment``, also before its start and past its end."""
    (ax, ay), (bx, by) = segment
    length = math.hypot(bx - ax, by - ay)
    if length == 0:
        return Projection(0.0, distance(point, segment[0]))
    ux, uy, dx, dy = (bx - ax) / length, (by - ay) / length, point[0] - ax, point[1] - ay
    return Projection(ux * dx + uy * dy, ux * dy - uy * dx)


def point_along(segment: Segment, along: float) -> Point:
    """The point of a segment's line at ``along`` inches from its start."""
    (ax, ay), (bx, by) = segment
    length = length_of(segment)
    part = along / length if length else 0.0
    return (ax + (bx - ax) * part, ay + (by - ay) * part)


def nearest_on_segment(point: Point, segment: Segment) -> Point:
    """The place on a segment that is nearest to ``point``."""
    (ax, ay), (bx, by) = segment
    dx, dy = bx - ax, by - ay
    square = dx * dx + dy * dy
    part = ((point[0] - ax) * dx + (point[1] - ay) * dy) / square if square else 0.0
    if part <= 0:
        return segment[0]
    return segment[1] if part >= 1 else (ax + dx * part, ay + dy * part)


def distance_to_segment(point: Point, segment: Segment) -> float:
    """The distance from a point to the nearest place on a segment."""
    x, y = point
    (ax, ay), (bx, by) = segment  # as ``nearest_on_segment``, without a point made of it
    dx, dy = bx - ax, by - ay
    square = dx * dx + dy * dy
    part = ((x - ax) * dx + (y - ay) * dy) / square if square else 0.0
    if part <= 0:
        return math.hypot(ax - x, ay - y)
    if part >= 1:
        return math.hypot(bx - x, by - y)
    return math.hypot(ax + dx * part - x, ay + dy * part - y)


def distance_between_segments(first: Segment, second: Segment) -> float:
    """The distance between the nearest places on two segments; 0 where they cross."""
    if _proper_crossing(first, second) is not None:
        return 0.0
    return min(
        *(distance_to_segment(end, first) for end in second),
        *(distance_to_segment(end, second) for end in first),
    )


def meeting_place(first: Segment, second: Segment, tolerance: float = DUST) -> Point | None:
    """A place where two segments cross or touch, or None; an end within ``tolerance`` of the other segment touches it."""
    for ends, other in ((second, first), (first, second)):
        for end in ends:
            if distance_to_segment(end, other) <= tolerance:
                return end
    return _proper_crossing(first, second)


def collinear_overlap(first: Segment, second: Segment, tolerance: float = DUST) -> Interval | None:
    """The stretch of ``first`` that ``second`` lies on, or None.

    It lies on it where the part of it that is abreast of ``first`` strays no more than ``tolerance`` to either side.
    """
    one, two = sorted((project(end, first) for end in second), key=lambda each: each.along)
    start, end = max(0.0, one.along), min(length_of(first), two.along)
    if end - start <= DUST:
        return None
    slope = (two.offset - one.offset) / (two.along - one.along)
    offsets = (one.offset + slope * (place - one.along) for place in (start, end))
    return (start, end) if all(abs(each) <= tolerance + DUST for each in offsets) else None


def left_normal(segment: Segment) -> Point:
    """The direction, one inch long, that points to the left of a segment; (0, 0) if the segment has no length."""
    (ax, ay), (bx, by) = segment
    length = length_of(segment)
    return ((ay - by) / length, (bx - ax) / length) if length else (0.0, 0.0)


def offset_segment(segment: Segment, by: float) -> Segment:
    """A segment moved to its left (to its right if ``by`` is negative): half a wall's thickness gives a face of the wall."""
    nx, ny = left_normal(segment)
    (ax, ay), (bx, by_) = segment
    return ((ax + nx * by, ay + ny * by), (bx + nx * by, by_ + ny * by))


def _proper_crossing(first: Segment, second: Segment) -> Point | None:
    """Where each segment has ends on both sides of the other."""
    (ax, ay), (bx, by) = first
    (cx, cy), (dx, dy) = second
    c_side = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    d_side = (bx - ax) * (dy - ay) - (by - ay) * (dx - ax)
    a_side = (dx - cx) * (ay - cy) - (dy - cy) * (ax - cx)
    b_side = (dx - cx) * (by - cy) - (dy - cy) * (bx - cx)
    if not ((c_side > 0 > d_side or c_side < 0 < d_side) and (a_side > 0 > b_side or a_side < 0 < b_side)):
        return None
    part = c_side / (c_side - d_side)
    return (cx + (dx - cx) * part, cy + (dy - cy) * part)


# Outlines


def signed_area(outline: Outline) -> float:
    """The area inside, positive if the points go round counter-clockwise."""
    if not outline:
        return 0.0
    ox, oy = outline[0]
    # Taken from the first point, so that a house drawn far from the origin loses no digits.
    return sum((ax - ox) * (by - oy) - (bx - ox) * (ay - oy) for (ax, ay), (bx, by) in sides(outline)) / 2


def area(outline: Outline) -> float:
    """The area inside, in square inches."""
    return abs(signed_area(outline))


def counter_clockwise(outline: Outline) -> Outline:
    """The same outline with its points in counter-clockwise order, so that the inside is to the left of each edge."""
    return outline if signed_area(outline) >= 0 else (outline[0], *reversed(outline[1:]))


def centroid(outline: Outline) -> Point:
    """The centre of the area; the middle of the points if there is no area."""
    ox, oy = outline[0]
    double, sx, sy = 0.0, 0.0, 0.0
    for (ax, ay), (bx, by) in sides(outline):
        piece = (ax - ox) * (by - oy) - (bx - ox) * (ay - oy)
        double += piece
        sx += (ax + bx - 2 * ox) * piece
        sy += (ay + by - 2 * oy) * piece
    if abs(double) <= DUST * DUST:
        return (sum(x for x, _ in outline) / len(outline), sum(y for _, y in outline) / len(outline))
    return (ox + sx / (3 * double), oy + sy / (3 * double))


def perimeter(outline: Outline) -> float:
    """The way once around."""
    return sum(length_of(side) for side in sides(outline))


def sides(outline: Outline) -> Iterator[Segment]:
    """The edges as bare segments, the closing one last; a single point has none."""
    return zip(outline, (*outline[1:], outline[0]), strict=True) if len(outline) > 1 else iter(())


def edges(outline: Outline) -> tuple[Edge, ...]:
    """The edges, each with its number and where it starts on the way around."""
    found: list[Edge] = []
    start = 0.0
    for number, side in enumerate(sides(outline)):
        length = length_of(side)
        found.append(Edge(number, side, start, length))
        start += length
    return tuple(found)


def zero_length_edges(outline: Outline) -> tuple[int, ...]:
    """The numbers of the edges that have no length to speak of: a point given twice in a row."""
    return tuple(number for number, side in enumerate(sides(outline)) if length_of(side) <= DUST)


def bounding_box(points: Iterable[Point]) -> Box:
    """The least upright rectangle around some points: least x, least y, greatest x, greatest y."""
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def contains(outline: Outline, point: Point, tolerance: float = DUST) -> bool:
    """Whether a point is inside; on an edge, or within ``tolerance`` of one, is inside."""
    spend(len(outline))
    inside = False
    x, y = point
    for side in sides(outline):
        if distance_to_segment(point, side) <= tolerance:
            return True
        (ax, ay), (bx, by) = side
        if (ay > y) != (by > y) and x < ax + (bx - ax) * (y - ay) / (by - ay):
            inside = not inside
    return inside


def distance_to_outline(point: Point, outline: Outline, *, filled: bool = True) -> float:
    """The distance to the nearest edge; 0 inside, unless ``filled`` is False and only the edges count."""
    if len(outline) == 1:
        return distance(point, outline[0])
    spend(len(outline))
    if not filled:
        return min([distance_to_segment(point, side) for side in sides(outline)])
    nearest, inside = math.inf, False
    x, y = point
    for side in sides(outline):  # as ``contains`` does, with the distance that it finds kept
        away = distance_to_segment(point, side)
        if away <= DUST:
            return 0.0
        nearest = min(nearest, away)
        (ax, ay), (bx, by) = side
        if (ay > y) != (by > y) and x < ax + (bx - ax) * (y - ay) / (by - ay):
            inside = not inside
    if inside:
        return 0.0
    spend(len(outline))
    return nearest


def is_simple(outline: Outline) -> bool:
    """Whether no edge crosses or touches another but at the corner that the two share."""
    return first_self_crossing(outline) is None


def first_self_crossing(outline: Outline) -> Crossing | None:
    """The first place (by edge number) where an outline crosses or touches itself; edges without length are passed over."""
    real = [edge for edge in edges(outline) if edge.length > DUST]
    if not real:
        return None
    grid = Grid(
        ((bounding_box(edge.segment), index) for index, edge in enumerate(real)), sum(e.length for e in real) / len(real)
    )
    for index, edge in enumerate(real):
        for other in grid.near(grown(bounding_box(edge.segment), DUST)):
            if other > index and (place := _wrong_meeting(real, index, other)) is not None:
                return Crossing(place, (edge.number, real[other].number))
    return None


def _wrong_meeting(ring: list[Edge], index: int, other: int) -> Point | None:
    first, second = ring[index].segment, ring[other].segment
    follows, leads = other == index + 1, (other + 1) % len(ring) == index
    if not (follows or leads):
        return meeting_place(first, second)
    # Neighbours share a corner; they meet wrongly only if one is folded back onto the other.
    if follows and (back := _folded(first, second)) is not None:
        return back
    return _folded(second, first) if leads else None


def _folded(first: Segment, second: Segment) -> Point | None:
    if distance_to_segment(second[1], first) <= DUST:
        return second[1]
    return first[0] if distance_to_segment(first[0], second) <= DUST else None


# Stretches along a line: sorted, apart from each other, none without length


def merged(intervals: Iterable[Interval]) -> tuple[Interval, ...]:
    """The stretches in order, those that overlap or touch made one, those without length left out."""
    found: list[Interval] = []
    for start, end in sorted(each for each in intervals if each[1] - each[0] > DUST):
        if found and start <= found[-1][1] + DUST:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((start, end))
    spend(1 + len(found))
    return tuple(found)


def intersected(some: Iterable[Interval], others: Iterable[Interval]) -> tuple[Interval, ...]:
    """What lies in both."""
    ordered = merged(others)
    starts = [start for start, _ in ordered]
    found: list[Interval] = []
    for start, end in merged(some):
        index = max(0, bisect_right(starts, start) - 1)
        while index < len(ordered) and ordered[index][0] < end:
            found.append((max(start, ordered[index][0]), min(end, ordered[index][1])))
            index += 1
    return merged(found)


def subtracted(some: Iterable[Interval], others: Iterable[Interval]) -> tuple[Interval, ...]:
    """What of ``some`` lies in none of ``others``."""
    taken = merged(others)
    if not taken:
        return merged(some)
    bounds = [-math.inf, *(bound for each in taken for bound in each), math.inf]
    return intersected(some, zip(bounds[::2], bounds[1::2], strict=True))


def clipped(intervals: Iterable[Interval], start: float, end: float) -> tuple[Interval, ...]:
    """What lies between ``start`` and ``end``."""
    return intersected(intervals, ((start, end),))


# Looking up what is near


def grown(box: Box, by: float) -> Box:
    """A box made larger on all four sides."""
    return (box[0] - by, box[1] - by, box[2] + by, box[3] + by)


def boxes_touch(one: Box, two: Box) -> bool:
    """Whether two boxes overlap or touch."""
    return one[0] <= two[2] and two[0] <= one[2] and one[1] <= two[3] and two[1] <= one[3]


class Grid(Generic[Item]):
    """Things by their boxes in equal square cells, so that those near a place are found without a look at all of them."""

    _MOST_CELLS: Final = 256  # a thing that covers more is kept apart and looked at each time

    def __init__(self, entries: Iterable[tuple[Box, Item]], cell: float = 24.0) -> None:
        """Sort ``entries`` into cells of ``cell`` inches: about the size of a usual thing is best."""
        self._cell = max(cell, DUST)
        self._entries = list(entries)
        self._cells: dict[tuple[int, int], list[int]] = {}
        self._wide: list[int] = []
        for number, (box, _) in enumerate(self._entries):
            if self._cell_count(box) <= self._MOST_CELLS:
                for key in self._keys(box):
                    self._cells.setdefault(key, []).append(number)
            else:
                self._wide.append(number)

    def near(self, box: Box) -> list[Item]:
        """The things whose boxes overlap or touch ``box``, in the order in which they were given."""
        numbers = self._numbers(box)
        spend(1 + len(numbers))
        entries, (left, bottom, right, top) = self._entries, box
        return [
            entry[1]
            for entry in map(entries.__getitem__, numbers)
            if entry[0][0] <= right and left <= entry[0][2] and entry[0][1] <= top and bottom <= entry[0][3]
        ]

    def each_near(self, box: Box) -> Iterator[Item]:
        """The same, one by one, for who may stop at the first: what is not asked for is not looked at."""
        spend(1)
        for number in self._numbers(box):
            spend(1)
            there, item = self._entries[number]
            if boxes_touch(there, box):
                yield item

    def _numbers(self, box: Box) -> Sequence[int]:
        """What is in the cells under a box, or everything where the box has more cells than there are."""
        cells = self._cells
        if self._cell_count(box) > len(cells):
            return range(len(self._entries))
        found = [cells[key] for key in self._keys(box) if key in cells]
        if len(found) == 1 and not self._wide:
            return found[0]
        return sorted({*self._wide}.union(*found))

    def _cell_count(self, box: Box) -> float:
        return ((box[2] - box[0]) / self._cell + 2) * ((box[3] - box[1]) / self._cell + 2)

    def _keys(self, box: Box) -> Iterator[tuple[int, int]]:
        cell, floor = self._cell, math.floor
        rows = range(floor(box[1] / cell), floor(box[3] / cell) + 1)
        for column in range(floor(box[0] / cell), floor(box[2] / cell) + 1):
            for row in rows:
                yield column, row
