"""A ceiling box that carries a fan, or more than a light fixture, is held by framing or a brace, not by the ceiling's finish.

Why: drywall and paneling let go of what swings or weighs; what hangs there falls on people.

Fix: fasten the box to a joist or a listed brace, or hang the luminaire from the structure itself.

Trap: an old-work box with clamps suits a small receptacle or switch in a wall. In a ceiling such boxes are listed for about 6 lb, and none
carries a fan.

Does not judge: What a box may carry by its own marking (`luminaire-box`, `fan-box`), and a box that is fastened to nothing (`boxes-fastened`).
"""

from typing import Final

from nailplate.plan import Box, Device
from nailplate.plan.trade import LIGHTS_AND_FANS
from nailplate.plan.words import BoxFastening, DeviceKind
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.survey.boxes import Spot, spot_of
from nailplate.survey.names import name_of
from nailplate.units import Pounds, pounds, shown, within

LIGHT: Final = Pounds(6.0)
"""What a box held by the finish alone carries in a ceiling (common practice: listings of old-work boxes)."""


@rule(
    id="ceiling-box-support",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.BOX_SUPPORT,),
    cites={
        "nec-2017": Cite(
            "314.23(C), 314.27(A)(2)", note="https://forums.mikeholt.com/threads/314-27.2581560/page-4 (6 lb); rest from memory"
        )
    },
    hazards=(Hazard.FALLING_LOAD,),
)
def ceiling_box_support(box: Box, job: Job) -> Outcome:
    """What hangs from a ceiling box that only the finish holds."""
    hung = [each for each in job.survey.devices_in_box.get(box.id, []) if _hangs(each)]
    if (
        not hung
        or not box.knows("fastened", "at")
        or box.fastened is BoxFastening.NONE
        or spot_of(job.survey, box) is not Spot.CEILING
    ):
        return NotConcerned()
    if box.fastened is not BoxFastening.FINISH:
        return Pass()
    fan = next((each for each in hung if each.kind is DeviceKind.FAN), None)
    if fan is not None:
        return _told(box, fan, "a fan is carried by framing or a brace only")
    heaviest = max(hung, key=lambda each: each.weight)
    if within(heaviest.weight, LIGHT):
        return Pass(pounds(heaviest.weight), pounds(LIGHT))
    weighs = f"it weighs {shown(pounds(heaviest.weight))}, and a box so held carries about {shown(pounds(LIGHT))}"
    return _told(box, heaviest, weighs)


def _hangs(device: Device) -> bool:
    own = device.is_(independent_support=True)
    return device.kind in LIGHTS_AND_FANS and not own


def _told(box: Box, device: Device, why: str) -> Violation:
    heavy = device.knows("weight") and device.kind is not DeviceKind.FAN
    return Violation(
        f"{name_of(device)} hangs from {name_of(box)}, which only the ceiling's finish holds; {why}.",
        pounds(device.weight) if heavy else None,
        pounds(LIGHT) if heavy else None,
        (Remedy("Fasten the box to a joist or a listed brace.", (state(box, "fastened", BoxFastening.FRAMING.value),)),),
        related=(device.pointer,),
    )
