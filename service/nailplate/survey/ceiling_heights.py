"""How high the ceiling is over a point of a level: flat, or plane between the lines of a slope."""

from itertools import pairwise

from nailplate.calc import geometry
from nailplate.plan import Ceiling, Room
from nailplate.survey.index import Survey
from nailplate.survey.places import room_at


def ceiling_of(survey: Survey, room: Room) -> Ceiling:
    """The ceiling of a room: its own, or that of its level. UnknownFact where neither is said."""
    return room.ceiling if room.knows("ceiling") else survey.plan.levels[room.level].ceiling


def ceiling_over(survey: Survey, level: str, point: geometry.Point) -> float:
    """The height of the ceiling over a point; raises UnknownFact where neither room nor level says it."""
    return height_at(_ceiling(survey, level, room_at(survey, level, point)), point)


def _ceiling(survey: Survey, level: str, room: Room | None) -> Ceiling:
    if room is not None and room.knows("ceiling"):
        return room.ceiling
    return survey.plan.levels[level].ceiling


def height_at(ceiling: Ceiling, point: geometry.Point) -> float:
    """The height of one ceiling over a point; past its first or last line it goes on level."""
    if not ceiling.knows("profile"):
        return ceiling.height
    first = (ceiling.profile[0].line[0], ceiling.profile[0].line[-1])
    across = [(geometry.project(each.line[0], first).offset, float(each.height)) for each in ceiling.profile]
    return _between(sorted(across), geometry.project(point, first).offset)


def _between(across: list[tuple[float, float]], off: float) -> float:
    if off <= across[0][0]:
        return across[0][1]
    for (start, low), (end, high) in pairwise(across):
        if off <= end:
            return low + (high - low) * (off - start) / (end - start) if end - start > geometry.DUST else high
    return across[-1][1]
