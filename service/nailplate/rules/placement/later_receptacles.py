"""An island or peninsula that needs no receptacle at once: whether one serves it, or what is provided for a later one."""

from nailplate.plan import Counter, UnknownFact
from nailplate.plan.words import FutureOutlet
from nailplate.rulekit import Job
from nailplate.rulekit.answers import Judgement, Outcome, Pass, Reading, Remedy, Undetermined, Violation, state
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import (
    serving_top,
    top_of,
)


def optional(counter: Counter, job: Job) -> Outcome:
    """From 2023: a receptacle that serves the top, or provisions for a later one."""
    try:
        found = serving_top(job.survey, top_of(job.survey, counter), below_serves=False, only_flat=False)
    except UnknownFact as unknown:
        # Where the top is not drawn, provisions settle it just as well.
        return (
            _provided(counter, job)
            if counter.knows("provision")
            else Undetermined((unknown.pointer, counter.where("provision")))
        )
    if any(not each.needs for each in found):
        return Pass()
    if counter.knows("provision"):
        return _provided(counter, job)
    open_facts = (need for each in found for need in each.needs)
    return Undetermined(tuple(dict.fromkeys((counter.where("provision"), *open_facts))))


def _provided(counter: Counter, job: Job) -> Outcome:
    named = name_of(counter)
    remedies = (
        Remedy(
            "Run a cable to a box in the cabinet, or a raceway, for a receptacle in or over the top later on.",
            (state(counter, "provision", "box_and_cable"),),
        ),
    )
    match counter.provision:
        case FutureOutlet.BOX_AND_CABLE | FutureOutlet.RACEWAY:
            return Pass()
        case FutureOutlet.SPACE_ONLY if not job.holds("island_provisions_electrical"):
            return Judgement(
                message=f"{named} has no receptacle that serves its top, and only room is left for a later one. What provisions "
                "are is not said in this edition; ask the authority having jurisdiction.",
                readings=(
                    Reading("Room through which a cable can be brought later is a provision.", "pass"),
                    Reading("A provision is a box with a cable, or a raceway, that is there already.", "violation"),
                ),
                remedies=remedies,
            )
        case FutureOutlet.SPACE_ONLY:
            said = "only room is left for a later one; the provisions must be electrical"
        case _:
            said = "no provisions are made for a later one"
    return Violation(message=f"{named} has no receptacle that serves its top, and {said}.", remedies=remedies)
