"""A smoke or carbon monoxide alarm is powered by the house's wiring with a battery, is not switched, and smoke alarms interconnect.

Why: an alarm on a light's switch is dead whenever the light is off, and a battery alone is taken out when it chirps. An
alarm that sounds alone in the basement does not wake those who sleep upstairs.

Fix: feed the alarms from a circuit with no switch but its breaker, and use alarms with a battery as a standby;
interconnect all smoke alarms by wire or by radio.

Trap: a cabin without a commercial power supply may have alarms on batteries alone. A living room's lighting circuit may feed
the alarms, ahead of its switches; it is then noticed when its breaker is off.

Does not judge: where alarms are required (`smoke-alarm-places`, `co-alarm-places`), the cable that interconnects them
(`interconnect-cable`), and AFCI protection of their circuit (`afci-rooms`). What an existing house may keep is left to the
authority having jurisdiction.
"""

from collections.abc import Iterator

from nailplate.plan import ROOT, Device
from nailplate.plan.trade import ALARMS, SWITCHING
from nailplate.plan.words import AlarmPower, DeviceKind, Interconnect
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, at_place, remove, state
from nailplate.survey.index import Survey
from nailplate.survey.lights import controls_over, controls_told
from nailplate.survey.names import name_of


@rule(
    id="alarm-unswitched",
    over=Device,
    severity=Severity.CODE,
    subjects=(Subject.ALARM_POWER,),
    cites={
        "irc-2018": Cite(
            "R314.4, R314.6, R315.6",
            note="https://www.thebuildingcodeforum.com/forum/threads/10267 (no switch; batteries alone without utility power) and "
            "https://summerville-home-inspection.com/blog/smoke-and-carbon-monoxide-alarm-requirements; numbers from memory",
        ),
        "irc-2024": Cite("R310.4, R310.6, R311.6", note="renumbered chapter, from memory"),
    },
    hazards=(Hazard.UNDETECTED_SMOKE, Hazard.CARBON_MONOXIDE),
    dwelling_only=True,
)
def alarm_unswitched(alarm: Device, job: Job) -> Iterator[Outcome]:
    """R314.6 and R315.6, for one alarm: what powers it, and whether a switch is in between."""
    if alarm.kind not in ALARMS:
        yield NotConcerned()
        return
    yield from at_place("power", None, _power, alarm, job)
    if not alarm.is_(power_source=AlarmPower.BATTERY):
        yield from at_place("switch", None, _switch, alarm, job)
    if alarm.is_(kind=DeviceKind.SMOKE_ALARM, interconnect=Interconnect.NONE):
        yield _alone(alarm, job)


def _alone(alarm: Device, job: Job) -> Outcome:
    """R314.4 speaks of a dwelling with more than one smoke alarm."""
    count = job.survey.once(_smoke_alarms)
    if count == 1:
        return Pass(facet="interconnect")
    return Violation(
        f"{name_of(alarm)} is interconnected with no other smoke alarm; where one sounds, all {count} are required to sound.",
        remedies=(Remedy("Interconnect it with the others, by cable with a third conductor or by radio."),),
        facet="interconnect",
    )


def _smoke_alarms(survey: Survey) -> int:
    return sum(each.kind is DeviceKind.SMOKE_ALARM for each in survey.plan.devices.values())


def _power(alarm: Device, job: Job) -> Outcome:
    if alarm.power_source is AlarmPower.BUILDING_AND_BATTERY:
        return Pass()
    on_battery = alarm.power_source is AlarmPower.BATTERY
    if on_battery and not job.plan.basis.utility_power:
        return Pass()  # without a commercial source batteries alone are allowed
    what = "on its battery alone" if on_battery else "on the house's wiring alone, with no battery"
    patch = (state(alarm, "power_source", AlarmPower.BUILDING_AND_BATTERY.value),)
    return Violation(
        f"{name_of(alarm)} is {what}; where there is utility power both are required.",
        remedies=(Remedy("Use an alarm on the house's wiring with a standby battery.", patch),),
    )


def _switch(alarm: Device, job: Job) -> Outcome:
    controls = controls_over(job.survey, alarm)
    if controls:
        switch = job.plan.devices[controls[0].switches[0]]
        patch = (remove(controls[0].pointer),) if len(controls[0].outlets) == 1 else ()
        return _violation(alarm, switch, Remedy("Take the alarm off the control and feed it ahead of the switch.", patch))
    source = job.plan.devices[alarm.feed_through_source] if alarm.knows("feed_through_source") else None
    if source is not None and source.kind in SWITCHING:
        patch = (remove(alarm.where("feed_through_source")),)
        return _violation(alarm, source, Remedy("Feed the alarm ahead of the switch.", patch))
    if not controls_told(job.survey):
        return Undetermined((ROOT / "controls",))
    return Pass()


def _violation(alarm: Device, switch: Device, remedy: Remedy) -> Violation:
    return Violation(
        f"{name_of(alarm)} is fed through {name_of(switch)}; no switch but the circuit's breaker may be ahead of an alarm.",
        remedies=(remedy,),
        related=(switch.pointer,),
    )
