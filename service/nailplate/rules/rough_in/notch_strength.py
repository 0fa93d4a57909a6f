"""A notch leaves the stud, joist or rafter strong enough.

Why: a notch cuts the edge of a member, where it carries most; a joist cracks from the notch's corner.

Fix: bore a hole in the center instead, make the notch shallower, or move it to the outer third of the span.

Trap: shares are of the actual depth: a quarter of a 2x6 is 1-3/8 in, not 1-1/2. Joists are not notched in the middle third of their
span at all, nor longer than a third of their depth; at the end a quarter of the depth is allowed.

Does not judge: notches in plates, how several cuts in one member add up, and engineered wood, headers and beams, which are for
their manufacturer or a designer. Bored holes are judged by `bore-strength`, and the steel over a notch by `notch-plate`.
"""

from collections.abc import Iterator

from nailplate.plan import Cable
from nailplate.plan.words import How, MemberRole, NotchPlace
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule
from nailplate.rules.rough_in.cut_words import ENGINEERED, by_approval, member_words
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.rough_in import (
    Run,
    depth_of,
    end_notch,
    is_bearing,
    is_wood,
    joist_notch,
    material_of,
    role_of,
    stud_notch,
)
from nailplate.units import Inches, inches, shown, within

SPANNING = (MemberRole.JOIST, MemberRole.RAFTER)


@rule(
    id="notch-strength",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={
        "irc-2015": Cite("R602.6, R502.8, R802.7", seen=(2018,), note="app.leg.wa.gov/WAC/default.aspx?cite=296-150C-1000"),
    },
    limits=("bearing_stud_notch", "partition_stud_notch", "joist_notch", "joist_end_notch"),
    hazards=(Hazard.WEAKENED_FRAME,),
)
def notch_strength(cable: Cable, job: Job) -> Iterator[Outcome]:
    """IRC R602.6, R502.8.1, R802.7.1: each run in notches, by the actual size of the lumber."""
    return each_run(cable, job, _judge)


def _judge(run: Run, job: Job) -> Outcome:
    if run.segment.how is not How.NOTCH or not is_wood(run):
        return NotConcerned()
    role = role_of(run)
    if material_of(run) in ENGINEERED or role in (MemberRole.BEAM, MemberRole.HEADER):
        return by_approval(run, "a notch")
    if role is MemberRole.STUD:
        return _in_stud(run, job)
    return _in_joist(run, job) if role in SPANNING else NotConcerned()


def _in_stud(run: Run, job: Job) -> Outcome:
    deep, limit = run.segment.notch_depth, stud_notch(job.survey, depth_of(run), bearing=True)
    if not within(deep, limit):
        limit = stud_notch(job.survey, depth_of(run), bearing=is_bearing(run))
    return Pass(inches(deep), inches(limit)) if within(deep, limit) else _too_deep(run, deep, limit)


def _in_joist(run: Run, job: Job) -> Outcome:
    deep, depth = run.segment.notch_depth, depth_of(run)
    if not within(deep, end_notch(job.survey, depth)):
        return _too_deep(run, deep, end_notch(job.survey, depth))
    place = run.segment.notch_place
    if place is NotchPlace.MIDDLE_THIRD:
        return Violation(
            message=f"{run_words(run)}: a {member_words(run)} is notched in the middle third of its span, where no notch is allowed.",
            remedies=(Remedy("Bore a hole instead, or move the notch to an outer third of the span."),),
        )
    limit = end_notch(job.survey, depth) if place is NotchPlace.END else joist_notch(job.survey, depth)
    if not within(deep, limit):
        return _too_deep(run, deep, limit)
    return (
        Pass(inches(deep), inches(limit))
        if place is NotchPlace.END
        else _long_enough(run, Inches(job.share("joist_notch_length") * depth))
    )


def _long_enough(run: Run, limit: Inches) -> Outcome:
    length = inches(run.segment.notch_length)
    if within(length.value, limit):
        return Pass(length, inches(limit))
    return Violation(
        message=f"{run_words(run)}: notches of {shown(length)} along a {member_words(run)} may be {shown(inches(limit))} long.",
        measured=length,
        limit=inches(limit),
        remedies=(Remedy("Cut shorter notches, or bore holes."),),
    )


def _too_deep(run: Run, deep: Inches, limit: Inches) -> Violation:
    return Violation(
        message=f"{run_words(run)}: notches of {shown(inches(deep))} are cut in a {member_words(run)}, which allows {shown(inches(limit))}.",
        measured=inches(deep),
        limit=inches(limit),
        remedies=(Remedy(f"Cut no deeper than {shown(inches(limit))}, or bore a hole in the center."),),
    )
