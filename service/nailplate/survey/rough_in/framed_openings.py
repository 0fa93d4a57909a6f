"""What a framed opening takes of its wall: the opening itself, the header over it and the studs beside it, as rectangles.

Along the wall and up from the floor, in inches. What the plan leaves open has two rectangles: what is surely taken, and what may be.
Sizes of framing are practice (IRC R602.7: a header is as deep as its span and load require, up to doubled 2x12s; over an opening in a
wall that carries no load a single flat 2x4 will do; a jack and a king stud stand at each side in a bearing wall).
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from nailplate.calc import geometry
from nailplate.calc.framing import DEPTHS
from nailplate.plan import Opening, Pointer, Wall
from nailplate.plan.words import Member, MemberRole, OpeningKind, WallKind
from nailplate.survey.index import Survey
from nailplate.survey.rough_in.runs import Point3, Run, runs, runs_in_wall

FLAT: Final = 1.5
"""The least over any opening: one flat 2x4. Beside it: one stud."""
DEEPEST: Final = DEPTHS[Member.M2X12]
BESIDE: Final = 3.0
"""A jack and a king stud."""
_TOUCH: Final = 0.125
"""Inches that two things may lie over each other on a drawing without being in one another's way."""
_SURELY_HIGH: Final = 60.0
"""Inches that a doorway whose head is not said is high at the least."""
_GLAZED: Final = (OpeningKind.WINDOW, OpeningKind.FIXED_GLASS)


@dataclass(frozen=True, slots=True)
class Zone:
    """A rectangle of a wall: from where to where along it, and between which heights."""

    left: float
    right: float
    low: float
    high: float

    def takes(self, other: "Zone") -> bool:
        """Whether two rectangles lie over each other by more than a drawing's slack."""
        along = min(self.right, other.right) - max(self.left, other.left)
        return along > _TOUCH and min(self.high, other.high) - max(self.low, other.low) > _TOUCH

    def way_inside(self, points: tuple[tuple[float, float], ...]) -> float:
        """How much of a line lies inside; a line that passes through the wall at one point counts as a hair."""
        if len(set(points)) == 1:
            (along, height) = points[0]
            return 2 * _TOUCH if self.left < along < self.right and self.low < height < self.high else 0.0
        return sum(self._clipped(one, other) for one, other in pairwise(points) if one != other)

    def crossed_by(self, points: tuple[tuple[float, float], ...]) -> bool:
        """Whether a line passes through it by more than a drawing's slack."""
        return self.way_inside(points) > _TOUCH

    def _clipped(self, one: tuple[float, float], other: tuple[float, float]) -> float:
        start, end = 0.0, 1.0
        for axis, (low, high) in enumerate(((self.left, self.right), (self.low, self.high))):
            step = other[axis] - one[axis]
            if step == 0.0:
                if not low < one[axis] < high:
                    return 0.0
                continue
            reach = sorted(((low - one[axis]) / step, (high - one[axis]) / step))
            start, end = max(start, reach[0]), min(end, reach[1])
        return max(0.0, end - start) * math.dist(one, other)


@dataclass(frozen=True, slots=True)
class Framed:
    """An opening's zones. ``maybe`` are what it may take besides, each with the facts that would tell."""

    opening: Opening
    inside: Zone | None
    header: Zone | None
    beside: tuple[Zone, ...]
    maybe: tuple[tuple[Zone, tuple[Pointer, ...]], ...]


@dataclass(frozen=True, slots=True)
class Crossing:
    """A run that comes through an opening's zone, and its line on the wall."""

    run: Run
    points: tuple[tuple[float, float], ...]


def framed(survey: Survey, opening: Opening) -> Framed:
    """What an opening takes of its wall."""
    return survey.once(_framed, opening.id)


def lines_on(survey: Survey, wall: Wall) -> tuple[Crossing, ...]:
    """The runs that lie in a wall, and those that pass through it from one side to the other."""
    return survey.once(_lines_on, wall.id)


