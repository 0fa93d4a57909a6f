"""A recessed luminaire in insulation is rated for contact with it, or keeps its distances.

Why: insulation holds in the heat of a luminaire that is made to lose it, and wood beside it chars over the years.

Fix: install type IC luminaires wherever there is insulation; others need 3 in to it and 1/2 in to wood on every side.

Trap: the 3 in are around the wiring box and driver too. Type IC does not say that spray foam may touch it: ask the luminaire's sheet. A thin
luminaire's driver box must be reached through its hole.

Does not judge: how the luminaire is wired, its lamp and its wattage, and fire-rated ceilings, for which its listing and
instructions count. Airtightness is judged by `recessed-airtight`, wet places by `wet-luminaire`, the box by `luminaire-box`.
"""

from nailplate.plan import Device
from nailplate.plan.words import Cavity, DeviceKind, LuminaireMount
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.rules.rough_in.ceiling_over_device import cavity_over
from nailplate.survey.names import name_of
from nailplate.units import inches, reaches, shown


@rule(
    id="recessed-luminaire",
    over=Device,
    severity=Severity.DANGER,
    subjects=(Subject.RECESSED,),
    cites={
        "nec-2017": Cite("410.116", note="forums.mikeholt.com/threads/insulation-above-non-ic-recess-fixtures.114099"),
    },
    hazards=(Hazard.FIRE, Hazard.OVERHEATING),
    changes={"nec-2026": "The construction requirements of Part XI are deleted; the listing of the luminaire covers them."},
)
def recessed_luminaire(device: Device, job: Job) -> Outcome:
    """410.116: a recessed luminaire, by what is over the ceiling around it."""
    if device.kind is not DeviceKind.LUMINAIRE or device.luminaire_mount is not LuminaireMount.RECESSED:
        return NotConcerned()
    if device.insulation_contact:
        return Pass()
    if cavity_over(device, job) is not Cavity.NONE and not reaches(
        device.insulation_distance, job.inches("luminaire_to_insulation")
    ):
        return _too_near(device, "insulation", device.insulation_distance, job.inches("luminaire_to_insulation"))
    if not reaches(device.combustible_distance, job.inches("luminaire_to_combustibles")):
        return _too_near(device, "wood", device.combustible_distance, job.inches("luminaire_to_combustibles"))
    return Pass(inches(device.combustible_distance), job.measure("luminaire_to_combustibles"))


def _too_near(device: Device, what: str, found: float, limit: float) -> Violation:
    return Violation(
        message=f"{name_of(device)} is not type IC and comes within {shown(inches(found))} of {what}; {shown(inches(limit))} is required.",
        measured=inches(found),
        limit=inches(limit),
        remedies=(Remedy("Install a type IC luminaire.", (state(device, "insulation_contact", value=True),)),),
    )
