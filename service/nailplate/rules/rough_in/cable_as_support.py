"""No cable is held up by another cable.

Why: the tie cuts into both sheaths, and the cable that carries the other was stapled for its own weight alone.

Fix: staple each cable to the framing, or use a staple or stacker that is listed for several.

Trap: low-voltage cable tied to a power cable counts too. Two cables under one staple are another question, which its marking answers.

Does not judge: cables under one staple, whose marking says how many it holds, and raceways, pipes and ceiling wires as
supports. How far apart the supports are is judged by `support-interval`.
"""

from collections.abc import Iterator

from nailplate.plan import Cable
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import Run


@rule(
    id="cable-as-support",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={
        "nec-2017": Cite(
            "300.11(D)", seen=(2017,), note="forums.mikeholt.com/forum/active-forums/nec/149860-support-and-secure-for-cabling"
        ),
        "nec-2023": Cite(
            "300.11(D), 722.24(A)",
            seen=(2023,),
            note="www.ecmweb.com/whats-wrong-here/article/55301510/whats-wrong-here-hint-a-surprise-on-the-ceiling",
        ),
    },
    hazards=(Hazard.PINCHED_INSULATION,),
)
def cable_as_support(cable: Cable, job: Job) -> Iterator[Outcome]:
    """300.11(D): each run, limited-energy cables too."""
    return each_run(cable, job, _judge)


def _judge(run: Run, _: Job) -> Outcome:
    if not run.segment.knows("supports") or not run.segment.supports.knows("on_cable"):
        return NotConcerned()
    if not run.segment.supports.on_cable:
        return Pass()
    return Violation(
        message=f"{run_words(run)}: it is tied to another cable.",
        remedies=(Remedy("Staple it to the framing by itself.", (state(run.segment.supports, "on_cable", value=False),)),),
    )
