"""A recreational vehicle's supply cord leaves at the rear or on the left side, within 15 ft of the rear.

Why: the pedestal of a site stands there; a cord that has to go around the vehicle is driven over and tripped on.

Fix: put the inlet on the left (road) side, within 15 ft of the rear, or at the rear left of the center.

Trap: left is the driver's left as it travels. Park trailers and houses that are dwellings have no such rule.

Does not judge: park trailers, manufactured homes and dwellings, how high the inlet is, its cover and listing, and inlets for a
second supply such as a generator. The cord's length is judged by `cord-length`.
"""

from nailplate.plan import Supply
from nailplate.plan.words import InletSide, Regime, SupplyKind
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule
from nailplate.survey.names import name_of
from nailplate.units import inches, shown, within


@rule(
    id="inlet-place",
    over=Supply,
    severity=Severity.CODE,
    subjects=(Subject.INLETS,),
    cites={"nec-2017": Cite("551.46(E)", note="codebookcity.com/codearticles/nec/necarticle551-1.htm")},
    hazards=(Hazard.TRIP, Hazard.CORDS),
)
def inlet_place(supply: Supply, job: Job) -> Outcome:
    """551.46(E): the cord inlet of a recreational vehicle."""
    vehicle = job.plan.basis.is_(regime=Regime.RECREATIONAL_VEHICLE)
    if not vehicle or supply.kind is not SupplyKind.CORD_INLET:
        return NotConcerned()
    if supply.inlet_side is InletSide.REAR:
        return Pass()
    if supply.inlet_side is not InletSide.LEFT:
        return Violation(
            message=f"{name_of(supply)}: its inlet is on the {supply.inlet_side.value}; it has to be on the left, or at the rear.",
            remedies=(Remedy("Move the inlet to the left side, within 15 ft of the rear."),),
        )
    found, limit = inches(supply.inlet_from_rear), job.measure("inlet_from_rear")
    if within(found.value, limit.value):
        return Pass(found, limit)
    return Violation(
        message=f"{name_of(supply)}: its inlet is {shown(found)} from the rear; {shown(limit)} is the most.",
        measured=found,
        limit=limit,
        remedies=(Remedy(f"Move the inlet to within {shown(limit)} of the rear."),),
    )
