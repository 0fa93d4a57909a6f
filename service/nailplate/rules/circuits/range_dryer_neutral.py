"""A range, oven, cooktop or dryer that needs a neutral is on a circuit with one, and its frame is on the grounding conductor.

Why: with two hots and a ground alone, the appliance's motor and lights return their current over the grounding conductor or the frame,
and whoever touches it is in that circuit.

Fix: run a cable with two hots, a neutral and a ground (10-3 for a 30 A dryer, 8-3 or 6-3 for a range), and a four-wire receptacle.

Trap: the old three-wire hookup is for circuits that exist already, and for those only under conditions. A 240 V cooktop may need no
neutral at all: its nameplate says 240 V, not 120/240 V.

Does not judge: whether the bonding strap inside the appliance was removed, and the conditions of a circuit that exists already. A cable
too narrow for a circuit that is listed with a neutral is told by `cable-matches-circuit`.
"""

from nailplate.plan import Appliance, Cable, Circuit
from nailplate.plan.trade import COOKING, LINE_TO_NEUTRAL
from nailplate.plan.words import ApplianceKind, Fuel
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import (
    Judgement,
    NotConcerned,
    Outcome,
    Pass,
    Reading,
    Remedy,
    Undetermined,
    Violation,
    remove,
    state,
)
from nailplate.rules.circuits.cable_needs import TWO_HOTS_AND_NEUTRAL
from nailplate.survey.loads import circuit_id_of
from nailplate.survey.names import name_of
from nailplate.survey.wiring import is_power_cable
from nailplate.units import within

_DRYERS = frozenset({ApplianceKind.CLOTHES_DRYER, ApplianceKind.WASHER_DRYER})


@rule(
    id="range-dryer-neutral",
    over=Appliance,
    severity=Severity.DANGER,
    subjects=(Subject.APPLIANCE_CIRCUITS,),
    cites={
        "nec-2017": Cite(
            "250.140",
            seen=(2017,),
            note="https://forums.mikeholt.com/threads/250-140.96005; "
            "https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=3537.0",
        ),
        "nec-2020": Cite(
            "250.140",
            seen=(2020,),
            note="https://forums.mikeholt.com/threads/upgrading-dryer-and-range-240-volt-circuits.2572664",
        ),
        "nec-2023": Cite("250.140(A)", seen=(2023,), note="https://www.thebuildingcodeforum.com/forum/threads/38099"),
        "nec-2026": "250.140(A)",
    },
    hazards=(Hazard.SHOCK, Hazard.LOST_NEUTRAL),
    changes={"nec-2023": "New circuits and existing ones have paragraphs of their own."},
)
def range_dryer_neutral(appliance: Appliance, job: Job) -> Outcome:
    """Judges one electric range, oven, cooktop or dryer by its circuit's cables."""
    if appliance.kind not in COOKING | _DRYERS or appliance.is_(needs_neutral=False) or appliance.isnt(fuel=Fuel.NONE):
        return NotConcerned()
    if appliance.knows("volts") and within(appliance.volts, LINE_TO_NEUTRAL):
        return NotConcerned()
    circuit = job.plan.circuits[circuit_id_of(job.survey, appliance) or appliance.circuit]
    if circuit.knows("voltage") and within(circuit.voltage, LINE_TO_NEUTRAL):
        return NotConcerned()
    cables = [each for each in job.survey.cables_on_circuit.get(circuit.id, []) if is_power_cable(each)]
    narrow = [each for each in cables if each.knows("insulated") and each.insulated < TWO_HOTS_AND_NEUTRAL]
    if circuit.is_(neutral=True):
        return NotConcerned() if narrow else Pass()
    unsaid = tuple(each.where("insulated") for each in cables if not each.knows("insulated"))
    if narrow or circuit.is_(neutral=False):
        return _without(appliance, circuit, narrow)
    return Undetermined(unsaid or (circuit.where("neutral"),)) if unsaid or not cables else Pass()


def _without(appliance: Appliance, circuit: Circuit, narrow: list[Cable]) -> Outcome:
    where = f"{name_of(narrow[0])} has no neutral" if narrow else f"{name_of(circuit)} has no neutral"
    if not appliance.knows("needs_neutral"):
        said = f"{where}; most ranges and dryers are for 120/240 V and need one. Whether {name_of(appliance)} does is not said."
        return Undetermined((appliance.where("needs_neutral"),), said)
    said = f"{name_of(appliance)} needs a neutral for its 120 V parts, and {where}: its frame would carry their current."
    related = (circuit.pointer, *(each.pointer for each in narrow))
    marked = [
        each for each in narrow if each.knows("reidentified_white")
    ]  # of the old cable; the new one's white is the neutral
    patch = (
        *(state(each, "insulated", TWO_HOTS_AND_NEUTRAL) for each in narrow),
        *(remove(each.where("reidentified_white")) for each in marked),
        state(circuit, "neutral", value=True),
    )
    remedies = (Remedy("Run a cable with two hots, a neutral and a ground to a four-wire receptacle or connection.", patch),)
    if not circuit.knows("extension"):
        return Violation(said, remedies=remedies, related=related)
    readings = (
        Reading("It is a circuit that existed, and all conditions of 250.140 for its three wires are met.", "pass"),
        Reading("One of them is not, or the circuit is new.", "violation"),
    )
    return Judgement(said, readings, remedies=remedies, related=related)
