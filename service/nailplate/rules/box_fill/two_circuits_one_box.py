"""A box holds the conductors of one circuit, or of circuits that one handle opens.

Why: whoever opens the box switches one breaker off, sees the device dead, and reaches for wires that are live.

Fix: give each circuit its own box, tie the breakers, or mark the neutrals with their hots and put a note in the box.

Trap: the code allows it; the neutrals of both circuits must be grouped with their hots and never joined.

Does not judge: whether the neutrals of several circuits are grouped with their hots, which no drawing shows.
"""

from nailplate.plan import Box
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.names import name_of
from nailplate.survey.wiring import circuits_in_box, opens_together
from nailplate.units import count

ONE = 1


@rule(
    id="two-circuits-one-box",
    over=Box,
    severity=Severity.ADVICE,
    subjects=(Subject.BOXES,),
    cites={
        "nec-2017": Cite(
            "200.4(B)", note="from memory: neutrals of several circuits in an enclosure are grouped with their hots"
        )
    },
    hazards=(Hazard.SHOCK,),
)
def two_circuits_one_box(box: Box, job: Job) -> Outcome:
    """Counts the circuits of what is in the box and of what passes it."""
    found = circuits_in_box(job.survey, box)
    if len(found.circuits) <= ONE:
        if found.unsaid:
            return Undetermined(found.unsaid)
        return Pass(count(len(found.circuits)), count(ONE)) if found.circuits else NotConcerned()
    circuits = [job.plan.circuits[each] for each in found.circuits]
    if opens_together(job.survey, circuits):
        return Pass(count(len(circuits)), count(ONE))
    names = [name_of(each) for each in circuits]
    return Violation(
        f"{name_of(box)} holds circuits {', '.join(names[:-1])} and {names[-1]}; one breaker does not turn it all off.",
        count(len(circuits)),
        count(ONE),
        remedies=(Remedy("Give each circuit its own box, or group each neutral with its hot and leave a note in the box."),),
        related=tuple(each.pointer for each in circuits),
    )
