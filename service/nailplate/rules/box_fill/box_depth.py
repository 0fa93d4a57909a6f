"""A box is deep enough for the devices in it and the conductors on them.

Why: a device that is pushed in against stiff conductors crushes their insulation and loosens its own terminals.

Fix: use a deeper box, or add a ring that makes it deeper, or use a device that projects less.

Trap: a box can have volume enough and still be too shallow: 4 in square boxes hold much and are 1-1/4 to 2-1/8 in deep. Where a
cable enters the middle of the back, right behind a device on 12 or 10 AWG, 1/2 in must be free there from 2023.

Does not judge: boxes for conductors over 4 AWG, which are made for their device, and utilization equipment other than devices
on a yoke.
"""

import math
from collections.abc import Sequence

from nailplate.plan import Box
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.rules.box_fill.larger_box import deeper_box
from nailplate.survey.boxes import DepthFor, depth_for, depth_of, inside, surely_deep
from nailplate.survey.names import name_of
from nailplate.units import Inches, inches, reaches, shown


@rule(
    id="box-depth",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.BOXES,),
    cites={
        "nec-2017": Cite(
            "314.24",
            seen=(2020, 2023),
            note="https://electricallicenserenewal.com/Electrical-Continuing-Education-Courses/Course-GetQuestion.php?QID=1473.0"
            " for 12 and 10 AWG; depths for other sizes from memory",
        )
    },
    hazards=(Hazard.PINCHED_INSULATION, Hazard.ARCING),
    limits=("clearance_at_rear_entry", "clearance_behind_device", "device_projection_on_12_and_10", "large_device_projection"),
    provisions=("clearance_where_wiring_enters_behind",),
)
def box_depth(box: Box, job: Job) -> Outcome:
    """314.24(A) without devices, (B) with: by the largest conductor on each, and with clearance behind those that project far."""
    within = inside(job.survey, box)
    wanted = [depth_for(device, within, job.edition) for device in within.yoked]
    any_box = job.inches("box_depth_without_devices")
    least = max((each.least for each in wanted), default=any_box)
    most = max((each.most for each in wanted), default=any_box)
    if not box.knows("depth") and not box.knows("trade_size") and reaches(surely_deep(box, job.edition), most):
        return Pass(limit=inches(most))
    depth = depth_of(box)
    if box.knows("extension") and not reaches(depth, most):
        depth = Inches(depth + box.extension.depth)
    if not reaches(depth, least):
        return _too_shallow(box, depth, least, most, wanted, job)
    if not reaches(depth, most):
        return _open(box, depth, wanted)
    return Pass(inches(depth), inches(most))


def _open(box: Box, depth: Inches, wanted: Sequence[DepthFor]) -> Undetermined:
    unsure = [each for each in wanted if not reaches(depth, each.most)]
    open_facts = tuple(dict.fromkeys(fact for each in unsure for fact in each.open))
    devices = [each.device for each in unsure if not each.device.knows("depth")]
    why = "what is in it may need more"
    if devices:
        names = ", ".join(name_of(each) for each in devices)
        why = f"how far {names} {'reaches' if len(devices) == 1 else 'reach'} into it is not said"
    return Undetermined(open_facts, f"{name_of(box)}: the box is {shown(inches(depth))} deep; {why}.")


def _too_shallow(box: Box, depth: Inches, least: Inches, most: Inches, wanted: Sequence[DepthFor], job: Job) -> Violation:
    deepest = next((each for each in wanted if each.least == least), None)
    what = f"{name_of(deepest.device)} on {deepest.size}" if deepest and deepest.size else "what is in it"
    wants = f"{what} needs" if deepest else "any box has at least"
    return Violation(
        message=f"{name_of(box)}: the box is {shown(inches(depth))} deep inside; {wants} {shown(inches(least))}.",
        measured=inches(depth),
        limit=inches(least),
        remedies=(*deeper_box(box, least if math.isinf(most) else most, job), _WORDS),
    )


_WORDS = Remedy("Add a ring that makes it deep enough, or use a device that projects less.")
