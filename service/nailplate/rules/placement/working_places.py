"""How much space is required in front of a panel, and how much is there."""

from dataclasses import dataclass

from nailplate.plan.words import Regime
from nailplate.rulekit import Job
from nailplate.survey import regime_of
from nailplate.survey.equipment import (
    SLACK,
    Front,
    Piece,
    clear_depth,
    clear_width,
    pieces_in_front,
)
from nailplate.units import reaches


@dataclass(frozen=True, slots=True)
class Size:
    """How wide, deep and high the space is at least; ``of_vehicle`` where an article other than 110 says it."""

    width: float
    depth: float
    headroom: float
    of_vehicle: bool = True


def size_of(job: Job, front: Front) -> Size:
    """The least space for the class of house; one that is undecided is taken for a dwelling unit, for which it is largest."""
    high = max(job.inches("working_space_headroom"), front.top)
    match regime_of(job.plan):
        case Regime.RECREATIONAL_VEHICLE:
            return Size(job.inches("vehicle_working_width"), job.inches("vehicle_working_depth"), high)
        case Regime.PARK_TRAILER:
            return Size(job.inches("trailer_working_width"), job.inches("trailer_working_depth"), high)
        case Regime.MANUFACTURED_HOME:
            return Size(job.inches("manufactured_working_width"), job.inches("manufactured_working_depth"), front.top)
    return Size(job.inches("working_space_width"), job.inches("working_space_depth"), high, of_vehicle=False)


@dataclass(frozen=True, slots=True)
class Found:
    """How deep and wide the space is, and what ends it."""

    depth: float
    left: float
    right: float
    ends: tuple[Piece, ...]

    def fits(self, size: Size, wide: float) -> bool:
        """Whether it is as deep and as wide as is asked for."""
        return reaches(self.depth, size.depth) and reaches(self.right - self.left, wide)

    def window(self, wide: float) -> tuple[float, float]:
        """The stretch across that is taken for the space: as near to the panel's middle as what ends it lets it be."""
        start = max(self.left, min(-wide / 2, self.right - wide))
        return (start, min(self.right, start + wide))


def pieces_before(front: Front, projection: float, size: Size, wide: float, job: Job) -> list[Piece]:
    """What stands within the space or ends it."""
    return pieces_in_front(job.survey, front, projection, projection + size.depth, size.headroom, wide)


def solid(pieces: list[Piece]) -> list[Piece]:
    """What takes the space in every reading, as far as is known."""
    return [each for each in pieces if not each.obstacle.contested and not each.obstacle.needs]


def measured_space(pieces: list[Piece], projection: float, size: Size, front: Front) -> Found:
    """How deep and wide the space is before these pieces."""
    ahead = clear_depth(pieces, front.half_width)
    if ahead is not None:
        depth = ahead[0] - projection
        return Found(depth if depth > SLACK else 0.0, -front.half_width, front.half_width, (ahead[1],))
    left, right, ends = clear_width(pieces, front.half_width)
    return Found(size.depth, left, right, ends)
