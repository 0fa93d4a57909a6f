"""What stands in a wall beside a place on it: stated studs, and those that its ends, openings and corners show (inches along the wall).

A drawing shows no studs; some are there all the same. What is surely there and what may be there are told apart: `Lumber.surely`. Sizes are
practice: a jack and a king stud beside an opening, a stud at each end of a wall, a stud or backing beside a wall that meets another
(IRC R602.3 and its figures, from memory); corners may be framed with clips in place of backing.
"""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Wall
from nailplate.plan.house import Layer
from nailplate.plan.trade import FRAMED_WALLS
from nailplate.plan.words import Side
from nailplate.survey.index import Survey
from nailplate.survey.rough_in import BESIDE, FLAT, stated_near
from nailplate.survey.space.joined_walls import half_thickness, wall_grid
from nailplate.units import Inches

_FINISH: Final = 0.75
"""Inches: the most that is usual over framing, where a finish is not said."""
_MEETS: Final = 2.0
"""Inches that a wall's end may be off the wall it meets; finishes and rounding in plans make as much."""
_NEIGHBORS: Final = 6
"""Pieces to each side of a place that are looked at: none is wider than a stud, and no more stand within the width of one."""
_SQUARE: Final = 0.3
"""Cosine above which two walls do not meet at a corner that this can tell."""


class Why(StrEnum):
    """What a stud or backing is there for."""

    STATED = "a stud"
    OPENING = "a stud beside an opening"
    CORNER = "the stud or backing"
    LAST = "the last stud of its wall"
    END = "the stud at the end of its wall"


@dataclass(frozen=True, slots=True)
class Lumber:
    """A stud or backing: from where to where along its wall, whether it is surely there, and what it is there for."""

    left: float
    right: float
    surely: bool
    why: Why
    meets: Wall | None = None

    def over(self, left: float, right: float) -> float:
        """How far a stretch of the wall lies over it; not positive where it lies beside it."""
        return min(self.right, right) - max(self.left, left)


def lumber_near(survey: Survey, wall: Wall, along: float, side: Side) -> Iterator[Lumber]:
    """What stands nearest to a place on a wall's face, to both sides: stated studs, and those of openings, corners and ends.

    Raises UnknownFact where the plan states no studs.
    """
    yield from shown_near(survey, wall, along, side)
    for each in stated_near(wall, along):
        whole = not _in_cut(survey, wall, each)  # there cripples and the opening's own studs stand as the framer likes
        yield Lumber(each - FLAT / 2, each + FLAT / 2, whole, Why.STATED)


def shown_near(survey: Survey, wall: Wall, along: float, side: Side) -> tuple[Lumber, ...]:
    """Of what stands in a wall whatever its spacing, the pieces nearest to a place on it."""
    row = framing_shown(survey, wall, side)
    at = bisect_left(row, along, key=lambda each: each.left)
    return row[max(0, at - _NEIGHBORS) : at + _NEIGHBORS]


def framing_shown(survey: Survey, wall: Wall, side: Side) -> tuple[Lumber, ...]:
    """What stands in a wall whatever its spacing, in order: beside openings, at its ends, and where other walls meet that side of it."""
    return survey.once(_framing_shown, wall.id, side)


def _framing_shown(survey: Survey, wall_id: str, side: Side) -> tuple[Lumber, ...]:
    wall = survey.plan.walls[wall_id]
    found = (*_beside_openings(survey, wall), *_where_walls_meet(survey, wall, side))
    return tuple(sorted(found, key=lambda each: each.left))


def _in_cut(survey: Survey, wall: Wall, along: float) -> bool:
    """Whether a stud falls in an opening, or where the studs beside it stand."""
    cuts = survey.once(_cuts, wall.id)
    at = bisect_left(cuts, along, key=lambda each: each[0])
    return at > 0 and along < cuts[at - 1][1]


def _cuts(survey: Survey, wall_id: str) -> tuple[geometry.Interval, ...]:
    beside = BESIDE + FLAT / 2
    openings = survey.openings_in_wall.get(wall_id, [])
    return geometry.merged((each.along - beside, each.along + each.width + beside) for each in openings)


