"""Shapes of a plan measured as the trade measures them: how long and wide a top is, how long a hall is along its centre line."""

import math
from dataclasses import dataclass
from itertools import combinations

from nailplate.calc.geometry import (
    DUST,
    Outline,
    Point,
    Segment,
    area,
    contains,
    counter_clockwise,
    distance,
    distance_to_segment,
    edges,
    length_of,
    meeting_place,
    perimeter,
    point_along,
    project,
    sides,
)

SAME_LINE = 0.001
"""Inches off the line of its neighbours within which a point is no corner."""
SAME_WIDTH = 0.5
"""Inches by which the ends of a hall may differ from its width and still be its ends."""


@dataclass(frozen=True, slots=True)
class Extent:
    """The smallest upright or turned rectangle around an outline: its centre's long axis, and how long and wide it is."""

    axis: Segment
    long: float
    short: float


@dataclass(frozen=True, slots=True)
class CentreLine:
    """How long a hall is along its centre line: the least and the most that can be meant; alike where its shape leaves no doubt."""

    least: float
    most: float


def extent(outline: Outline) -> Extent:
    """The rectangle of least area around an outline; one of its sides lies along a side of the outline's hull."""
    ring = hull(outline)
    found = [_around(ring, side) for side in sides(ring) if length_of(side) > DUST]
    return min(found, key=lambda each: (round(each.long * each.short, 6), -each.long))


def _around(ring: Outline, side: Segment) -> Extent:
    seen = [project(point, side) for point in ring]
    alongs, offsets = [each.along for each in seen], [each.offset for each in seen]
    wide, deep = max(alongs) - min(alongs), max(offsets) - min(offsets)
    (ux, uy), length = _direction(side), length_of(side)
    middle = point_along(side, (max(alongs) + min(alongs)) / 2) if length else side[0]
    half = (max(offsets) + min(offsets)) / 2
    centre = (middle[0] - uy * half, middle[1] + ux * half)
    if wide >= deep:
        return Extent(_axis(centre, (ux, uy), wide), wide, deep)
    return Extent(_axis(centre, (-uy, ux), deep), deep, wide)


def _direction(side: Segment) -> Point:
    (ax, ay), (bx, by) = side
    length = length_of(side)
    return ((bx - ax) / length, (by - ay) / length)


def _axis(centre: Point, direction: Point, length: float) -> Segment:
    (x, y), (ux, uy), half = centre, direction, length / 2
    return ((x - ux * half, y - uy * half), (x + ux * half, y + uy * half))


def hull(outline: Outline) -> Outline:
    """The convex outline around some points, counter-clockwise."""
    points = sorted(set(outline))
    if len(points) < 3:
        return tuple(points)
    lower, upper = _half_hull(points), _half_hull(points[::-1])
    return tuple(lower[:-1] + upper[:-1])


def _half_hull(points: list[Point]) -> list[Point]:
    chain: list[Point] = []
    for point in points:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= 0:
            chain.pop()
        chain.append(point)
    return chain


def _turn(one: Point, two: Point, three: Point) -> float:
    return (two[0] - one[0]) * (three[1] - one[1]) - (two[1] - one[1]) * (three[0] - one[0])


# Halls


def centre_line(outline: Outline) -> CentreLine:
    """The length of a hall along its centre line.

    A hall of one width, however often it bends, has an area of length times width and a perimeter of twice their sum; the length
    follows from the two. Other shapes are told by the way between the middles of the two ends that are farthest apart.
    """
    ring = counter_clockwise(_corners(outline))
    length, width = _of_one_width(ring)
    ends = _ends(ring)
    if len(ends) < 2:
        return CentreLine(min(length, extent(ring).long), max(length, extent(ring).long))
    if sum(abs(length_of(end) - width) <= SAME_WIDTH for end in ends) == 2:
        return CentreLine(length, length)
    one, two = max(combinations(ends, 2), key=lambda pair: distance(_middle(pair[0]), _middle(pair[1])))
    straight = distance(_middle(one), _middle(two))
    if _goes_straight(ring, (_middle(one), _middle(two))):
        return CentreLine(straight, straight if not _has_arm(ring, one, two) else max(straight, length))
    return CentreLine(min(straight, length), max(straight, length))


def _corners(outline: Outline) -> Outline:
    """The outline without points that are no corner of it."""
    kept: list[Point] = []
    for number, point in enumerate(outline):
        after = next((each for each in (*outline[number + 1 :], *outline) if distance(each, point) > DUST), point)
        before = kept[-1] if kept else outline[-1]
        if distance_to_segment(point, (before, after)) > SAME_LINE:
            kept.append(point)
    return tuple(kept)


def _of_one_width(ring: Outline) -> tuple[float, float]:
    half, covered = perimeter(ring) / 2, area(ring)
    root = math.sqrt(max(0.0, half * half - 4 * covered))
    return (half + root) / 2, (half - root) / 2


def _ends(ring: Outline) -> list[Segment]:
    """The edges with an outside corner at both ends, those of a hall's ends among them."""
    real = [edge.segment for edge in edges(ring) if edge.length > DUST]
    turns = [_turn(real[index - 1][0], each[0], each[1]) > 0 for index, each in enumerate(real)]
    return [each for index, each in enumerate(real) if turns[index] and turns[(index + 1) % len(real)]]


def _middle(segment: Segment) -> Point:
    return point_along(segment, length_of(segment) / 2)


def _goes_straight(ring: Outline, way: Segment) -> bool:
    """Whether the straight way between two ends stays inside."""
    inner = (point_along(way, length_of(way) * 0.01), point_along(way, length_of(way) * 0.99))
    return contains(ring, point_along(way, length_of(way) / 2)) and all(
        meeting_place(inner, side) is None for side in sides(ring)
    )


def _has_arm(ring: Outline, one: Segment, two: Segment) -> bool:
    """Whether some corner lies farther off the straight way than the hall is wide there: an arm, and no niche."""
    way = (_middle(one), _middle(two))
    widest = max(length_of(one), length_of(two))
    return any(distance_to_segment(point, way) > 1.5 * widest + DUST for point in ring)
