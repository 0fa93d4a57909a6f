"""A cable in a groove has 1-1/4 in of free space to the surface, or steel along it.

Why: wallboard, siding or paneling is nailed over the groove, and nobody sees where it runs.

Fix: cut the groove deeper, install 1/16 in steel along all of it, or run the cable in the stud layer.

Trap: cable cut into rigid foam behind paneling, on the plane of furring, or in a chase near a panel's skin is in such a groove.

Does not judge: cable in conduit (RMC, IMC or PVC) or EMT, the thickness of the steel, the groove's effect on the wood, and
finish that is nailed later than the plan says. Notches are judged by `notch-plate`.
"""

from collections.abc import Iterator

from nailplate.plan import Cable
from nailplate.plan.words import How
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Severity, Subject, Violation, rule
from nailplate.rules.rough_in.plate_remedies import plate_on
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import Run, needs_no_steel, plated_faces
from nailplate.units import inches, reaches, shown


@rule(
    id="shallow-groove",
    over=Cable,
    severity=Severity.DANGER,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={
        "nec-2017": Cite("300.4(F)", note="forums.mikeholt.com/threads/run-mc-cable-romex-cable-behind-baseboard.2588925"),
        "nec-2026": Cite("300.6(F)", note="300.6 seen for (D) and (E): forums.mikeholt.com/threads/2029-pi-300-6-d.2591142"),
    },
    hazards=(Hazard.PIERCED_CABLE, Hazard.SHOCK, Hazard.FIRE),
)
def shallow_groove(cable: Cable, job: Job) -> Iterator[Outcome]:
    """300.4(F): each run in a groove that a finish will cover."""
    return each_run(cable, job, _judge)


def _judge(run: Run, job: Job) -> Outcome:
    segment, limit = run.segment, job.measure("nail_distance")
    if segment.how is not How.GROOVE or needs_no_steel(run):
        return NotConcerned()
    if segment.knows("edge_distance") and reaches(segment.edge_distance, limit.value):
        return Pass(inches(segment.edge_distance), limit)
    if plated_faces(run):
        return Pass()
    free = inches(segment.edge_distance)
    return Violation(
        message=f"{run_words(run)}: its groove leaves {shown(free)} to the surface, under {shown(limit)}, and has no steel along it.",
        measured=free,
        limit=limit,
        remedies=(plate_on(run, 1),),
    )