def _beside_openings(survey: Survey, wall: Wall) -> Iterator[Lumber]:
    """The second stud beside an opening is not surely there, and what is over an opening is its header's."""
    for opening in survey.openings_in_wall.get(wall.id, []):
        left, right = opening.along, opening.along + opening.width
        for start, end, surely in ((left - FLAT, left, True), (left - BESIDE, left - FLAT, False)):
            yield Lumber(start, end, surely, Why.OPENING)
            yield Lumber(right + left - end, right + left - start, surely, Why.OPENING)


def _where_walls_meet(survey: Survey, wall: Wall, side: Side) -> Iterator[Lumber]:
    line = (wall.start, wall.end)
    length, free = geometry.length_of(line), {0.0, geometry.length_of(line)}
    for other in survey.once(wall_grid, wall.level).near(geometry.bounding_box(line)):
        if other is wall or other.kind not in FRAMED_WALLS:
            continue
        met = _met(wall, other, side)
        if met is None:
            continue
        at, here, runs_on = met
        reach = half_thickness(other) + _MEETS
        free -= {end for end in (0.0, length) if abs(end - at) <= reach}
        if here and other.knows("thickness"):
            yield from _beside(wall, other, at, runs_on=runs_on, ends=min(at, length - at) <= reach)
    for end in free:
        inward = 1 if end == 0.0 else -1
        left, right = sorted((end + inward * (FLAT - 1.0), end + inward * FLAT))  # drawn to its framing, or to the finish on it
        yield Lumber(left, right, surely=True, why=Why.END)


def _met(wall: Wall, other: Wall, side: Side) -> tuple[float, bool, bool] | None:
    """Where another wall meets this one along it, whether on the side asked for, and whether it runs on past both faces."""
    line, across = (wall.start, wall.end), (other.start, other.end)
    one, two = geometry.left_normal(line), geometry.left_normal(across)
    if abs(one[0] * two[0] + one[1] * two[1]) > _SQUARE:
        return None
    ends = [geometry.project(point, line) for point in across]
    near = min(ends, key=lambda each: abs(each.offset))
    reach = half_thickness(wall) + _MEETS
    if min(each.offset for each in ends) > reach or max(each.offset for each in ends) < -reach:
        return None
    if not -half_thickness(other) - _MEETS <= near.along <= geometry.length_of(line) + half_thickness(other) + _MEETS:
        return None
    lefts, rights = max(each.offset for each in ends) > reach, min(each.offset for each in ends) < -reach
    return near.along, lefts if side is Side.LEFT else rights, lefts and rights


def _beside(wall: Wall, other: Wall, at: float, *, runs_on: bool, ends: bool) -> Iterator[Lumber]:
    """Framing beside the other wall's finished faces. Where this wall ends at one that runs on, its last stud stands there."""
    surely = runs_on and ends
    why = Why.LAST if surely else Why.CORNER
    for way in (-1, 1):
        face = at + way * half_thickness(other)
        deep = FLAT - _finish(wall, other, way)
        if deep > 0 and 0.0 < face + way * deep / 2 < geometry.length_of((wall.start, wall.end)):
            left, right = sorted((face, face + way * deep))
            yield Lumber(left, right, surely, why, other)


def _finish(wall: Wall, other: Wall, way: int) -> Inches:
    """The finish on the face of the other wall that looks along this one, toward its end (1) or its start (-1)."""
    own, left = geometry.left_normal((wall.start, wall.end)), geometry.left_normal((other.start, other.end))
    to_left = left[0] * own[1] - left[1] * own[0]
    side = Side.LEFT if to_left * way > 0 else Side.RIGHT
    layers: tuple[Layer, ...] | None = None
    if other.knows("finish") and other.finish.knows(side.value):
        layers = other.finish.left if side is Side.LEFT else other.finish.right
    known = layers is not None and all(layer.knows("thickness") for layer in layers)
    return Inches(sum(layer.thickness for layer in layers)) if layers is not None and known else Inches(_FINISH)
