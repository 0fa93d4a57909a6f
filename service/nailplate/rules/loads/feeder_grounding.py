"""A feeder or supply cord brings an equipment grounding conductor, apart from its neutral and large enough.

Why: without it the metal of a house behind a feeder becomes live at the first fault and stays so.

Fix: run four wires to a 120/240 V panel: two hots, a neutral, and a grounding conductor by the table for the breaker ahead.

Trap: three-wire cable to a second panel was once lawful with the neutral as ground, and old feeders to outbuildings still have it: where
such a feeder stands already, runs to a separate building and its neutral is bonded there, both readings are told.

Does not judge: whether the grounding conductor has grown with conductors that were made larger for voltage drop.

It is taken to be of the same metal as the feeder's other conductors.
"""

from nailplate.calc.grounding import grounding_conductor
from nailplate.calc.steps import CalculationError
from nailplate.plan import Panel, Supply
from nailplate.plan.words import NeutralBond, SupplyKind
from nailplate.rulekit import Cite, Hazard, Job, Judgement, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.rules.loads.old_feeders import THREE_WIRE_READINGS, may_be_old
from nailplate.survey.loads import panels_on
from nailplate.survey.names import name_of
from nailplate.units import Amperes, amperes, shown


@rule(
    id="feeder-grounding",
    over=Supply,
    severity=Severity.DANGER,
    subjects=(Subject.BONDING,),
    cites={
        "nec-2017": Cite(
            "250.32(B), 215.6, 250.122", seen=(2017,), note="https://brunsengineering.com/nec-table-250-122/ (table)"
        ),
        "nec-2020": "250.32(B), 215.6, 250.122",
        "nec-2023": Cite("250.32(B), 215.6, 250.122", seen=(2023,), note="a public copy of the 2023 code text (table)"),
        "nec-2026": "250.32(B), 215.6, 250.122",
    },
    hazards=(Hazard.SHOCK, Hazard.FIRE),
)
def feeder_grounding(supply: Supply, job: Job) -> Outcome:
    """Judges one feeder or cord."""
    if supply.kind not in (SupplyKind.FEEDER, SupplyKind.CORD_INLET):
        return NotConcerned()
    size = supply.conductors.grounding
    if size == "none" and may_be_old(supply) and any(_is_bonded(each) for each in panels_on(job.survey, supply)):
        return Judgement(
            f"{name_of(supply)} brings no equipment grounding conductor; the neutral is bonded at its end.", THREE_WIRE_READINGS
        )
    if size == "none":
        return Violation(
            f"{name_of(supply)} brings no equipment grounding conductor.",
            remedies=(Remedy("Run a cable or cord with a grounding conductor beside its neutral."),),
        )
    rating = supply.overcurrent if supply.knows("overcurrent") else supply.rating
    return _sized(supply, size, rating, job)


def _is_bonded(panel: Panel) -> bool:
    return panel.knows("neutral_bond") and panel.neutral_bond is NeutralBond.BONDED


def _sized(supply: Supply, size: str, rating: Amperes, job: Job) -> Outcome:
    material = supply.conductors.material
    try:
        needed = grounding_conductor(rating, job.edition, material=material, circuit_size=supply.conductors.size).size
    except CalculationError as error:
        return Undetermined((supply.conductors.where("grounding"),), f"{error}.")
    if not job.edition.conductors.larger(needed, size):
        return Pass()
    return Violation(
        f"The {size} grounding conductor of {name_of(supply)} is too small for a {shown(amperes(rating))} overcurrent device: {needed} "
        f"{material.value.replace('_', '-')} is the least.",
        remedies=(Remedy(f"Use {needed} or larger.", (state(supply.conductors, "grounding", needed),)),),
    )
