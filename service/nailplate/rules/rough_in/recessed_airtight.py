"""A recessed luminaire in an insulated ceiling is airtight and sealed to the ceiling.

Why: warm, moist air streams through it into the insulation, where it condenses, and the heat is lost.

Fix: install luminaires that are labeled airtight, with a gasket or caulk between housing and ceiling.

Trap: airtight and type IC are two labels. A sealed trim on a housing with holes is not airtight.

Does not judge: the seal between housing and drywall, which is for a look on site or a blower-door test; lights in ceilings with
no insulation; and the rest of the energy code.
"""

from nailplate.plan import Device
from nailplate.plan.words import Cavity, DeviceKind, LuminaireMount
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.rules.rough_in.ceiling_over_device import cavity_over
from nailplate.survey.names import name_of


@rule(
    id="recessed-airtight",
    over=Device,
    severity=Severity.CODE,
    subjects=(Subject.RECESSED,),
    cites={"irc-2018": Cite("N1102.4.5", note="profixdirectory.com/glossary/airtight-recessed-fixture; section from memory")},
    hazards=(Hazard.BURIED,),
)
def recessed_airtight(device: Device, job: Job) -> Outcome:
    """IRC N1102.4.5: a recessed luminaire under insulation."""
    if device.kind is not DeviceKind.LUMINAIRE or device.luminaire_mount is not LuminaireMount.RECESSED:
        return NotConcerned()
    if device.is_(airtight=True):
        return Pass()
    if cavity_over(device, job) is Cavity.NONE:
        return NotConcerned()
    if device.airtight:
        return Pass()
    return Violation(
        message=f"{name_of(device)} is recessed in an insulated ceiling and not airtight.",
        remedies=(
            Remedy(
                "Install a luminaire that is labeled airtight, sealed to the ceiling.", (state(device, "airtight", value=True),)
            ),
        ),
    )
