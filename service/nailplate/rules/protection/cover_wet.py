"""Receptacles in damp and wet places have the cover that the place requires.

Why: rain that reaches the contacts puts a person who plugs in across a wet fault, and a plug left in holds an ordinary cover open.

Fix: in a damp place use a cover that is weatherproof when nothing is plugged in; in a wet place one that is weatherproof
with a plug in as well, and if it is an outlet box hood, one marked extra-duty.

Trap: a flip lid protects only while nothing is plugged in; string lights or a pump left plugged in need the in-use kind. A deep hood
is not enough by its shape: it is marked extra-duty, or it is a listed enclosure of another make that needs no such mark.

Does not judge: the box behind it (`box-damp-wet`), the receptacle itself (`weather-resistant`), GFCI protection
(`gfci-locations`) and covers of switches. A place is damp or wet where the plan says so of the receptacle, or of its room or
outdoor place.
"""

from nailplate.plan import Device, UnknownFact
from nailplate.plan.words import Cover, DeviceKind, Exposure
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation, state
from nailplate.survey.names import name_of
from nailplate.survey.outdoors import exposure_of
from nailplate.survey.protection import receptacle_amperes
from nailplate.units import within

_FIT_FOR_RAIN = frozenset({Cover.EXTRA_DUTY_IN_USE, Cover.IN_USE_ENCLOSURE})
_WORDS = {
    Cover.NONE: "no cover",
    Cover.WEATHERPROOF: "a cover that is weatherproof only while nothing is plugged in",
    Cover.IN_USE: "an in-use hood that is not marked extra-duty",
}


@rule(
    id="cover-wet",
    over=Device,
    severity=Severity.CODE,
    subjects=(Subject.WET_PLACES,),
    cites={
        "nec-2017": Cite(
            "406.9(A),(B)",
            note="http://www.ecmweb.com/qa/code-qa-placing-receptacles-damp-or-wet-locations; "
            "https://www.ecmweb.com/whats-wrong-here/article/55285496/ (editions not named)",
        )
    },
    hazards=(Hazard.WATER, Hazard.SHOCK),
    changes={
        "nec-2017": "An in-use enclosure that is listed and is no outlet box hood needs no extra-duty mark; a hood does, in every "
        "edition since.",
    },
)
def cover_wet(device: Device, job: Job) -> Outcome:
    """Judges one receptacle."""
    if device.kind is not DeviceKind.RECEPTACLE or device.knows("part_of"):
        return NotConcerned()
    try:
        exposure = exposure_of(job.survey, device)
    except UnknownFact as missing:
        return Pass() if device.is_among(cover=_FIT_FOR_RAIN) else Undetermined((missing.pointer,))
    if exposure is Exposure.DRY:
        return NotConcerned()
    if device.cover in _FIT_FOR_RAIN:
        return Pass()
    return _in_damp(device) if exposure is Exposure.DAMP else _in_wet(device, job)


def _in_damp(device: Device) -> Outcome:
    if device.cover is not Cover.NONE:
        return Pass()
    message = f"Receptacle {name_of(device)} stands in a damp place and has no cover that is weatherproof while nothing is plugged in."
    words = "Install a cover that is weatherproof when closed."
    return Violation(message, remedies=(Remedy(words, (state(device, "cover", Cover.WEATHERPROOF.value),)),))


def _in_wet(device: Device, job: Job) -> Outcome:
    amperes = receptacle_amperes(job.survey, device)
    ordinary = within(amperes, job.amperes("receptacle_types_up_to"))
    if not ordinary and device.cover is Cover.IN_USE:
        return Pass()
    message = f"Receptacle {name_of(device)} stands in a wet place and has {_WORDS[device.cover]}."
    words = "Install an in-use cover: an outlet box hood marked extra-duty, or a listed in-use enclosure."
    remedies = (Remedy(words, (state(device, "cover", Cover.EXTRA_DUTY_IN_USE.value),)),)
    if not ordinary and device.cover is Cover.WEATHERPROOF:
        readings = (
            Reading("What is plugged in here is attended while in use, as a tool is: closed when unplugged is enough.", "pass"),
            Reading("What is plugged in here is left alone: it must stay weatherproof with the plug in.", "violation"),
        )
        return Judgement(message, readings, remedies=remedies)
    return Violation(message, remedies=remedies)
