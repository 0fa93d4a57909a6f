"""A cable along a framing member keeps 1-1/4 in from its nearest edge, or is protected by steel.

Why: drywall screws that miss the middle of the stud run down beside it, where the cable is stapled.

Fix: staple the cable in the middle of the stud's side, use a stacker where several run together, or install plates.

Trap: on a 2x4 the lawful band is 1 in wide, on a 2x3 there is none. Near a box the cable swings over to the knockout. Some read
"parallel" literally and require nothing there; the code panel has said that fasteners are likely within 6 in of a device box.

Does not judge: cable that is fished, cable in conduit (RMC, IMC or PVC) or EMT, and structural insulated panels. Thickness of
steel and length of the swing to a box are for a look on site. Several cables on one stud are judged by `stud-face-capacity`.
"""

from collections.abc import Iterator
from typing import Final

from nailplate.plan import BoxEnd, Cable
from nailplate.plan.words import FramingMaterial, How
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.rough_in.plate_remedies import plate_on
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import Run, cable_distances, material_of, needs_no_steel, plated_faces
from nailplate.units import inches, shown, within

NEAR_BOX: Final = 6.0
"""Inches above or below a device box in which the panel takes fasteners for likely (forums.mikeholt.com/threads/2029-pi-300-6-d.2591142)."""


@rule(
    id="parallel-run-edge",
    over=Cable,
    severity=Severity.DANGER,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={
        "nec-2017": Cite("300.4(D)", note="ecmweb.com/whats-wrong-here/whats-wrong-here-66"),
        "nec-2026": Cite("300.6(D)", seen=(2026,), note="forums.mikeholt.com/threads/2029-pi-300-6-d.2591142"),
    },
    limits=("nail_distance",),
    hazards=(Hazard.PIERCED_CABLE, Hazard.SHOCK, Hazard.FIRE),
)
def parallel_run_edge(cable: Cable, job: Job) -> Iterator[Outcome]:
    """300.4(D): each run along studs, joists, rafters or furring; limited-energy cables too."""
    return each_run(cable, job, _judge)


def _judge(run: Run, job: Job) -> Outcome:
    segment = run.segment
    if segment.how is not How.ALONG_MEMBER or needs_no_steel(run) or segment.is_(fished=True):
        return NotConcerned()
    if material_of(run) is FramingMaterial.SIP:
        return NotConcerned()
    edges = cable_distances(job.survey, run)
    measured, limit = inches(edges.near), inches(edges.required)
    if edges.plates == 0 or plated_faces(run) >= (edges.plates or 2):
        return Pass(measured, limit)
    if edges.plates is None and plated_faces(run):
        return Undetermined((segment.where("member"),))
    said = f"{run_words(run)}: it comes within {shown(measured)} of the member's edge, under {shown(limit)}, without steel over it."
    remedies = (plate_on(run, edges.plates or 2), Remedy("Staple it in the middle of the member, or on a stacker."))
    if _swings_to_a_box(run):
        return Judgement(said, _READINGS, measured, limit, remedies)
    return Violation(said, measured, limit, remedies)


def _swings_to_a_box(run: Run) -> bool:
    """Whether the run is no more than the swing between a box and the stud's middle."""
    at_box = (run.place == 0 and isinstance(run.cable.ends[0], BoxEnd)) or (
        run.is_last and isinstance(run.cable.ends[1], BoxEnd)
    )
    return at_box and run.length is not None and within(run.length, NEAR_BOX)


_READINGS: Final = (
    Reading("The cable swings to the box's knockout and is not parallel to the member; no distance is required there.", "pass"),
    Reading("Fasteners are likely within 6 in of a device box, so the cable is protected up to the box.", "violation"),
)
