"""Every box is fastened to the framing, a brace, or with clamps made for the finish.

Why: plugs pull and luminaires hang on it; a box that moves cuts its own cables.

Fix: nail or screw it to a stud, joist or listed brace; use an old-work box with its own clamps only where the finish is up already.

Trap: paneling alone does not hold a box, least of all in a house that travels. Foam and caulk are no fastening.

Does not judge: how well the stated fastening is done, and whether box or brace is made for the weight: `ceiling-box-support`,
`fan-box` and `luminaire-box` do. Whether paneling or another finish can hold a box with clamps is for a look on site.
"""

from collections.abc import Iterator

from nailplate.plan import Box
from nailplate.plan.words import BoxFastening
from nailplate.rulekit import Cite, Hazard, Job, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.rules.rough_in.told_once import once_told
from nailplate.survey.names import name_of


@rule(
    id="boxes-fastened",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.FREE_CONDUCTORS,),
    cites={"nec-2017": Cite("314.23", note="hu6.info quotes 314.23(B)(1); (A) to (D) from memory")},
    hazards=(Hazard.FALLING_LOAD, Hazard.SHOCK),
)
def boxes_fastened(box: Box, job: Job) -> Iterator[Outcome]:
    """314.23: what each box is fastened to."""
    return once_told(box, job, _judge)


def _judge(box: Box, _: Job) -> Iterator[Outcome]:
    if box.fastened is not BoxFastening.NONE:
        yield Pass()
        return
    yield Violation(
        message=f"{name_of(box)} is fastened to nothing.",
        remedies=(
            Remedy("Fasten it to a stud, joist or listed brace.", (state(box, "fastened", BoxFastening.FRAMING.value),)),
        ),
    )
