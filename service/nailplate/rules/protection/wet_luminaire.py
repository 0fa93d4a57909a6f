"""Luminaires and fans in damp and wet places are listed for them.

Why: water in a luminaire makes its metal live and corrodes its connections; in a fan it loosens the blades.

Fix: use a luminaire marked suitable for wet locations where rain reaches it, and one for damp or wet locations under a roof.

Trap: a porch ceiling is damp, and the wall beside it may be wet. A listing for damp places is not enough where sprinklers or wind-blown
rain reach; a weatherproof box behind the luminaire does not list the luminaire.

A place is damp or wet where the plan says so of the luminaire, or of its room or outdoor place.

Does not judge: Over tubs and showers another rule speaks.
"""

from typing import Final

from nailplate.plan import Device, UnknownFact
from nailplate.plan.trade import FROM_DRY_TO_WET
from nailplate.plan.words import DeviceKind, Exposure
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.names import name_of
from nailplate.survey.outdoors import exposure_of

_KINDS: Final = frozenset({DeviceKind.LUMINAIRE, DeviceKind.FAN})


@rule(
    id="wet-luminaire",
    over=Device,
    severity=Severity.CODE,
    subjects=(Subject.WET_PLACES,),
    cites={"nec-2017": Cite("410.10(A)", note="from memory; for fans the listing, 110.3(B)")},
    hazards=(Hazard.WATER, Hazard.SHOCK),
    changes={"nec-2017": "No change of this requirement is known here in any of the four editions (from memory)."},
)
def wet_luminaire(device: Device, job: Job) -> Outcome:
    """410.10(A), for one luminaire or paddle fan; track is not for such places at all, by a rule of its own."""
    if device.kind not in _KINDS or device.knows("part_of"):
        return NotConcerned()
    try:
        place = exposure_of(job.survey, device)
    except UnknownFact as missing:
        return Pass() if device.knows("location_rating") and _fits(device, Exposure.WET) else Undetermined((missing.pointer,))
    if place is Exposure.DRY:
        return NotConcerned()
    return Pass() if _fits(device, place) else _violation(device, place)


def _fits(device: Device, place: Exposure) -> bool:
    return FROM_DRY_TO_WET.index(device.location_rating) >= FROM_DRY_TO_WET.index(place)


def _violation(device: Device, place: Exposure) -> Violation:
    return Violation(
        f"The {device.kind} {name_of(device)} stands in a {place} place and is listed for {device.location_rating} places only.",
        remedies=(Remedy(f"Use one that is listed for {place} places.", (state(device, "location_rating", place.value),)),),
    )
