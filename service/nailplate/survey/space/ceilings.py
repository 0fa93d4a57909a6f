"""How high the ceiling of a room is."""

from nailplate.plan import Room
from nailplate.survey.ceiling_heights import ceiling_of
from nailplate.survey.index import Survey


def highest_ceiling(survey: Survey, room: Room) -> float:
    """The highest point of a room's ceiling, in inches above its floor."""
    ceiling = ceiling_of(survey, room)
    return max(line.height for line in ceiling.profile) if ceiling.knows("profile") else ceiling.height
