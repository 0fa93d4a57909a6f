"""A box has a gang for each device in it.

Why: a device without a gang of its own is not fastened, and no plate covers it.

Fix: use a box of as many gangs as there are devices, or devices that combine two on one yoke.

Trap: volume does not make room: a deep one-gang box may hold the wires of three switches, but has screws for one. A range or dryer
receptacle can take two gangs. Luminaires, fans and alarms hang on the box itself and take no gang.

Does not judge: volume (`box-volume`) and depth (`box-depth`), covers, and divisions between devices over 300 V. A square box
whose gangs are not stated is taken for two devices at most.
"""

from nailplate.plan import Box, Device
from nailplate.plan.words import BoxShape
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.boxes import inside, may_be_wide
from nailplate.survey.names import name_of
from nailplate.units import count, reaches

_SQUARE = 2
"""Devices that a plaster ring or raised cover on a 4 in square box carries at the most (common practice)."""


@rule(
    id="yokes-fit-gangs",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.BOXES,),
    cites={"nec-2017": Cite("314.25, 406.5, 404.10(B)", note="covers, and devices fastened to their boxes; from memory")},
    hazards=(Hazard.SHOCK, Hazard.PINCHED_INSULATION),
)
def yokes_fit_gangs(box: Box, job: Job) -> Outcome:
    """Gangs against what the devices in the box take, each at the least."""
    yoked = inside(job.survey, box).yoked
    taken = sum(_least(device) for device in yoked)
    if not taken:
        return NotConcerned()
    if not box.knows("gangs"):
        return _without_gangs(box, taken)
    if not reaches(box.gangs, taken):
        return _too_many(box, yoked, taken)
    wide = [device.where("gangs") for device in yoked if may_be_wide(device) and not device.knows("gangs")]
    if not reaches(box.gangs, taken + len(wide)):
        return Undetermined(tuple(wide))
    return Pass(count(box.gangs), count(taken))


def _least(device: Device) -> int:
    return device.gangs if device.knows("gangs") else 1


def _without_gangs(box: Box, taken: int) -> Outcome:
    square = box.is_(shape=BoxShape.SQUARE)
    if taken <= (_SQUARE if square else 1):
        return Pass(limit=count(taken))
    return Undetermined((box.where("gangs"),))


def _too_many(box: Box, yoked: list[Device], taken: int) -> Violation:
    names = ", ".join(name_of(device) for device in yoked)
    return Violation(
        f"{name_of(box)} has {box.gangs} {'gang' if box.gangs == 1 else 'gangs'}; {names} take {taken}.",
        count(box.gangs),
        count(taken),
        (Remedy(f"Use a box of {taken} gangs.", (state(box, "gangs", taken),)),),
        related=tuple(device.pointer for device in yoked),
    )
