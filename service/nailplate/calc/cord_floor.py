"""The floor that a cord lies on: barriers cut where they meet, and the sectors into which they part the floor around each joint.

A walk that comes to a joint in one sector leaves it in the same; ``cord_path`` searches the shortest.
"""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from nailplate.calc.geometry import (
    DUST,
    Box,
    Outline,
    Point,
    Segment,
    bounding_box,
    boxes_touch,
    distance,
    distance_to_segment,
    grown,
    length_of,
    meeting_place,
    project,
    sides,
)

_MEETING_COST: Final = 16  # working out where two barriers meet takes as long as this many comparisons of a line with a barrier
TURN: Final = 2 * math.pi


class SearchTooLarge(RuntimeError):
    """So many barriers are in reach that the search was given up. Nothing is known about the way then."""


class Effort:
    """The comparisons that a search may still make."""

    def __init__(self, budget: int) -> None:
        self._left = budget

    def spend(self, comparisons: int) -> None:
        """Takes these away. Raises SearchTooLarge."""
        self._left -= comparisons
        if self._left < 0:
            raise SearchTooLarge("too many barriers lie in reach of a cord; the shortest way was not worked out")


class _Joints:
    """Numbered places, those less than float dust apart being one."""

    def __init__(self) -> None:
        self.points: list[Point] = []
        self._cells: dict[tuple[int, int], list[int]] = {}

    def number(self, point: Point) -> int:
        column, row = math.floor(point[0] / (8 * DUST)), math.floor(point[1] / (8 * DUST))
        for key in ((column + i, row + j) for i in (0, -1, 1) for j in (0, -1, 1)):
            for known in self._cells.get(key, ()):
                if distance(self.points[known], point) <= DUST:
                    return known
        self._cells.setdefault((column, row), []).append(len(self.points))
        self.points.append(point)
        return len(self.points) - 1


class Floor:
    """The barriers in reach, cut where they meet; the joints, with the directions of the barriers that leave each.

    Sector ``n`` of a joint lies counter-clockwise from its direction ``n`` to the next; a joint without any barrier has
    one sector, all around.
    """

    def __init__(self, ring: Outline, goals: list[Point], barriers: list[Segment], effort: Effort) -> None:
        joints = _Joints()
        # The places to measure from and to are numbered first: barriers shift by float dust, they do not.
        self.corners = [joints.number(point) for point in ring]
        self.goals = list(dict.fromkeys(joints.number(goal) for goal in goals))
        self.goal_points = [joints.points[goal] for goal in self.goals]
        outline = [side for side in sides(ring) if length_of(side) > DUST]
        _number_meetings(joints, [*barriers, *outline], effort)
        self.points = joints.points
        self._by_x = sorted((point, number) for number, point in enumerate(self.points))
        self.pieces = list(dict.fromkeys(_ordered(pair) for barrier in barriers for pair in self._cut(barrier, effort)))
        self.outline = [pair for side in outline for pair in self._cut(side, effort)]
        self._lines = [(*self.points[one], *self.points[two], one, two) for one, two in self.pieces]
        self._set_directions()

    def _cut(self, segment: Segment, effort: Effort) -> Iterator[tuple[int, int]]:
        """The pieces of a segment between the joints on it, as pairs of joints in its direction."""
        low_x, low_y, high_x, high_y = grown(bounding_box(segment), DUST)
        first, last = bisect_left(self._by_x, ((low_x, -math.inf), 0)), bisect_right(self._by_x, ((high_x, math.inf), 0))
        effort.spend(last - first)
        on = [
            (project(point, segment).along, number)
            for point, number in self._by_x[first:last]
            if low_y <= point[1] <= high_y and distance_to_segment(point, segment) <= DUST
        ]
        return pairwise(number for _, number in sorted(on))

    def _set_directions(self) -> None:
        leaving: list[list[tuple[float, int]]] = [[] for _ in self.points]
        for one, two in self.pieces:
            leaving[one].append((self.direction(one, self.points[two]), two))
            leaving[two].append((self.direction(two, self.points[one]), one))
        for each in leaving:
            each.sort()
        self.directions = [[angle for angle, _ in each] for each in leaving]
        self.neighbours = [{joint: index for index, (_, joint) in enumerate(each)} for each in leaving]

    def direction(self, joint: int, to: Point) -> float:
        """From a joint to a point, in radians."""
        x, y = self.points[joint]
        return math.atan2(to[1] - y, to[0] - x)

    def sectors(self, joint: int) -> int:
        """How many sectors lie around a joint."""
        return len(self.directions[joint]) or 1

    def sector(self, joint: int, angle: float) -> int:
        """The sector that a direction off all barriers lies in."""
        return (bisect_right(self.directions[joint], angle) - 1) % self.sectors(joint)

    def opening(self, joint: int, sector: int) -> float:
        """How wide a sector is, in radians."""
        angles = self.directions[joint]
        if len(angles) < 2:
            return TURN
        return (angles[(sector + 1) % len(angles)] - angles[sector]) % TURN

    def turned(self, joint: int, sector: int, angle: float) -> float:
        """How far a direction in a sector is turned from where the sector begins."""
        angles = self.directions[joint]
        return (angle - (angles[sector] if angles else 0.0)) % TURN

    def is_clear(self, point: Point, joint: int, target: int, effort: Effort) -> bool:
        """Whether the line from ``point`` (which is ``joint``, or no joint if -1) to joint ``target`` touches no barrier.

        Barriers that leave either end are the sectors' matter and don't count here.
        """
        px, py = point
        tx, ty = self.points[target]
        length = math.hypot(tx - px, ty - py)
        ux, uy = (tx - px) / length, (ty - py) / length
        effort.spend(len(self._lines))
        for index, (ax, ay, bx, by, one, two) in enumerate(self._lines):
            a_off, b_off = ux * (ay - py) - uy * (ax - px), ux * (by - py) - uy * (bx - px)
            if (a_off > DUST and b_off > DUST) or (a_off < -DUST and b_off < -DUST):
                continue
            a_along, b_along = ux * (ax - px) + uy * (ay - py), ux * (bx - px) + uy * (by - py)
            ends = (joint, target)
            if (
                (abs(a_off) <= DUST and 0 < a_along < length and one not in ends)
                or (abs(b_off) <= DUST and 0 < b_along < length and two not in ends)
                or (
                    a_off * b_off < 0
                    and one not in ends
                    and two not in ends
                    and DUST < a_along + (b_along - a_along) * a_off / (a_off - b_off) < length - DUST
                )
            ):
                # What hid this place will likely hide the next: look at it first then.
                self._lines.insert(0, self._lines.pop(index))
                return False
        return True


def _ordered(pair: tuple[int, int]) -> tuple[int, int]:
    return (min(pair), max(pair))


def _number_meetings(joints: _Joints, segments: list[Segment], effort: Effort) -> None:
    """Number the ends of segments and the places where two of them meet."""
    boxed = sorted((grown(bounding_box(each), DUST), each) for each in segments)
    for segment in segments:
        joints.number(segment[0])
        joints.number(segment[1])
    for index, (box, segment) in enumerate(boxed):
        for other_box, other in _starting_before(box[2], boxed, index + 1):
            effort.spend(1)
            if boxes_touch(box, other_box):
                effort.spend(_MEETING_COST)
                if (place := meeting_place(segment, other)) is not None:
                    joints.number(place)


def _starting_before(x: float, boxed: list[tuple[Box, Segment]], first: int) -> Iterator[tuple[Box, Segment]]:
    for index in range(first, len(boxed)):
        if boxed[index][0][0] > x:
            return
        yield boxed[index]
