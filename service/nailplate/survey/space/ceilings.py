"""How high the ceiling of a room is."""

from nailplate.plan import Ceiling, Room
from nailplate.survey.index import Survey


def ceiling_of(survey: Survey, room: Room) -> Ceiling:
    """The ceiling of a room: its own, or that of its level. UnknownFact where neither is said."""
    return room.ceiling if room.knows("ceiling") else survey.plan.levels[room.level].ceiling


def highest_ceiling(survey: Survey, room: Room) -> float:
    """The highest point of a room's ceiling, in inches above its floor."""
    ceiling = ceiling_of(survey, room)
    return max(line.height for line in ceiling.profile) if ceiling.knows("profile") else ceiling.height
