"""A bored hole keeps 1-1/4 in from the nearest edge of a wood member, or is plated.

Why: a screw for drywall or siding reaches about an inch into a stud, and finds a cable that lies nearer.

Fix: bore in the center of the member, or install a steel plate on each face that the hole is too near to.

Trap: what counts is the edge of the hole, not its center and not the cable in it; the wood, not the drywall over it; and either
face of the wall, siding too. A 2x4 allows 1 in, in its very center. In a 2x3 or 2x2 every hole needs plates on both faces.

Does not judge: steel framing (`metal-framing-bushing`), whether a plate is thick and long enough or listed as thinner steel,
and cable in conduit (RMC, IMC or PVC) or EMT, which needs no plate. What the hole does to the wood is judged by
`bore-strength`.
"""

from collections.abc import Iterator

from nailplate.plan import Cable
from nailplate.plan.words import How
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.rules.rough_in.plate_remedies import plate_on
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import Edges, Run, hole_distances, is_wood, needs_no_steel, plated_faces
from nailplate.units import inches, shown, shown_beside


@rule(
    id="bored-hole-edge",
    over=Cable,
    severity=Severity.DANGER,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={
        "nec-2017": Cite("300.4(A)(1)", note="ecmweb.com/national-electrical-code/qa/article/21248578/code-qa"),
        "nec-2026": Cite("300.6(A)(1)", note="300.6 seen for (D) and (E): forums.mikeholt.com/threads/2029-pi-300-6-d.2591142"),
    },
    limits=("nail_distance",),
    hazards=(Hazard.PIERCED_CABLE, Hazard.SHOCK, Hazard.FIRE),
)
def bored_hole_edge(cable: Cable, job: Job) -> Iterator[Outcome]:
    """300.4(A)(1): each run through bored holes, by its hole and member and by the distance that is stated."""
    return each_run(cable, job, _judge)


def _judge(run: Run, job: Job) -> Outcome:
    if run.segment.how is not How.BORED or needs_no_steel(run) or not is_wood(run):
        return NotConcerned()
    edges = hole_distances(job.survey, run)
    if edges.plates == 0:
        return Pass(inches(edges.near), inches(edges.required))
    plated = plated_faces(run)
    wanted = edges.plates if edges.plates is not None else 2
    if plated >= wanted:
        return Pass(inches(edges.near), inches(edges.required))
    if plated and edges.plates is None:
        return Undetermined((run.segment.where("hole"),))
    return _too_near(run, edges, wanted, plated)


def _too_near(run: Run, edges: Edges, wanted: int, plated: int) -> Violation:
    faces = "no face is plated" if not plated else "only one face is plated"
    left = shown_beside(inches(max(0.0, edges.near)), inches(edges.required))
    both = " on both faces" if wanted > 1 else ""
    return Violation(
        message=(
            f"{run_words(run)}: the holes leave {left} to the member's edge{both}; {shown(inches(edges.required))} is required, "
            f"and {faces}."
        ),
        measured=inches(edges.near),
        limit=inches(edges.required),
        remedies=(
            plate_on(run, wanted),
            Remedy("Bore a smaller hole in the center of the member, if it is deep enough for it."),
        ),
    )
