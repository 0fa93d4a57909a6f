"""Cable is secured near every box and panel: within 12 in, or within 8 in at a one-gang box without clamps.

Why: what holds the cable at the box keeps pulls on it from reaching the splices.

Fix: staple it within 12 in of the box, or within 8 in along the sheath where a plastic one-gang box has no clamps.

Trap: the 8 in are for nonmetallic one-gang boxes without clamps alone; larger and round ones clamp the cable, and 12 in apply.
A slack loop counts: from 2020 on no more than 18 in of cable may lie between the box and the first support.

Above a ceiling that opens, such as lay-in tiles, the last 4-1/2 ft of NM to a luminaire or other equipment need no staple (AC and MC: 6 ft).

Does not judge: cable that is fished, cable in a raceway. The clamp itself is judged by `sheath-into-box`, the further supports by
`support-interval`.
"""

from collections.abc import Iterator
from dataclasses import replace as altered

from nailplate.plan import Cable, UnknownFact
from nailplate.plan.cables import BoxEnd, DeviceEnd, End
from nailplate.plan.words import CableType, How
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import (
    Judgement,
    NotConcerned,
    Operation,
    Outcome,
    Pass,
    Reading,
    Remedy,
    Undetermined,
    Violation,
    state,
)
from nailplate.rules.rough_in.told_once import as_derived, once_told
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import Run, course_of, end_runs, is_clampless, length_above_ceiling
from nailplate.survey.wiring import is_power_cable
from nailplate.units import Inches, inches, shown, within, written


@rule(
    id="first-support",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={
        "nec-2017": Cite(
            "334.30, 314.17(C) Exception; AC 320.30, MC 330.30",
            note="https://forums.mikeholt.com/threads/nm-secured-8-from-box.150480",
        ),
        "nec-2020": Cite(
            "334.30, 314.17(B); AC 320.30, MC 330.30",
            note="https://www.thebuildingcodeforum.com/forum/threads/approved-nm-cable-fasteners.34669/",
        ),
    },
    limits=("unsupported_to_luminaire", "unsupported_armor_to_luminaire"),
    hazards=(Hazard.PINCHED_INSULATION, Hazard.ARCING),
)
def first_support(cable: Cable, job: Job) -> Iterator[Outcome]:
    """334.30 and 314.17: the first and the last run of a route."""
    return once_told(cable, job, _judge)


def _judge(cable: Cable, job: Job) -> Iterator[Outcome]:
    if not is_power_cable(cable) or cable.is_(type=CableType.RACEWAY):
        yield NotConcerned()
    elif not course_of(job.survey, cable):
        yield Undetermined((cable.where("route"),))
    else:
        for number, (run, end) in enumerate(end_runs(job.survey, cable)):
            yield _at_end(run, end, number, job)


def _at_end(run: Run, end: End, number: int, job: Job) -> Outcome:
    segment = run.segment
    if segment.how is How.RACEWAY or segment.is_(fished=True):
        return NotConcerned(facet=str(number))
    try:
        said = _by_length(run, end, job)
        if isinstance(said, Violation | Judgement):
            said = _above_ceiling(run, end, job) or said
    except UnknownFact as unknown:
        return Undetermined((run.cable.where("route") if run.derived else unknown.pointer,))
    if run.derived:
        return as_derived(said, run, number)
    return altered(said, facet=str(number))


def _above_ceiling(run: Run, end: End, job: Job) -> Pass | None:
    """334.30(B)(2): an accessible ceiling lets the last stretch to a luminaire or equipment go without a support."""
    most = length_above_ceiling(job.survey, run.cable, end)
    along = run.segment.supports.first
    return Pass(inches(along), inches(most)) if most is not None and within(along, most) else None


def _by_length(run: Run, end: End, job: Job) -> Pass | Violation | Judgement:
    supports = run.segment.supports
    first, most = job.inches("first_support_distance"), job.inches("first_support_along_cable")
    clampless = job.inches("first_support_without_clamps")
    along = supports.first
    straight = supports.first_straight if supports.knows("first_straight") else along
    if within(along, clampless):
        return Pass(inches(along), inches(clampless))
    if is_clampless(job.survey, end):
        return _too_far(run, end, along, clampless, "along its sheath, as the box has no clamps", job)
    if not within(straight, first):
        return _too_far(run, end, straight, first, "", job)
    if within(along, first):
        return Pass(inches(along), inches(first))
    if not job.holds("cable_to_support_limited"):
        return _loop(run, end, along, job)
    if within(along, most):
        return Pass(inches(along), inches(most))
    return _too_far(run, end, along, most, "along the cable", job)


def _too_far(run: Run, end: End, found: Inches, limit: Inches, how: str, job: Job) -> Violation:
    least = inches(min(limit, job.inches("first_support_distance")))
    return Violation(
        message=f"{name_of(run.cable)} is first secured {shown(inches(found))} from {_name(end, job)}; {shown(inches(limit))} is the most {how}".rstrip()
        + ".",
        measured=inches(found),
        limit=inches(limit),
        remedies=(Remedy(f"Staple it within {shown(least)} of the box or panel.", _nearer(run, written(least))),),
        at=run.pointer,
    )


def _nearer(run: Run, value: str) -> tuple[Operation, ...]:
    supports = run.segment.supports
    straight = (state(supports, "first_straight", value),) if supports.knows("first_straight") else ()
    return (state(supports, "first", value), *straight)


def _loop(run: Run, end: End, along: Inches, job: Job) -> Judgement:
    limit = job.measure("first_support_distance")
    return Judgement(
        f"{name_of(run.cable)} has {shown(inches(along))} of cable before its first support near {_name(end, job)}.",
        (
            Reading("The 12 in are measured straight from the box; a slack loop does not count.", "pass"),
            Reading("The 12 in are measured along the cable.", "violation"),
        ),
        inches(along),
        limit,
        (
            Remedy(
                f"Staple it within {shown(job.measure('first_support_distance'))} along the cable.",
                _nearer(run, written(limit)),
            ),
        ),
        at=run.pointer,
    )


def _name(end: End, job: Job) -> str:
    if isinstance(end, BoxEnd):
        return f"box {name_of(job.plan.boxes[end.box])}"
    return (
        name_of(job.plan.devices[end.device]) if isinstance(end, DeviceEnd) else f"panel {name_of(job.plan.panels[end.panel])}"
    )
