"""The distances of the residential code from a smoke alarm to cooking and to a bathroom, and when they yield."""

from collections.abc import Iterator

from nailplate.plan import Device, Pointer
from nailplate.plan.words import Sensing
from nailplate.rulekit import Job
from nailplate.rulekit.answers import Judgement, Outcome, Pass, Reading, Undetermined, Violation
from nailplate.rules.placement.alarm_clearances import (
    Near,
    is_around_a_wall,
    unplaced_sources,
)
from nailplate.rules.placement.alarm_spots import (
    IONIZATION,
    PHOTOELECTRIC,
    SILENCED,
    STRUCK_SINCE,
    Asked,
    is_struck,
    remedies_of,
    said,
    spot,
)
from nailplate.survey.lights import Placed
from nailplate.survey.names import name_of
from nailplate.units import inches, reaches, shown

_MARK_NAMED = 2021
"""The edition of the IRC that lets an alarm marked as helping to reduce cooking nuisance alarms come to 6 ft."""


# Cooking


def cooking(alarm: Placed, near: Near | None, job: Job) -> Iterator[Outcome]:
    """The distance to cooking appliances."""
    unplaced = unplaced_sources(job.survey, alarm.where.level)
    if near is None:
        yield Undetermined(unplaced, facet="cooking") if unplaced else Pass(facet="cooking")
        return
    asked = Asked(alarm, near, near.straight, PHOTOELECTRIC, name_of(near.source.part))
    if not _is_far_enough(asked) and near.source.needs:
        yield Undetermined(near.source.needs, facet="cooking")
    else:
        yield _from_cooking(asked, job)


def _is_far_enough(asked: Asked) -> bool:
    """Whether it is beyond what any edition asks of this alarm."""
    return reaches(asked.away, max(_by_sensing(asked.alarm.device, asked.away), SILENCED))


def _by_sensing(alarm: Device, away: float) -> float:
    """The distance by what it senses with. Asks for no more than the distance at hand makes it need."""
    if reaches(away, IONIZATION) or not reaches(away, PHOTOELECTRIC):
        return IONIZATION if reaches(away, IONIZATION) else PHOTOELECTRIC
    if alarm.sensing is Sensing.PHOTOELECTRIC:
        return PHOTOELECTRIC
    return SILENCED if not reaches(away, SILENCED) or alarm.silencing else IONIZATION


def _is_marked(alarm: Device, job: Job) -> bool:
    """Whether its mark lets it come as near as a photoelectric one, under the one edition that names the mark."""
    return int(job.plan.basis.residential_code) == _MARK_NAMED and alarm.nuisance_marked


def _from_cooking(asked: Asked, job: Job) -> Outcome:
    needed = _by_sensing(asked.alarm.device, asked.away)
    if _is_far_enough(asked):
        return Pass(inches(asked.away), inches(needed), "cooking")
    if not reaches(asked.away, PHOTOELECTRIC):
        return _too_near(asked, PHOTOELECTRIC, job)
    if int(job.plan.basis.residential_code) >= STRUCK_SINCE:
        return _by_nfpa(asked, needed, job)
    if reaches(asked.away, needed):
        return Pass(inches(asked.away), inches(needed), "cooking")
    if _is_marked(asked.alarm.device, job):
        return Pass(inches(asked.away), inches(PHOTOELECTRIC), "cooking")
    return _too_near(asked, needed, job)


def _by_nfpa(asked: Asked, needed: float, job: Job) -> Outcome:
    limit = max(needed, SILENCED)
    if is_around_a_wall(job.survey, asked.alarm, asked.near, limit):
        return Pass(inches(asked.away), inches(limit), "cooking")  # measured along the way that smoke takes
    at = spot(asked, limit, job)
    why = "" if at else " No place in its room is that far away, so that there the distance yields to the alarm."
    return Judgement(
        f"{said(asked)}; NFPA 72 keeps {shown(inches(limit))} for such an alarm, the residential code in force no figure.{why} "
        "Ask the authority having jurisdiction.",
        readings=_nfpa_readings(asked, elsewhere=at is not None),
        measured=inches(asked.away),
        limit=inches(limit),
        remedies=remedies_of(asked, at, job),
        facet="cooking",
        related=(asked.near.source.part.pointer,),
    )


def _nfpa_readings(asked: Asked, *, elsewhere: bool) -> tuple[Reading, Reading]:
    if reaches(asked.away, SILENCED):
        return (
            Reading("The residential code sets no distance, and the alarm's instructions allow this place.", "pass"),
            Reading("NFPA 72 holds: from 10 to 20 ft an alarm is photoelectric or can be silenced.", "violation"),
        )
    if elsewhere:
        return (
            Reading("The residential code sets no distance, and the alarm's instructions allow this place.", "pass"),
            Reading("NFPA 72 holds, and a place farther away is at hand.", "violation"),
        )
    return (
        Reading("NFPA 72 lets a photoelectric or silenced alarm come within 10 ft where nothing else fits.", "pass"),
        Reading("The alarm is of another kind, or another place would do.", "violation"),
    )


def _too_near(asked: Asked, limit: float, job: Job) -> Outcome:
    at_limit = Asked(asked.alarm, asked.near, asked.away, limit, asked.of)
    return too_near_by_code(at_limit, "cooking", job, never_yields=is_struck(job))


def _asked_elsewhere(asked: Asked) -> float:
    """How far away another place is clear: without a silencing switch ionization asks for more once it is beyond 10 ft."""
    unsilenced = asked.alarm.device.is_(sensing=Sensing.IONIZATION) and asked.alarm.device.is_(silencing=False)
    return IONIZATION if asked.limit == SILENCED and unsilenced else asked.limit


def too_near_by_code(asked: Asked, facet: str, job: Job, *, never_yields: bool = False) -> Outcome:
    """Nearer than the residential code allows, unless that would leave a required alarm no place."""
    message = f"{said(asked)}; {shown(inches(asked.limit))} is the least."
    at = spot(asked, SILENCED if never_yields else _asked_elsewhere(asked), job)
    measured, limit, remedies = inches(asked.away), inches(asked.limit), remedies_of(asked, at, job)
    related: tuple[Pointer, ...] = (asked.near.source.part.pointer,)
    walled = is_around_a_wall(job.survey, asked.alarm, asked.near, asked.limit)
    if not walled and (at or never_yields):
        return Violation(message, measured, limit, remedies, facet=facet, related=related)
    why = "" if walled else " No place in its room is clear, so that the distance yields if an alarm is required there."
    return Judgement(
        f"{message}{why} Ask the authority having jurisdiction.",
        readings=_ACROSS_A_WALL if walled else _YIELDS,
        measured=measured,
        limit=limit,
        remedies=remedies,
        facet=facet,
        related=related,
    )


_ACROSS_A_WALL = (
    Reading("A wall is between them, and the way around it is longer than that.", "pass"),
    Reading("The distance is measured across, whatever is between.", "violation"),
)
_YIELDS = (
    Reading("An alarm is required here, and the distance yields.", "pass"),
    Reading("None is required here, or another place would do.", "violation"),
)
