"""The space in front of a panel, in its own measures: across its front, and out from it.

Of each obstacle that is kept which is in front; what is behind, and what begins above the space, is in nobody's way.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from nailplate.calc import geometry
from nailplate.plan import Panel, Room, UnknownFact, Wall, WallPlace
from nailplate.plan.words import Side
from nailplate.survey.equipment.obstacles import Obstacle, obstacles_near
from nailplate.survey.index import Survey
from nailplate.survey.outdoors import is_outdoor, outdoor_place
from nailplate.survey.places import Standing, standing
from nailplate.survey.space import ceiling_over, height_at
from nailplate.units import reaches

SLACK = 0.25
"""Inches by which drawings of finishes and faces disagree."""
_SAMPLES = 5
_SLIVER = 1e-3
"""Square inches that are nothing."""
DEEPEST_PANEL = 6.0
"""Inches; no load center stands out farther from its wall (common practice). Only used to see whether it could matter."""


@dataclass(frozen=True, slots=True)
class Front:
    """A panel's front: where it stands, its middle on the wall's face, and which way is across and out."""

    panel: Panel
    stands: Standing
    place: Room | None
    wall: Wall
    middle: geometry.Point
    across: geometry.Point
    out: geometry.Point

    @property
    def outdoors(self) -> bool:
        """Whether one stands outdoors in front of it."""
        return self.stands.room is None or is_outdoor(self.stands.room)

    @property
    def half_width(self) -> float:
        """Half of how wide the panel is."""
        return self.panel.face.width / 2

    @property
    def top(self) -> float:
        """How high above the floor its top is, as mounted."""
        return self.panel.at.height + self.panel.face.height / 2

    def seen(self, point: geometry.Point) -> geometry.Point:
        """A point of the plan in the panel's own measures: across from its middle, out from the wall's face."""
        dx, dy = point[0] - self.middle[0], point[1] - self.middle[1]
        return (dx * self.across[0] + dy * self.across[1], dx * self.out[0] + dy * self.out[1])

    def spot(self, across: float, out: float) -> geometry.Point:
        """The point of the plan at these measures."""
        (x, y), (ax, ay), (ox, oy) = self.middle, self.across, self.out
        return (x + ax * across + ox * out, y + ay * across + oy * out)


@dataclass(frozen=True, slots=True)
class Piece:
    """A convex piece of what an obstacle takes up in front of the panel, as a ring in the panel's own measures."""

    ring: tuple[geometry.Point, ...]
    obstacle: Obstacle

    def part(self, start: float, end: float) -> tuple[geometry.Point, ...]:
        """What of it is between two places across; empty if nothing is."""
        return _kept(_kept(self.ring, 0, start, 1.0), 0, end, -1.0)


def front_of(survey: Survey, panel: Panel) -> Front:
    """The front of a panel on a wall; raises UnknownFact where it hangs on none, so that nobody knows which way it faces."""
    stands = standing(survey, panel)
    if stands.wall is None or stands.side is None or not isinstance(panel.at, WallPlace):
        raise UnknownFact(panel.where("at") / "wall")
    (ax, ay), (bx, by) = stands.wall.start, stands.wall.end
    nx, ny = geometry.left_normal((stands.wall.start, stands.wall.end))
    out = (nx, ny) if stands.side is Side.LEFT else (-nx, -ny)
    length = math.hypot(bx - ax, by - ay)
    across = ((bx - ax) / length, (by - ay) / length)
    place = outdoor_place(survey, stands)
    return Front(panel, stands, place, stands.wall, stands.point, across, out)


def pieces_in_front(survey: Survey, front: Front, near: float, far: float, height: float, width: float) -> list[Piece]:
    """What takes up room between ``near`` and ``far`` out from the wall's face, under ``height``, within ``width`` either way."""
    corners = [front.spot(across, out) for across in (-width, width) for out in (near, far)]
    around = geometry.bounding_box(corners)
    levels = dict.fromkeys((front.wall.level, *((front.place.level,) if front.place else ())))
    found = [each for level in levels for each in obstacles_near(survey, level, around)]
    low = [each for each in found if not reaches(each.low, height)]
    return [piece for each in low for piece in _cut(front, each, near + SLACK, far - SLACK)]


