"""No dimmer controls a receptacle, unless it is listed for that.

Why: a dimmer starves a motor or an electronic supply that is plugged in later, and overheats itself or what it feeds.

Fix: control the receptacle by an ordinary switch, or use a dimmer listed to control receptacles.

Trap: from 2020 electronic timers and occupancy sensors need a listing for it too; their load must be connected permanently.

Does not judge: whether a dimmer suits the luminaires or fans that it controls, its rating where several share a box, and
plug-in dimmers. Switches that work the wrong outlet are judged by `switch-works`.
"""

from nailplate.plan import Control, Device
from nailplate.plan.words import DeviceKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.names import kind_words, name_of

_ALWAYS = frozenset({DeviceKind.DIMMER, DeviceKind.FAN_CONTROL})
_WITH_ELECTRONIC = _ALWAYS | {DeviceKind.TIMER, DeviceKind.SENSOR}


@rule(
    id="dimmer-on-receptacle",
    over=Control,
    severity=Severity.CODE,
    subjects=(Subject.SWITCHING,),
    cites={
        "nec-2017": Cite("404.14(E)"),
        "nec-2020": Cite(
            "404.14(E), (F)",
            seen=(2020,),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/"
            "NEC-Content.php?sectionID=907 (timers and sensors) and "
            "https://www.thebuildingcodeforum.com/forum/threads/35476",
        ),
    },
    hazards=(Hazard.OVERHEATING, Hazard.FIRE),
)
def dimmer_on_receptacle(control: Control, job: Job) -> Outcome:
    """404.14, for one control."""
    outlets = [job.plan.devices[each] for each in control.outlets]
    receptacles = [each for each in outlets if each.kind is DeviceKind.RECEPTACLE]
    if not receptacles:
        return NotConcerned()
    kinds = _WITH_ELECTRONIC if job.holds("electronic_controls_need_listing") else _ALWAYS
    dimming = [each for each in (job.plan.devices[switch] for switch in control.switches) if each.kind in kinds]
    unfit = [each for each in dimming if each.is_(suits_receptacles=False)]
    if unfit:
        return _violation(unfit[0], receptacles)
    unknown = tuple(each.where("suits_receptacles") for each in dimming if not each.knows("suits_receptacles"))
    if unknown:
        dimmer = next(each for each in dimming if not each.knows("suits_receptacles"))
        return Undetermined(unknown, f"{_over(dimmer, receptacles)}; whether it is listed for receptacles is not said.")
    return Pass()


def _violation(device: Device, receptacles: list[Device]) -> Violation:
    what = kind_words(device.kind)
    return Violation(
        f"{_over(device, receptacles)} and is not listed for receptacles.",
        remedies=(Remedy(f"Replace the {what} by an ordinary switch, or by one listed to control receptacles."),),
        related=(device.pointer, *(each.pointer for each in receptacles)),
    )


def _over(device: Device, receptacles: list[Device]) -> str:
    named = ", ".join(name_of(each) for each in receptacles[:3])
    return f"The {kind_words(device.kind)} {name_of(device)} controls the receptacle {named}"
