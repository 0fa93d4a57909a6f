"""How cables run together is stated, wherever a bundle could take too much of their ampacity.

Why: cables that lie together, in a sealed hole or in foam above all, heat each other, and a breaker that suits one cable alone is too large
for it in a bundle; after cover-up nobody sees it.

Fix: draw the routes of the cables in space, or state for each stretch the bundle that it is in, or none.

Trap: a cable that is alone in its holes, or beside one other, loses nothing.

Does not judge: what a stated bundle does to a breaker, which `conductor-protection` judges, and to a load, which `bundled-in-insulation` does.
"""

from nailplate.codes import Edition
from nailplate.plan import Plan, Pointer, UnknownFact
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Severity, Subject, Undetermined, Violation, rule
from nailplate.rules.circuits.bundling import ANY_NUMBER, beside_at_most, open_bundles, states_routes
from nailplate.rules.circuits.machine_protection import goes_by_nameplate, machine_on
from nailplate.rules.circuits.protected_wire import cables_of, wire_outcomes
from nailplate.survey import Survey
from nailplate.survey.names import name_of
from nailplate.survey.wiring import MOST_NAMED, Wire, bearing, has_ampacity
from nailplate.units import reaches

_LESS = "conductors that are bundled have less ampacity (310.15(C)(1), 334.80)"


@rule(
    id="bundles-stated",
    over=Plan,
    severity=Severity.CODE,
    subjects=(Subject.BUNDLES,),
    cites={
        "nec-2017": Cite("310.15(B)(3)(a), 334.80", seen=(2017,), note="https://thebuildingcodeforum.com (334.80)"),
        "nec-2020": "310.15(C)(1), 334.80",
    },
    hazards=(Hazard.OVERHEATING, Hazard.BURIED),
)
def bundles_stated(plan: Plan, job: Job) -> Outcome:
    """One answer for the whole plan: which stretches leave it open, as far as it matters to a circuit's breaker."""
    if not plan.circuits:
        return NotConcerned()
    found = {each: job.survey.once(_open_bundles, each, job.edition) for each in plan.circuits}
    asking = [plan.circuits[each] for each, needs in found.items() if needs]
    if not asking:
        return Pass()
    names = ", ".join(name_of(each) for each in asking[:MOST_NAMED])
    more = f" and {len(asking) - MOST_NAMED} more circuits" if len(asking) > MOST_NAMED else ""
    if not states_routes(job.survey):
        said = f"How no cable of the plan runs is stated, and {_LESS}; state routes and what is bundled. It matters to {names}{more}."
        return Undetermined((plan.where("cables"),), said)
    needs = tuple(dict.fromkeys(need for each in found.values() for need in each))
    said = f"How the cables of {names}{more} run together is not stated everywhere, and {_LESS}."
    return Undetermined(needs[:MOST_NAMED], said)


def _open_bundles(survey: Survey, circuit_id: str, edition: Edition) -> tuple[Pointer, ...]:
    """Where it is left out how a circuit's cables lie, as far as the worst bundle would be too much for its breaker."""
    circuit = survey.plan.circuits[circuit_id]
    try:
        found = survey.once(wire_outcomes, circuit_id, edition) if circuit.breaker.rating else ()
    except UnknownFact:  # unknown: what is missing is asked for by conductor-protection
        return ()
    settled = any(isinstance(each, Violation) for each in found) or all(isinstance(each, NotConcerned) for each in found)
    if settled:  # bundling makes a wrong breaker no better
        return ()
    cables = cables_of(circuit, survey)
    if not cables:
        wire = Wire(circuit, None, circuit.conductor.size, circuit, survey, edition)
        return () if _suits_any_bundle(wire, ANY_NUMBER) else (survey.plan.where("cables"),)
    wires = (
        Wire(circuit, each, each.size, each, survey, edition) for each in cables if each.knows("size") and open_bundles(each)
    )
    feared = (wire.cable for wire in wires if wire.cable and not _suits_any_bundle(wire, beside_at_most(survey, wire.cable)))
    return tuple(pointer for cable in feared for pointer in open_bundles(cable))


def _suits_any_bundle(wire: Wire, beside: int) -> bool:
    """Whether its breaker, or what the machine's nameplate asks for, is not too much for it with so many more conductors beside it."""
    if not has_ampacity(wire) or not beside:
        return True
    machine = machine_on(wire.circuit, Job(wire.survey.plan, wire.survey, wire.edition))
    try:
        borne = bearing(wire, strict=True, worst=True, beside=beside)
    except UnknownFact:  # unknown: it may be too much, so how it lies is asked for
        return False
    if machine is not None and goes_by_nameplate(machine):
        return reaches(borne.ampacity, machine.minimum_circuit)
    return borne.allows(wire.circuit.breaker.rating)