def _framed(survey: Survey, opening_id: str) -> Framed:
    opening = survey.plan.openings[opening_id]
    wall = survey.plan.walls[opening.wall]
    left, right = opening.along, opening.along + opening.width
    low, high = _edges(opening)
    top = float(wall.height) if wall.knows("height") else math.inf
    surely = high if high is not None else (_SURELY_HIGH if low == 0.0 else None)
    inside = Zone(left, right, low, surely) if low is not None and surely is not None and surely > low else None
    open_facts = tuple(opening.where(name) for name, edge in (("sill", low), ("head", high)) if edge is None)
    maybe = [(Zone(left, right, 0.0 if low is None else low, top if high is None else high), open_facts)] if open_facts else []
    header = Zone(left, right, high, high + (opening.header if opening.knows("header") else FLAT)) if high is not None else None
    if high is not None and not opening.knows("header") and _may_bear(wall):
        maybe.append((Zone(left, right, high + FLAT, min(high + DEEPEST, top - 2 * FLAT)), (opening.where("header"),)))
    return Framed(opening, inside, header, _beside(left, right, surely), tuple(maybe))


def _beside(left: float, right: float, high: float | None) -> tuple[Zone, ...]:
    if high is None:
        return ()
    return (Zone(left - FLAT, left, 0.0, high), Zone(right, right + FLAT, 0.0, high))


def _edges(opening: Opening) -> tuple[float | None, float | None]:
    """The heights between which it is open, as far as they are known; a doorway begins at the floor."""
    low = opening.sill if opening.knows("sill") else None if opening.kind in _GLAZED else 0.0
    return low, opening.head if opening.knows("head") else None


def _may_bear(wall: Wall) -> bool:
    """Whether a header may be deeper than a flat 2x4: not where the wall is said to carry no load."""
    said = wall.knows("framing") and wall.framing.knows("bearing")
    return wall.kind is WallKind.EXTERIOR or (wall.framing.bearing if said else True)


def may_cut_header(run: Run) -> bool:
    """Whether a designer or maker allows the hole in the header."""
    segment = run.segment
    return segment.knows("role", "cut_approved") and segment.role is MemberRole.HEADER and segment.cut_approved


# Runs on a wall


def _lines_on(survey: Survey, wall_id: str) -> tuple[Crossing, ...]:
    wall = survey.plan.walls[wall_id]
    own = [Crossing(run, run.on_wall) for run in runs_in_wall(survey, wall) if run.points]
    return (*own, *_through(survey, wall))


def _through(survey: Survey, wall: Wall) -> Iterator[Crossing]:
    grid = survey.once(_in_no_wall).get(wall.level)
    for run, one, other in grid.near(geometry.bounding_box((wall.start, wall.end))) if grid is not None else ():
        at = _meets(wall, one, other)
        if at is not None:
            yield Crossing(run, (at, at))


_Stretch = tuple[Run, Point3, Point3]


def _in_no_wall(survey: Survey) -> Mapping[str, geometry.Grid[_Stretch]]:
    """By level, the straight pieces of runs that lie in none of its walls, by place."""
    found: dict[str, list[tuple[geometry.Box, _Stretch]]] = {}
    for run in runs(survey):
        if run.wall is None and run.level is not None:
            for one, other in pairwise(run.points):
                box = geometry.bounding_box((one[:2], other[:2]))
                found.setdefault(run.level, []).append((box, (run, one, other)))
    return {level: geometry.Grid(pieces) for level, pieces in found.items()}


def _meets(wall: Wall, one: Point3, other: Point3) -> tuple[float, float] | None:
    """Where a piece of a run passes the center line of a wall: along it, and how high."""
    (x1, y1), (x2, y2) = wall.start, wall.end
    length = math.hypot(x2 - x1, y2 - y1)
    off = [((p[1] - y1) * (x2 - x1) - (p[0] - x1) * (y2 - y1)) / length for p in (one, other)]
    if off[0] * off[1] >= 0:
        return None
    part = off[0] / (off[0] - off[1])
    x, y, z = (a + (b - a) * part for a, b in zip(one, other, strict=True))
    along = ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / length
    return (along, z) if 0 < along < length else None
