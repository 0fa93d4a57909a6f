"""What fills the framing over the ceiling that a device is in."""

from nailplate.plan import Device, UnknownFact
from nailplate.plan.words import Cavity
from nailplate.rulekit import Job
from nailplate.survey import standing


def cavity_over(device: Device, job: Job) -> Cavity:
    """The cavity over the device's room, or wall. Raises UnknownFact where it is not said."""
    at = standing(job.survey, device)
    if at.wall is not None:
        return at.wall.cavity
    level = job.plan.levels[at.level]
    for part in (at.room, level):
        if part is not None and part.knows("ceiling") and part.ceiling.knows("cavity"):
            return part.ceiling.cavity
    raise UnknownFact(level.ceiling.where("cavity") if level.knows("ceiling") else level.where("ceiling"))
