"""An island or peninsula that needs no receptacle at once: whether one serves it, or what is provided for a later one."""

from nailplate.plan import Counter, Pointer, UnknownFact
from nailplate.plan.words import FutureOutlet
from nailplate.rulekit import Job
from nailplate.rulekit.answers import Judgement, Outcome, Pass, Reading, Remedy, Undetermined, Violation, state
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import receptacles_in, serving_top, top_of


def optional(counter: Counter, job: Job) -> Outcome:
    """From 2023: a receptacle that serves the top, or provisions for a later one."""
    said = _provided(counter, job) if counter.knows("provision") else Undetermined((counter.where("provision"),))
    try:
        found = serving_top(job.survey, top_of(job.survey, counter), below_serves=False, only_flat=False)
    except UnknownFact as unknown:
        return _unless_it_serves(said, (unknown.pointer,))  # where the top is not drawn, provisions settle it just as well
    if any(not each.needs for each in found):
        return Pass()
    unplaced = receptacles_in(job.survey, job.plan.rooms[counter.room]).unplaced
    return _unless_it_serves(said, (*(need for each in found for need in each.needs), *unplaced))


def _unless_it_serves(said: Outcome, open_facts: tuple[Pointer, ...]) -> Outcome:
    """What is to be said of the provisions, unless a receptacle of which facts are left out may serve the top."""
    if isinstance(said, Pass) or not open_facts:
        return said
    needs = (*(said.needs if isinstance(said, Undetermined) else ()), *open_facts)
    return Undetermined(tuple(dict.fromkeys(needs)))


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
