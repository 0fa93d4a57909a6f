"""The way of a cord: the shortest walk over the floor plan of one level around walls and other fixed barriers.

Barriers are straight segments without thickness (wall lines with their door gaps cut out, the edges of a fixed cabinet). A walk
may touch a barrier, turn around its end and run along its face; it never crosses one, and never slips through where two meet,
at a corner, at a T or with float dust between them.

How it is found: barriers are cut where they meet, so that each joint knows the directions of the barriers that leave it. They
part the floor around the joint into sectors, and a walk that comes to a joint in one sector leaves it in the same. The walk's
legs are sight lines that touch nothing on their way, and whole pieces of barriers walked on one side. Dijkstra's search, led
by the straight distance that is left, looks along a sight line only once that line is the most promising.

What the caller sees to:

- A point that lies on a barrier counts on both of its sides, which errs to the short and therefore strict side. Give a
  receptacle's position moved off its wall's line to the room that it faces (``offset_segment`` gives the face of a wall).
- A bowl or tub whose outline runs along a barrier is on the side where its inside lies. Its own edges are no barriers.
- Everything is on one level.
"""

import heapq
import math
from collections.abc import Iterable, Sequence
from itertools import count
from typing import Final

from nailplate.calc.cord_floor import Effort, Floor
from nailplate.calc.geometry import (
    DUST,
    Box,
    Grid,
    Outline,
    Point,
    Segment,
    bounding_box,
    boxes_touch,
    contains,
    counter_clockwise,
    distance,
    distance_between_segments,
    distance_to_outline,
    distance_to_segment,
    grown,
    length_of,
    point_along,
    project,
    sides,
)
from nailplate.records import record

BUDGET: Final = 1_000_000
"""Comparisons of a line with a barrier in one search: about a second's work, and many times what a house needs."""

_STEP_COST: Final = 8  # weighing one more step takes as long as this many comparisons, and room besides
_FLAT: Final = math.pi - 1e-3  # a sector narrower than this has nothing to walk around


@record(frozen=True, slots=True)
class PathFound:
    """A shortest walk: its length in inches, and its points from the start (or the outline's nearest edge) to the goal."""

    length: float
    points: tuple[Point, ...]


class Barriers:
    """The barriers of one level, sorted once so that each search finds those in reach without a look at all of them."""

    def __init__(self, segments: Iterable[Segment]) -> None:
        self._grid = Grid((bounding_box(each), each) for each in segments)

    def near(self, box: Box) -> list[Segment]:
        """The barriers whose boxes touch ``box``."""
        return self._grid.near(box)


def shortest_path(
    start: Point | Outline,
    goals: Sequence[Point],
    barriers: Barriers | Sequence[Segment],
    limit: float,
    *,
    budget: int = BUDGET,
) -> PathFound | None:
    """The shortest walk from a point, or from the edge of an outline, to the nearest goal; None if all are over ``limit``.

    A walk longer than ``limit`` by float dust alone is still found: compare its length. A goal inside the outline is at 0.
    Raises SearchTooLarge where the search would take more than ``budget`` comparisons.
    """
    ring, reach, effort = counter_clockwise(_ring(start)), limit + DUST, Effort(budget)
    effort.spend(len(ring) * len(goals))
    near = [goal for goal in goals if distance_to_outline(goal, ring) <= reach]
    if not near:
        return None
    if len(ring) > 1 and (inside := [goal for goal in near if contains(ring, goal)]):
        return PathFound(0.0, (inside[0], inside[0]))
    floor = Floor(ring, near, _in_reach(ring, near, barriers, reach, effort), effort)
    return _Search(floor, reach, effort).result()


def _ring(start: Point | Outline) -> Outline:
    corners = tuple(each for each in start if isinstance(each, tuple))
    coordinates = [each for each in start if not isinstance(each, tuple)]
    return corners or ((coordinates[0], coordinates[1]),)


def _in_reach(
    ring: Outline, goals: list[Point], barriers: Barriers | Sequence[Segment], reach: float, effort: "Effort"
) -> list[Segment]:
    """The barriers that a walk no longer than ``reach`` can come to and still get to a goal."""
    box = grown(bounding_box(ring), reach)
    if isinstance(barriers, Barriers):
        boxed = barriers.near(box)
    else:
        boxed = [each for each in barriers if boxes_touch(box, bounding_box(each))]
    effort.spend(len(boxed) * (len(ring) + len(goals)))
    starts = list(sides(ring)) or [(ring[0], ring[0])]
    return [
        barrier
        for barrier in boxed
        if length_of(barrier) > DUST
        and min(distance_between_segments(side, barrier) for side in starts)
        + min(distance_to_segment(goal, barrier) for goal in goals)
        <= reach
    ]


@record(frozen=True, slots=True, kw_only=True)
class _Step:
    """A walk as far as one joint: the sector it has come to, and how far the way back is turned from that sector's start."""

    point: Point
    joint: int = -1  # -1: the first place on an outline's edge, which is no joint
    sector: int = 0
    turned: float = 0.0
    leg: float = 0.0
    length: float = 0.0
    before: "_Step | None" = None
    clear: bool = True  # False: nobody has looked yet whether its last leg is clear


