"""Rooms that are slept in and are no dwelling unit: sections name some of them (guest rooms, dormitories), and a plan says not which."""

from nailplate.plan import Room
from nailplate.plan.words import Regime, Use
from nailplate.rulekit import Job, Judgement, Outcome, Reading, Violation
from nailplate.survey import regime_of


def is_other_building(job: Job) -> bool:
    """Whether the plan says that this is no dwelling unit, and no vehicle or manufactured home either."""
    return regime_of(job.plan) is Regime.NOT_A_DWELLING


def is_slept_in(room: Room | None) -> bool:
    """Whether a room is a bedroom."""
    return room is not None and Use.BEDROOM in room.uses


def if_let_to_guests(outcome: Outcome, section: str, what: str) -> Outcome:
    """A violation of dwelling units, for a room that is slept in elsewhere: required where ``section`` names the room's kind."""
    if not isinstance(outcome, Violation):
        return outcome
    readings = (
        Reading(
            f"{what} is required: the room is a guest room, a dormitory or other sleeping room that {section} names.",
            "violation",
        ),
        Reading(f"It is not: {section} does not name this kind of sleeping room.", "pass"),
    )
    return Judgement(
        outcome.message,
        readings,
        outcome.measured,
        outcome.limit,
        outcome.remedies,
        facet=outcome.facet,
        at=outcome.at,
        related=outcome.related,
    )