def lowest_ceiling(survey: Survey, front: Front, start: float, end: float, far: float) -> float | None:
    """The least height of the ceiling over a space; None in the open. Raises UnknownFact where it is not said."""
    points = [
        front.spot(start + (end - start) * one / (_SAMPLES - 1), 0.5 + (far - 0.5) * two / (_SAMPLES - 1))
        for one in range(_SAMPLES)
        for two in range(_SAMPLES)
    ]
    if front.outdoors:
        room = front.place
        return min(height_at(room.ceiling, point) for point in points) if room and room.knows("ceiling") else None
    return min(ceiling_over(survey, front.wall.level, point) for point in points)


def clear_depth(pieces: Iterable[Piece], half_width: float) -> tuple[float, Piece] | None:
    """How far out the nearest thing in front of the panel itself begins, and which; None if there is none."""
    ahead = [(part, each) for each in pieces if (part := each.part(SLACK - half_width, half_width - SLACK))]
    found = [(min(out for _, out in part), each) for part, each in ahead]
    return min(found, key=lambda each: each[0], default=None)


def clear_width(pieces: Iterable[Piece], half_width: float) -> tuple[float, float, tuple[Piece, ...]]:
    """How far to either side the space beside the panel goes, and what ends it there."""
    sides = list(pieces)
    lefts = [(max(across for across, _ in part), each) for each in sides if (part := each.part(-math.inf, SLACK - half_width))]
    rights = [(min(across for across, _ in part), each) for each in sides if (part := each.part(half_width - SLACK, math.inf))]
    left = max(lefts, key=lambda each: each[0], default=None)
    right = min(rights, key=lambda each: each[0], default=None)
    ends = tuple(each[1] for each in (left, right) if each is not None)
    return (left[0] if left else -math.inf, right[0] if right else math.inf, ends)


# Cutting


def _cut(front: Front, obstacle: Obstacle, near: float, far: float) -> Iterator[Piece]:
    """The obstacle cut across at each of its corners: convex pieces, each between two of its edges."""
    ring = tuple(front.seen(point) for point in obstacle.outline)
    outs = sorted({near, far, *(out for _, out in ring if near < out < far)})
    edges = [edge for edge in geometry.sides(ring) if abs(edge[1][1] - edge[0][1]) > geometry.DUST]
    for low, high in pairwise(outs):
        crossing = sorted(((_across(edge, low), _across(edge, high)) for edge in edges if _spans(edge, low, high)), key=sum)
        for left, right in zip(crossing[::2], crossing[1::2], strict=False):
            yield Piece(((left[0], low), (right[0], low), (right[1], high), (left[1], high)), obstacle)


def _spans(edge: geometry.Segment, low: float, high: float) -> bool:
    (_, one), (_, two) = edge
    return min(one, two) <= low + geometry.DUST and max(one, two) >= high - geometry.DUST


def _across(edge: geometry.Segment, out: float) -> float:
    (one, start), (two, end) = edge
    return one + (two - one) * (out - start) / (end - start)


def _kept(ring: tuple[geometry.Point, ...], axis: int, limit: float, sign: float) -> tuple[geometry.Point, ...]:
    """What of a convex ring lies past ``limit`` on an axis (before it where ``sign`` is negative); empty if that has no area."""
    if not ring or math.isinf(limit):
        return ring
    found: list[geometry.Point] = []
    for one, two in geometry.sides(ring):
        inside, next_inside = (sign * (each[axis] - limit) >= 0 for each in (one, two))
        if inside:
            found.append(one)
        if inside is not next_inside:
            part = (limit - one[axis]) / (two[axis] - one[axis])
            found.append((one[0] + (two[0] - one[0]) * part, one[1] + (two[1] - one[1]) * part))
    return tuple(found) if geometry.area(tuple(found)) > _SLIVER else ()
