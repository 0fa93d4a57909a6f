"""The handles of switches and breakers are no more than 6 ft 7 in above the floor, and are reached without climbing.

Why: whoever has to put something out in a hurry cannot look for a chair.

Fix: set the panel or the switch lower; the highest breaker's handle counts, in its highest position.

Trap: the height is to the handle, not to the middle of the panel. A switch beside the motor or appliance that it serves may be
higher where a portable means reaches it. A switch's box center is taken for its handle, which is half an inch higher when on.

Does not judge: busway switches and isolating switches worked with a stick, which the code exempts; the clear space in front of
a panel (`working-space`); the reset of a GFCI device (`gfci-reachable`); and the reach from a wheelchair. Whether a high switch
is next to the equipment that it serves is left to the authority having jurisdiction.
"""

from collections.abc import Iterator

from nailplate.plan import Device, Panel, Part, Plan, Pointer
from nailplate.plan.trade import HANDLES
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, Outcome, Pass, Reading, Remedy, Violation, at_place
from nailplate.survey import place_of
from nailplate.survey.names import name_of
from nailplate.units import inches, shown, within


@rule(
    id="handle-height",
    over=Plan,
    severity=Severity.CODE,
    subjects=(Subject.PANEL_PLACES,),
    cites={
        "nec-2017": Cite(
            "404.8(A), 240.24(A)",
            note="https://forums.mikeholt.com/threads/35243 and public trade pages on Article 110 and 404",
        ),
    },
    hazards=(Hazard.NO_WAY_OUT, Hazard.SHOCK),
)
def handle_height(plan: Plan, job: Job) -> Iterator[Outcome]:
    """404.8(A) for each switch, 240.24(A) for each panel."""
    handles: list[Device | Panel] = [device for device in plan.devices.values() if device.kind in HANDLES]
    for part in (*handles, *plan.panels.values()):
        yield from at_place(str(part.pointer), part.pointer, _judged, part, job)


def _judged(part: Device | Panel, job: Job) -> Outcome:
    if isinstance(part, Device) and part.is_(readily_accessible=False):
        return _unreachable(part)
    height = part.handle_height if isinstance(part, Panel) else place_of(job.survey, part).height
    if within(height, job.inches("handle_highest")):
        return Pass(inches(height), job.measure("handle_highest"))
    if isinstance(part, Device) and part.knows("serves"):
        return _beside_what_it_serves(part, height, part.serves, job)
    return Violation(
        _message(part, height, job),
        inches(height),
        job.measure("handle_highest"),
        (Remedy(f"Set it so that the handle is no more than {shown(job.measure('handle_highest'))} above the floor."),),
    )


def _message(part: Part, height: float, job: Job) -> str:
    handle = "the highest breaker's handle" if isinstance(part, Panel) else "its handle"
    return f"{name_of(part)}: {handle} is {shown(inches(height))} above the floor; {shown(job.measure('handle_highest'))} is the most."


def _beside_what_it_serves(device: Device, height: float, served: tuple[str, ...], job: Job) -> Judgement:
    appliances: tuple[Pointer, ...] = tuple(job.plan.appliances[each].pointer for each in served)
    return Judgement(
        f"{_message(device, height, job)} It serves equipment of its own. Ask the authority having jurisdiction.",
        readings=(
            Reading("It is next to the motor or appliance that it serves, and a portable means reaches it.", "pass"),
            Reading("It is not next to it, or nothing is at hand to reach it.", "violation"),
        ),
        measured=inches(height),
        limit=job.measure("handle_highest"),
        remedies=(Remedy(f"Set it no more than {shown(job.measure('handle_highest'))} above the floor."),),
        related=appliances,
    )


def _unreachable(device: Device) -> Violation:
    return Violation(
        f"{name_of(device)} is not readily accessible: something has to be moved or climbed over to reach it.",
        remedies=(Remedy("Put the switch where it is reached without moving or climbing over anything."),),
    )
