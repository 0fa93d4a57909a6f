"""A cable in a notch has steel over it.

Why: a notch lays the cable at the face of the wood, where every screw for drywall or siding finds it.

Fix: install a 1/16 in steel plate over each notch before the finish goes on, or bore a hole in the center instead.

Trap: a plate makes the notch safe for the cable and never for the stud: how deep it may be is another question.

Does not judge: how deep a notch may be (`notch-strength`), how thick the plate is or whether it covers the whole notch, grooves
(`shallow-groove`), and notches in steel.
"""

from collections.abc import Iterator

from nailplate.plan import Cable
from nailplate.plan.words import How
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Severity, Subject, Violation, rule
from nailplate.rules.rough_in.plate_remedies import plate_on
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import Run, is_wood, needs_no_steel, plated_faces


@rule(
    id="notch-plate",
    over=Cable,
    severity=Severity.DANGER,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={
        "nec-2017": Cite("300.4(A)(2)", note="ecmweb.com/national-electrical-code/qa/article/21248578/code-qa"),
        "nec-2026": Cite("300.6(A)(2)", note="300.6 seen for (D) and (E): forums.mikeholt.com/threads/2029-pi-300-6-d.2591142"),
    },
    hazards=(Hazard.PIERCED_CABLE, Hazard.SHOCK, Hazard.FIRE),
    changes={"nec-2026": "300.4 became 300.6."},
)
def notch_plate(cable: Cable, job: Job) -> Iterator[Outcome]:
    """300.4(A)(2): each run in notches."""
    return each_run(cable, job, _judge)


def _judge(run: Run, _: Job) -> Outcome:
    if run.segment.how is not How.NOTCH or needs_no_steel(run) or not is_wood(run):
        return NotConcerned()
    if plated_faces(run):
        return Pass()
    return Violation(
        message=f"{run_words(run)}: it lies in notches, and no plate covers it.",
        remedies=(plate_on(run, 1),),
    )