class _Search:
    """One search over a floor; the most promising step is always taken next."""

    def __init__(self, floor: Floor, reach: float, effort: Effort) -> None:
        self._floor = floor
        self._reach = reach
        self._effort = effort
        self._goals = frozenset(floor.goals)
        self._left = [min(distance(point, goal) for goal in floor.goal_points) for point in floor.points]
        self._open: list[tuple[float, int, _Step]] = []
        self._numbers = count()
        self._done: set[tuple[int, int]] = set()
        self._targets = [joint for joint in range(len(floor.points)) if joint in self._goals or self._is_worth_a_turn(joint)]

    def result(self) -> PathFound | None:
        self._start()
        while self._open:
            _, _, step = heapq.heappop(self._open)
            if (step.joint, step.sector) in self._done or not (step.clear or self._is_clear(step)):
                continue
            if step.joint in self._goals:
                return PathFound(step.length, _points(step))
            self._done.add((step.joint, step.sector))
            self._leave(step)
        return None

    def _is_worth_a_turn(self, joint: int) -> bool:
        floor = self._floor
        return bool(floor.directions[joint]) and any(
            floor.opening(joint, each) >= _FLAT for each in range(floor.sectors(joint))
        )

    def _is_clear(self, step: _Step) -> bool:
        before = step.before
        return before is None or self._floor.is_clear(before.point, before.joint, step.joint, self._effort)

    def _start(self) -> None:
        floor = self._floor
        if not floor.outline:
            self._start_at(floor.corners[0], range(floor.sectors(floor.corners[0])))
        for one, two in floor.outline:
            # The inside is to the left on the way from one to two: that is the side of a barrier the edge runs along.
            self._start_at(one, (self._sector_towards(one, two, on_left=True),))
            self._start_at(two, (self._sector_towards(two, one, on_left=False),))
            self._start_along(one, two)

    def _start_at(self, joint: int, sectors: Iterable[int]) -> None:
        for sector in sectors:
            self._push(_Step(point=self._floor.points[joint], joint=joint, sector=sector))

    def _start_along(self, one: int, two: int) -> None:
        """The ways that leave an outline's edge square to it, between its ends."""
        floor = self._floor
        edge = (floor.points[one], floor.points[two])
        is_barrier, length = two in floor.neighbours[one], length_of(edge)
        self._effort.spend(_STEP_COST * len(self._targets))
        for target in self._targets:
            seen = project(floor.points[target], edge)
            if DUST < seen.along < length - DUST and abs(seen.offset) > DUST and not (is_barrier and seen.offset < 0):
                foot = _Step(point=point_along(edge, seen.along))
                angle = floor.direction(target, foot.point)
                self._go(foot, target, floor.sector(target, angle), angle, abs(seen.offset))

    def _sector_towards(self, joint: int, other: int, *, on_left: bool) -> int:
        floor = self._floor
        index = floor.neighbours[joint].get(other)
        if index is None:
            return floor.sector(joint, floor.direction(joint, floor.points[other]))
        return index if on_left else (index - 1) % floor.sectors(joint)

    def _leave(self, step: _Step) -> None:
        floor, here = self._floor, step.point
        self._effort.spend(_STEP_COST * len(self._targets))
        for target in self._targets:
            x, y = floor.points[target]
            leg = math.hypot(x - here[0], y - here[1])
            if target == step.joint or step.length + leg + self._left[target] > self._reach:
                continue
            if target in floor.neighbours[step.joint]:
                self._walk_along(step, target, leg)
                continue
            angle = math.atan2(y - here[1], x - here[0])
            if floor.sector(step.joint, angle) == step.sector and self._is_taut(
                step, floor.turned(step.joint, step.sector, angle), leg
            ):
                back = angle - math.pi if angle > 0 else angle + math.pi
                self._go(step, target, floor.sector(target, back), back, leg)

    def _walk_along(self, step: _Step, target: int, leg: float) -> None:
        """Walk a whole piece of a barrier, on its left or its right, whichever the step's sector borders on."""
        floor, sector = self._floor, step.sector
        out, back = floor.neighbours[step.joint][target], floor.neighbours[target][step.joint]
        if sector == out and self._is_taut(step, 0.0, leg):
            arrived = (back - 1) % floor.sectors(target)
            self._arrive(step, target, arrived, floor.opening(target, arrived), leg, clear=True)
        if sector == (out - 1) % floor.sectors(step.joint) and self._is_taut(step, floor.opening(step.joint, sector), leg):
            self._arrive(step, target, back, 0.0, leg, clear=True)

    @staticmethod
    def _is_taut(step: _Step, turned: float, leg: float) -> bool:
        """Whether a cord pulled tight would stay here: the way on and the way back are a half turn apart or more.

        A joint that is off the straight line by float dust is let pass, too, for the line itself counts as touching it.
        """
        if step.before is None:
            return True
        return abs(turned - step.turned) >= math.pi - 1e-9 - 4 * DUST / min(leg, step.leg)

    def _go(self, step: _Step, target: int, sector: int, back: float, leg: float) -> None:
        self._arrive(step, target, sector, self._floor.turned(target, sector, back), leg, clear=False)

    def _arrive(self, step: _Step, target: int, sector: int, turned: float, leg: float, *, clear: bool) -> None:
        if (target, sector) not in self._done:
            self._push(
                _Step(
                    point=self._floor.points[target],
                    joint=target,
                    sector=sector,
                    turned=turned,
                    leg=leg,
                    length=step.length + leg,
                    before=step,
                    clear=clear,
                )
            )

    def _push(self, step: _Step) -> None:
        promise = step.length + self._left[step.joint]
        if promise <= self._reach:
            heapq.heappush(self._open, (promise, next(self._numbers), step))


def _points(last: _Step) -> tuple[Point, ...]:
    """The places of a walk from its start, without those at which it goes straight on."""
    way: list[Point] = [last.point]
    step = last.before
    while step is not None:
        if step.before is None or distance_to_segment(step.point, (way[-1], step.before.point)) > DUST:
            way.append(step.point)
        step = step.before
    return tuple(reversed(way if len(way) > 1 else way * 2))
