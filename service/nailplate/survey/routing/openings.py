"""What an opening takes of its wall from a cable: itself, and the framing under and over it."""

from dataclasses import dataclass
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Opening, Wall
from nailplate.plan.words import OpeningKind
from nailplate.survey.index import Survey
from nailplate.survey.routing.overhead import chimneys

FRAMING: Final = 1.5
"""Inches of the least framing under a sill and over a head: one flat 2x4."""
CLEAR: Final = 4.5
"""Inches beside an opening at which a run turns: past its jack and king studs."""
GLAZED: Final = (OpeningKind.WINDOW, OpeningKind.FIXED_GLASS)
ENDLESS: Final = 1e6


@dataclass(frozen=True, slots=True)
class Gap:
    """A rectangle of a wall that no cable passes: along it, and up from the floor."""

    left: float
    right: float
    low: float
    high: float

    def bars(self, start: float, end: float, low: float, high: float) -> bool:
        """Whether a run between these places and heights would pass through it."""
        return self.left < max(start, end) and min(start, end) < self.right and self.low < high and low < self.high

    def stands_over(self, along: float, low: float, high: float) -> bool:
        """Whether going up or down at a place would pass through it."""
        return self.left < along < self.right and self.low < high and low < self.high


def gaps_of(survey: Survey, wall: Wall) -> tuple[Gap, ...]:
    """The gaps of a wall. What a plan leaves open about an opening is taken by it: all up to the ceiling, or down to the floor."""
    return survey.once(_gaps, wall.id)


def _gaps(survey: Survey, wall_id: str) -> tuple[Gap, ...]:
    wall = survey.plan.walls[wall_id]
    openings = [_gap(opening) for opening in survey.openings_in_wall.get(wall_id, [])]
    built_in = [gap for outline in survey.once(chimneys, wall.level) for gap in _in_wall(wall, outline)]
    return (*openings, *built_in)


def _gap(opening: Opening) -> Gap:
    low = opening.sill - FRAMING if opening.knows("sill") and opening.sill > 0 else -ENDLESS
    high = opening.head + FRAMING if opening.knows("head") else ENDLESS
    return Gap(opening.along, opening.along + opening.width, low, high)


def _in_wall(wall: Wall, outline: geometry.Outline) -> list[Gap]:
    """Where a fireplace stands in or against a wall."""
    line = (wall.start, wall.end)
    seen = [geometry.project(point, line) for point in outline]
    reach = (wall.thickness / 2 if wall.knows("thickness") else 0.0) + FRAMING
    if min(each.offset for each in seen) > reach or max(each.offset for each in seen) < -reach:
        return []
    return [Gap(min(each.along for each in seen), max(each.along for each in seen), -ENDLESS, ENDLESS)]
