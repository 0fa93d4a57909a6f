"""The supply cord of a vehicle, park trailer or manufactured home has the length that its article requires.

Why: a cord that is too short is lengthened with whatever is at hand; one that is too long is coiled up and overheats.

Fix: order the cord by where it leaves the house: longer at the rear than at the side, and longer where it leaves higher than 3 ft.

Trap: the length is what can be used outside. A house on wheels that is a dwelling unit is fed otherwise.

Does not judge: what kind of cord it is, its plug and its ampacity (`manufactured-home-supply`, `park-trailer-load`,
`supply-fits-circuits`), and where it leaves (`inlet-place`). Houses on wheels that are dwelling units are left out.
"""

from typing import Final

from nailplate.plan import Supply, UnknownFact
from nailplate.plan.words import InletSide, Regime, SupplyKind
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.survey.names import name_of
from nailplate.units import Inches, inches, reaches, shown, within, written

LEAST: Final = {
    Regime.RECREATIONAL_VEHICLE: ("vehicle_cord_at_side", "vehicle_cord_at_rear"),
    Regime.PARK_TRAILER: ("park_trailer_cord_at_side", "park_trailer_cord_at_rear"),
    Regime.MANUFACTURED_HOME: ("manufactured_home_cord", "manufactured_home_cord"),
}
"""The figures for a cord that leaves at the side, and at the rear."""
MOST: Final = {Regime.PARK_TRAILER: "park_trailer_cord_longest", Regime.MANUFACTURED_HOME: "manufactured_home_cord_longest"}


@rule(
    id="cord-length",
    over=Supply,
    severity=Severity.CODE,
    subjects=(Subject.INLETS,),
    cites={
        "nec-2017": Cite(
            "551.46(B), 552.44(B), 550.10(D)",
            note="solar365.com/green-homes/national-electric-code-2008/park-trailers/page/0/5 (2008 text); "
            "www.busconversions.com/bbs/index.php?topic=8139.30",
        )
    },
    limits=(
        "vehicle_cord_at_side",
        "vehicle_cord_at_rear",
        "park_trailer_cord_at_side",
        "park_trailer_cord_at_rear",
        "park_trailer_cord_longest",
        "manufactured_home_cord",
        "manufactured_home_cord_longest",
    ),
    hazards=(Hazard.CORDS, Hazard.OVERHEATING),
)
def cord_length(supply: Supply, job: Job) -> Outcome:
    """The supply cord of a house on wheels, by its class."""
    regime = job.plan.basis.regime if job.plan.basis.knows("regime") else None
    if regime not in LEAST or supply.kind is not SupplyKind.CORD_INLET:
        return NotConcerned()
    least, most = _least(supply, regime, job), MOST.get(regime)
    found = inches(supply.cord_length)
    if not reaches(found.value, least):
        return _wrong(supply, least, "at least")
    if most is not None and not within(found.value, job.inches(most)):
        return _wrong(supply, job.inches(most), "at most")
    return Pass(found, inches(least))


def _least(supply: Supply, regime: Regime, job: Job) -> Inches:
    side, rear = LEAST[regime]
    if side == rear:
        return job.inches(side)
    length = job.inches(rear) if supply.inlet_side is InletSide.REAR else job.inches(side)
    return Inches(length + max(0.0, _height(supply) - job.inches("cord_height_for_no_more")))


def _height(supply: Supply) -> float:
    if not supply.knows("inlet"):
        raise UnknownFact(supply.where("inlet"))
    return supply.inlet.height


def _wrong(supply: Supply, limit: Inches, how: str) -> Violation:
    found = inches(supply.cord_length)
    return Violation(
        message=f"{name_of(supply)}: its cord is {shown(found)} long; {how} {shown(inches(limit))} is required.",
        measured=found,
        limit=inches(limit),
        remedies=(
            Remedy(f"Order a cord of {how} {shown(inches(limit))}.", (state(supply, "cord_length", written(inches(limit))),)),
        ),
    )
