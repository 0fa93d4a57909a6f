"""An appliance gets the volts of its nameplate, and a supply of 120 V feeds no 240 V load and no multiwire circuit.

Why: a 120 V appliance burns up on 240 V, and one of 240 V does not work on 120 V; and both halves of a multiwire circuit on one leg send the
sum of their currents through one neutral, which no breaker guards.

Fix: put a 240 V appliance on a two-pole breaker, a 120 V one on a single pole and a neutral; bring in 120/240 V, or use 120 V
appliances and two-wire circuits.

Trap: an adapter from a 50 A inlet to a 30 A pedestal ties both legs to one hot conductor; the panel then looks as if it had 240 V. A
portable or wall heater, a pump or a water heater of one model is sold for 120 V and for 240 V: read the plate.

Does not judge: voltages between 130 V and 200 V, which are left open, and equipment that does not state its volts. Receptacles
are judged by `receptacle-rating`, the circuit's own voltage by `circuit-voltage`, what is lost on the way by `voltage-drop`.

Every appliance is held against the circuit that feeds it, whether or not a supply is drawn. Up to 130 V counts as 120 V, from 200 V on as
240 V, and what is between is left open. A 120 V appliance may be on one leg of a 240 V circuit that has a neutral.
"""

from collections.abc import Iterator

from nailplate.plan import Appliance, Circuit, Part, Plan, Supply
from nailplate.plan.trade import LINE_TO_NEUTRAL, TWO_LEGS
from nailplate.plan.words import SupplyVoltage
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey import Survey
from nailplate.survey.loads import circuit_id_of, circuits_behind
from nailplate.survey.names import name_of
from nailplate.units import Volts, reaches, shown, volts, within


@rule(
    id="supply-voltage",
    over=Plan,
    severity=Severity.DANGER,
    subjects=(Subject.SUPPLY_LOAD,),
    cites={
        "nec-2017": Cite(
            "110.4, 710.15(C), 210.4, 551.42",
            seen=(2017,),
            note="https://thenecwiki.com/2021/02/article-710 (sources apart from the utility)",
        ),
        "nec-2020": "110.4, 710.15(C), 210.4, 551.42",
        "nec-2023": Cite("110.4, 710.15(C), 210.4, 551.42", seen=(2023,), note="https://mypdh.engineer/?p=5554"),
        "nec-2026": "110.4, 710.15(C), 210.4, 551.42",
    },
    hazards=(Hazard.LOST_NEUTRAL, Hazard.OVERHEATING, Hazard.FIRE),
)
def supply_voltage(plan: Plan, job: Job) -> Iterator[Outcome]:
    """Judges every supply and every appliance."""
    if not (plan.supplies or plan.appliances):
        yield NotConcerned()
    for supply in plan.supplies.values():
        yield from _of_supply(supply, job)
    for appliance in plan.appliances.values():
        yield _of_appliance(appliance, job)


# What a supply gives


def _of_supply(supply: Supply, job: Job) -> Iterator[Outcome]:
    if not supply.knows("voltage"):
        yield Undetermined((supply.where("voltage"),), facet=supply.id, at=supply.pointer)
    elif supply.voltage is not SupplyVoltage.V120:
        yield NotConcerned(supply.id)
    else:
        yield from list(_behind(supply, job)) or (Pass(facet=supply.id),)


def _behind(supply: Supply, job: Job) -> Iterator[Outcome]:
    for circuit in circuits_behind(job.survey, supply):
        if circuit.knows("multiwire"):
            yield _multiwire(supply, circuit)
        outcome = _of_circuit(supply, circuit, job)
        if outcome is not None:
            yield outcome


