"""Alarms that are interconnected by wire are joined by cable with a third insulated conductor.

Why: without the signal wire each alarm sounds alone, and nobody wakes at the other end of the house.

Fix: pull 14-3 or 12-3 from alarm to alarm, or install alarms that are listed to interconnect by radio.

Trap: the cable from the panel to the first alarm needs no third conductor; those between alarms do.

Does not judge: whether every alarm is reached by such a cable.
"""

from typing import Final

from nailplate.plan import Cable, Device
from nailplate.plan.trade import ALARMS
from nailplate.plan.words import Interconnect
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.survey.names import name_of
from nailplate.survey.wiring import devices_at, ends_of, is_power_cable
from nailplate.units import count

CONDUCTORS: Final = 3


@rule(
    id="interconnect-cable",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.ALARM_POWER,),
    cites={
        "irc-2015": Cite(
            "R314.4",
            note="summerville-home-inspection.com/blog/smoke-and-carbon-monoxide-alarm-requirements; number from memory",
        ),
        "irc-2024": Cite("R310.4", note="number of the 2024 edition from memory"),
    },
    hazards=(Hazard.UNDETECTED_SMOKE,),
)
def interconnect_cable(cable: Cable, job: Job) -> Outcome:
    """IRC R314.4: a cable between two alarms."""
    if not is_power_cable(cable):
        return NotConcerned()
    ends = [[device for device in devices_at(job.survey, node) if device.kind in ALARMS] for node in ends_of(job.survey, cable)]
    if not all(ends):
        return NotConcerned()
    if not all(_by_wire(alarm) for alarms in ends for alarm in alarms):
        return NotConcerned()
    if cable.insulated >= CONDUCTORS:
        return Pass(count(cable.insulated), count(CONDUCTORS))
    return Violation(
        message=f"{name_of(cable)} joins two alarms that are interconnected by wire, and has no conductor for the signal.",
        measured=count(cable.insulated),
        limit=count(CONDUCTORS),
        remedies=(
            Remedy("Pull a cable with three insulated conductors.", (state(cable, "insulated", CONDUCTORS),)),
            Remedy("Or install alarms that are listed to interconnect by radio."),
        ),
    )


def _by_wire(alarm: Device) -> bool:
    return alarm.interconnect is Interconnect.WIRED
