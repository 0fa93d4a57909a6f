"""Every box can be reached without taking the building apart.

Why: splices come loose in time; one behind drywall cannot be found, tested or repaired.

Fix: bring the box to a surface and put a blank cover on it, give it a removable panel, or run the cable through
without a splice.

Trap: a box above a finished ceiling, behind a shower panel or behind a fixed cabinet counts as buried unless something in front of
it comes off. A cutout in the cabinet's back is usually accepted; ask.

Does not judge: what stands in front of a box that has a way to it, and boxes listed to be concealed behind a finish, 314.29 and
334.40(B).
"""

from nailplate.plan import Box
from nailplate.plan.trade import SEEN_AND_TAKEN_OFF
from nailplate.plan.words import Access
from nailplate.rulekit import Cite, Hazard, Job, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.survey.names import name_of


@rule(
    id="box-accessible",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.BOXES,),
    cites={
        "nec-2017": Cite(
            "314.29",
            seen=(2023,),
            note="https://forums.mikeholt.com/threads/junction-box-in-attic-inspector-question.77708/page-9",
        )
    },
    hazards=(Hazard.BURIED, Hazard.FIRE),
)
def box_accessible(box: Box, job: Job) -> Outcome:
    """314.29: a plate, a removable panel or a cutout behind a cabinet gives access."""
    if not box.knows("access") and _is_closed_by_device(box, job):
        return Pass()
    if box.access is not Access.NONE:
        return Pass()
    return Violation(
        message=f"{name_of(box)}: nothing gives access to this box once the walls and ceilings are finished.",
        remedies=(
            Remedy(
                "Bring the box to the finished surface and close it with a blank cover.",
                (state(box, "access", Access.PLATE.value),),
            ),
            Remedy("Cut a removable panel in front of it.", (state(box, "access", Access.PANEL.value),)),
            Remedy("Take the splice out: run one cable past this place, and make the splice in a box that can be reached."),
        ),
    )


def _is_closed_by_device(box: Box, job: Job) -> bool:
    """Whether a receptacle, switch, light or alarm, which one sees and takes off, is what closes the box."""
    return any(device.kind in SEEN_AND_TAKEN_OFF for device in job.survey.devices_in_box.get(box.id, []))