def _of_circuit(supply: Supply, circuit: Circuit, job: Job) -> Outcome | None:
    """One answer for a circuit and what hangs on it; what does not say its volts goes by its circuit."""
    if circuit.knows("voltage") and reaches(circuit.voltage, TWO_LEGS):
        return _too_high(supply, circuit, f"Circuit {name_of(circuit)}", circuit.voltage)
    for appliance in job.survey.appliances_on_circuit.get(circuit.id, []):
        if appliance.knows("volts") and reaches(appliance.volts, TWO_LEGS):
            return _too_high(supply, appliance, name_of(appliance), appliance.volts)
    return None if circuit.knows("voltage") else Undetermined((circuit.where("voltage"),), facet=circuit.id, at=supply.pointer)


def _too_high(supply: Supply, part: Part, name: str, nominal: Volts) -> Violation:
    message = f"{name} is for {shown(volts(nominal))}; {name_of(supply)} gives 120 V."
    words = "Bring in a 120/240 V supply, or use 120 V equipment."
    return Violation(
        message, volts(nominal), volts(120.0), (Remedy(words),), facet=part.id, at=supply.pointer, related=(part.pointer,)
    )


def _multiwire(supply: Supply, part: Circuit) -> Violation:
    return Violation(
        f"Circuit {name_of(part)} is half of a multiwire circuit; on {name_of(supply)}, 120 V, its neutral carries the sum of both halves.",
        remedies=(Remedy("Give each half a neutral of its own, or bring in a 120/240 V supply."),),
        facet=f"multiwire {part.id}",
        at=supply.pointer,
        related=(part.pointer,),
    )


# What an appliance gets


def _of_appliance(appliance: Appliance, job: Job) -> Outcome:
    """110.4 and 110.3(B). What does not say its volts, or its circuit's, is none of this rule's: the rules on its load ask."""
    facet, circuit_id = f"volts {appliance.id}", circuit_id_of(job.survey, appliance)
    circuit = job.plan.circuits[circuit_id] if circuit_id else None
    if circuit is None or not circuit.knows("voltage") or not appliance.knows("volts"):
        return NotConcerned(facet)
    if reaches(appliance.volts, TWO_LEGS) and within(circuit.voltage, LINE_TO_NEUTRAL):
        if circuit.id in job.survey.once(_on_one_hot):
            return NotConcerned(facet)  # told of the supply
        words = "Feed it from a 240 V circuit with a two-pole breaker, or use a model for 120 V."
        return _wrong_volts(appliance, circuit, ": it does not work there", words, facet)
    if within(appliance.volts, LINE_TO_NEUTRAL) and reaches(circuit.voltage, TWO_LEGS):
        return _on_one_leg(appliance, circuit, facet)
    return Pass(volts(appliance.volts), volts(circuit.voltage), facet)


def _on_one_hot(survey: Survey) -> frozenset[str]:
    """The circuits behind supplies of 120 V."""
    supplies = (each for each in survey.plan.supplies.values() if each.is_(voltage=SupplyVoltage.V120))
    return frozenset(circuit.id for supply in supplies for circuit in circuits_behind(survey, supply))


def _on_one_leg(appliance: Appliance, circuit: Circuit, facet: str) -> Outcome:
    if not circuit.knows("neutral"):
        return Undetermined((circuit.where("neutral"),), facet=facet, at=appliance.pointer)
    if circuit.neutral:
        return Pass(facet=facet)
    words = "Feed it from a 120 V circuit, one hot and a neutral, or use a model for 240 V."
    return _wrong_volts(appliance, circuit, ", which has no neutral: it gets twice its volts", words, facet)


def _wrong_volts(appliance: Appliance, circuit: Circuit, what: str, words: str, facet: str) -> Violation:
    plate, nominal = volts(appliance.volts), volts(circuit.voltage)
    return Violation(
        f"{name_of(appliance)} is for {shown(plate)} by its nameplate and is on circuit {name_of(circuit)} of {shown(nominal)}{what}.",
        plate,
        nominal,
        (Remedy(words),),
        facet=facet,
        at=appliance.pointer,
        related=(circuit.pointer,),
    )
