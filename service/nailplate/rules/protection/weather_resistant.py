"""Receptacles in damp and wet places are weather-resistant.

Why: an ordinary receptacle corrodes outdoors; its contacts and its shutters fail, and a GFCI in it may no longer trip.

Fix: use a receptacle that is listed weather-resistant, marked WR.

Trap: WR stands for nothing else. Such a receptacle needs its GFCI protection, its shutters in a dwelling and its cover all the same,
and under a porch roof it is needed too: out of the rain is damp, not dry.

Does not judge: locking receptacles, those over 20 A and those built into equipment; covers (`cover-wet`), GFCI protection
(`gfci-locations`) and boxes (`box-damp-wet`). A place is damp or wet where the plan says so of the receptacle, or of its room
or outdoor place.
"""

from nailplate.plan import Device, UnknownFact
from nailplate.plan.words import DeviceKind, Exposure
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.names import name_of
from nailplate.survey.outdoors import exposure_of
from nailplate.survey.protection import receptacle_amperes
from nailplate.units import within


@rule(
    id="weather-resistant",
    over=Device,
    severity=Severity.CODE,
    subjects=(Subject.WET_PLACES,),
    cites={
        "nec-2017": Cite(
            "406.9(A),(B)(1)",
            note="http://www.ecmweb.com/qa/code-qa-placing-receptacles-damp-or-wet-locations; "
            "https://www.ecmweb.com/whats-wrong-here/article/55285496/ (editions not named)",
        )
    },
    hazards=(Hazard.WATER, Hazard.SHOCK),
    changes={
        "nec-2017": "No change of this requirement in any of the four editions was found in print.",
    },
)
def weather_resistant(device: Device, job: Job) -> Outcome:
    """Judges one receptacle of 15 A or 20 A; no such receptacle of a dwelling has more than 250 V."""
    if device.kind is not DeviceKind.RECEPTACLE or device.knows("part_of") or device.is_(locking=True):
        return NotConcerned()
    try:
        exposure = exposure_of(job.survey, device)
    except UnknownFact as missing:
        return Pass() if _is_listed(device) else Undetermined((missing.pointer,))
    if exposure is Exposure.DRY:
        return NotConcerned()
    if not within(receptacle_amperes(job.survey, device), job.amperes("receptacle_types_up_to")):
        return NotConcerned()
    return Pass() if device.weather_resistant else _ordinary(device, exposure)


def _is_listed(device: Device) -> bool:
    return device.is_(weather_resistant=True)


def _ordinary(device: Device, exposure: Exposure) -> Violation:
    return Violation(
        f"Receptacle {name_of(device)} stands in a {exposure} place and is not weather-resistant; "
        "every 15 A and 20 A receptacle there is, unless it is a locking one.",
        remedies=(
            Remedy(
                "Use a receptacle that is listed weather-resistant (WR).", (state(device, "weather_resistant", value=True),)
            ),
        ),
    )
