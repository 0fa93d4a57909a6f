"""How a drawn route stands to the boxes, panels and equipment that its cable ends at; serves ``route-ends`` and ``cable-length``."""

import math
from dataclasses import dataclass
from typing import Final

from nailplate.plan import Box, Cable, Device, Panel, Part, Pointer, UnknownFact
from nailplate.survey import Survey
from nailplate.survey.boxes import Spot3, in_space, most_front
from nailplate.survey.rough_in import elevated, runs_of
from nailplate.survey.wiring import ends_of, part_at
from nailplate.units import Inches

EQUIPMENT: Final = 24.0
"""Inches from its place to where equipment with its own wiring space may be entered (common practice)."""
WALL: Final = 6.0
"""Inches that a route may step aside where one run goes over into the next, as from one wall's center line to another's."""

Point3 = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class DrawnEnd:
    """One end of a cable: the part it names, how far the route ends from it, and how far it may."""

    part: Part
    gap: Inches
    allowed: Inches


@dataclass(frozen=True, slots=True)
class Jump:
    """A gap between two runs of a route (inches), at the second."""

    at: Pointer
    gap: Inches


def drawn_ends(survey: Survey, cable: Cable) -> tuple[DrawnEnd, DrawnEnd]:
    """Both ends, in the order drawn. A route may be drawn from either end: the better fit is taken. Raises UnknownFact."""
    first, last = _tips(survey, cable)
    parts = [part_at(survey, node) for node in ends_of(survey, cable)]
    spots = [in_space(survey, part) for part in parts]
    ways = [[_gap(spots[0], one), _gap(spots[1], other)] for one, other in ((first, last), (last, first))]
    allowed = [_allowed(part) for part in parts]
    best = min(ways, key=lambda gaps: sum(max(0.0, gap - may) for gap, may in zip(gaps, allowed, strict=True)))
    one, other = (DrawnEnd(*each) for each in zip(parts, (Inches(gap) for gap in best), allowed, strict=True))
    return one, other


def jumps(survey: Survey, cable: Cable) -> tuple[Jump, ...]:
    """Where the route of a cable is broken between one run and the next. Raises UnknownFact."""
    found = []
    before: Point3 | None = None
    for run in runs_of(survey, cable):
        points = elevated(survey, run)
        if not points:
            raise UnknownFact(_unplaced(survey, run.segment.pointer, run.level, bool(run.points)))
        gap = math.dist(before, points[0]) if before is not None else 0.0
        if gap > WALL:
            found.append(Jump(run.pointer, Inches(gap)))
        before = points[-1]
    return tuple(found)


def straight_way(survey: Survey, cable: Cable) -> Inches:
    """The straight way between both ends. Raises UnknownFact."""
    one, other = (in_space(survey, part_at(survey, node)) for node in ends_of(survey, cable))
    rise = abs(one.height - other.height) if one.height is not None and other.height is not None else 0.0
    return Inches(math.hypot(math.dist(one.point, other.point), rise))


def _tips(survey: Survey, cable: Cable) -> tuple[Point3, Point3]:
    tips = []
    for run in (runs_of(survey, cable)[0], runs_of(survey, cable)[-1]):
        points = elevated(survey, run)
        if not points:
            raise UnknownFact(_unplaced(survey, run.segment.pointer, run.level, bool(run.points)))
        tips.append(points)
    return tips[0][0], tips[1][-1]


def _unplaced(survey: Survey, segment: Pointer, level: str | None, drawn: bool) -> Pointer:
    """The fact without which a run is not placed in space."""
    if level is None:
        return segment / "level"
    if drawn:
        return survey.plan.levels[level].where("elevation")
    route = survey.plan.cables[segment.members[1]].route[int(segment.members[3])]
    return route.where("heights" if route.knows("points") else "points")


def _gap(spot: Spot3, tip: Point3) -> float:
    across = math.dist(spot.point, tip[:2])
    return across if spot.height is None else math.hypot(across, spot.height - tip[2])


def _allowed(part: Box | Panel | Device) -> Inches:
    """Half the diagonal of what the cable enters, and as much as a wall's center line may be off it."""
    if isinstance(part, Panel):
        face = (part.face.width, part.face.height) if part.knows("face") else (EQUIPMENT, 2 * EQUIPMENT)
        return Inches(math.hypot(*face) / 2 + WALL / 2)
    if isinstance(part, Device):
        return Inches(EQUIPMENT)
    return Inches(math.hypot(*most_front(part)) / 2 + 1.0)
