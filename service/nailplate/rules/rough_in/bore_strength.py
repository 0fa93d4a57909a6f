"""A bored hole leaves the stud, joist or rafter strong enough.

Why: wood carries most at its edges; a hole that is too large, or too near an edge, lets a bearing wall or floor give way.

Fix: bore a smaller hole, run the cable where the framing is deeper or carries nothing, or double the studs. Ask a
designer about anything larger, and about trusses, I-joists, LVL, glulam, headers and beams.

Trap: shares are of the actual depth: 40 % of a bearing 2x4 is 1.4 in, plates or not. In joists a third of the depth is not all:
2 in must stay above and below, so no hole is allowed in a 2x4 rafter. The middle of the span may be bored, but not notched.

Does not judge: several holes side by side in one section, which weaken it together: each is judged alone. How far a hole is
from the end of a joist, what trusses, I-joists and other engineered wood allow, and steel studs are for their manufacturer or a
designer. Notches are judged by `notch-strength`, the distance for nails by `bored-hole-edge`.
"""

from collections.abc import Iterator

from nailplate.plan import Cable
from nailplate.plan.words import How, MemberRole
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Violation, state
from nailplate.rules.rough_in.cut_words import ENGINEERED, by_approval, member_words
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import (
    Run,
    depth_of,
    hole_distances,
    is_bearing,
    is_wood,
    joist_hole,
    material_of,
    role_of,
    stud_hole,
)
from nailplate.units import Inches, inches, reaches, shown, within

SPANNING = (MemberRole.JOIST, MemberRole.RAFTER)


@rule(
    id="bore-strength",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={
        "irc-2015": Cite(
            "R602.6, R602.6.1, R502.8, R802.7", seen=(2018,), note="app.leg.wa.gov/WAC/default.aspx?cite=296-150C-1000"
        ),
    },
    limits=("bearing_stud_hole", "partition_stud_hole", "joist_hole"),
    hazards=(Hazard.WEAKENED_FRAME,),
)
def bore_strength(cable: Cable, job: Job) -> Iterator[Outcome]:
    """IRC R602.6, R502.8.1, R802.7.1: each run through bored holes, by the actual size of the lumber."""
    return each_run(cable, job, _judge)


def _judge(run: Run, job: Job) -> Outcome:
    if run.segment.how is not How.BORED or not is_wood(run):
        return NotConcerned()
    role = role_of(run)
    if material_of(run) in ENGINEERED or role in (MemberRole.BEAM, MemberRole.HEADER):
        return by_approval(run, "a hole")
    if role is MemberRole.STUD:
        return _in_stud(run, job)
    if role in SPANNING:
        return _in_joist(run, job)
    return _in_plate(run, job) if role is MemberRole.PLATE else NotConcerned()


def _in_stud(run: Run, job: Job) -> Outcome:
    depth, hole = depth_of(run), run.segment.hole.diameter
    doubled = run.segment.is_(doubled=True)
    limit = stud_hole(job.survey, depth, bearing=True, doubled=doubled)
    if not within(hole, limit):
        limit = stud_hole(job.survey, depth, bearing=is_bearing(run), doubled=doubled)
    if not within(hole, limit):
        return _too_large(run, hole, limit, "bearing" if not doubled and is_bearing(run) else "", job)
    edges = hole_distances(job.survey, run)
    if not reaches(edges.near, job.inches("stud_wood_left")):
        return _too_near(run, edges.near, job.inches("stud_wood_left"))
    return Pass(inches(hole), inches(limit))


def _too_large(run: Run, hole: Inches, limit: Inches, bearing: str, job: Job) -> Violation:
    kind = f"{bearing} {member_words(run)}".strip()
    most = f"at most {shown(inches(limit))}" if limit else "no hole at all"
    doubling = (Remedy("Double each bored stud, no more than two in a row.", (state(run.segment, "doubled", value=True),)),)
    larger = stud_hole(job.survey, depth_of(run), bearing=True, doubled=True)
    helps = role_of(run) is MemberRole.STUD and bearing and within(hole, larger)
    return Violation(
        message=f"{run_words(run)}: holes of {shown(inches(hole))} are bored in a {kind}, which allows {most}.",
        measured=inches(hole),
        limit=inches(limit),
        remedies=(
            *(doubling if helps else ()),
            Remedy(
                f"Bore holes of {shown(inches(limit))} or less."
                if limit
                else "Run the cable another way; do not bore this member."
            ),
        ),
    )


def _too_near(run: Run, near: Inches, limit: Inches) -> Violation:
    return Violation(
        message=(
            f"{run_words(run)}: the holes come within {shown(inches(max(0.0, near)))} of the edge of a {member_words(run)}; "
            f"{shown(inches(limit))} of wood must stay."
        ),
        measured=inches(near),
        limit=inches(limit),
        remedies=(Remedy("Bore in the center of the member."),),
    )


def _in_joist(run: Run, job: Job) -> Outcome:
    hole, limit = run.segment.hole.diameter, joist_hole(job.survey, depth_of(run))
    if not within(hole, limit):
        return _too_large(run, hole, limit, "", job)
    near, left = hole_distances(job.survey, run).near, job.inches("joist_wood_left")
    return Pass(inches(hole), inches(limit)) if reaches(near, left) else _too_near(run, near, left)


def _in_plate(run: Run, job: Job) -> Outcome:
    hole, limit = run.segment.hole.diameter, Inches(job.share("top_plate_cut") * depth_of(run))
    if within(hole, limit) or not is_bearing(run):
        return Pass(inches(hole), inches(limit))
    return Judgement(
        f"{run_words(run)}: a hole of {shown(inches(hole))} cuts more than half of a bearing wall's plate, {shown(inches(limit))}.",
        (
            Reading("R602.6.1 speaks of plates cut for pipes and ducts; a hole for cable needs no tie.", "pass"),
            Reading(
                "A hole for cable weakens the plate as much: fasten a metal tie of 0.054 in by 1-1/2 in across it.", "violation"
            ),
        ),
        inches(hole),
        inches(limit),
    )
