"""The grounding conductor of each cable is large enough for the breaker.

Why: the grounding conductor has to carry enough current for the breaker to trip; one that is too small burns open and leaves metal
parts live.

Fix: use a cable with a larger grounding conductor, or a breaker that suits the one it has.

Trap: cable of a larger size, pulled to save voltage, has to have its grounding conductor enlarged in the same proportion; the one
inside a standard 6-3 cable suits a 60 A breaker, not an enlarged 40 A circuit.
"""

from collections.abc import Iterator

from nailplate.calc.ampacity import ConductorUse, ampacity
from nailplate.calc.grounding import Upsized, grounding_conductor
from nailplate.calc.overcurrent import max_overcurrent
from nailplate.calc.steps import CalculationError
from nailplate.plan import Cable, Circuit, UnknownFact
from nailplate.plan.trade import METAL_AROUND
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    Judgement,
    Outcome,
    Pass,
    Reading,
    Remedy,
    Severity,
    Subject,
    Undetermined,
    Violation,
    rule,
    state,
)
from nailplate.survey.names import name_of
from nailplate.survey.wiring import (
    Wire,
    bearing,
    cables_carrying,
    carried,
    column_of,
    has_ampacity,
    material_of,
    method_of,
    open_facts,
)
from nailplate.units import amperes, reaches, shown

NONE = "none"
MOST_NAMED = 5
BY_METAL = (
    Reading("Its armor, sheath or metal tube is the grounding conductor.", "pass"),
    Reading("It is of a kind that may not serve as one, or of plastic, and needs a wire of its own.", "violation"),
)


@rule(
    id="grounding-conductor-size",
    over=Circuit,
    severity=Severity.DANGER,
    subjects=(Subject.GROUNDING_CONDUCTORS,),
    cites={
        "nec-2017": Cite(
            "250.122",
            seen=(2017, 2023),
            note="https://brunsengineering.com/nec-table-250-122/; enlarging in 2017: "
            "https://www.mikeholt.com/newsletters.php?action=display&letterID=2080; 2023: a public copy of the code text",
        )
    },
    needs=("breaker.rating",),
    hazards=(Hazard.SHOCK, Hazard.FIRE),
    changes={"nec-2020": "Wire enlarged only because of heat or bundling no longer asks for a larger grounding conductor."},
)
def grounding_conductor_size(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """One outcome for each cable of the circuit, or for its wire as a whole while no cable is drawn."""
    cables = cables_carrying(job.survey, circuit.id)
    if not cables:
        yield _by_circuit(circuit, job)
    for cable in (each for each in cables if carried(job.survey, each).known[0] == circuit.id):  # a multiwire cable once
        try:
            yield _judged(cable, circuit, job)
        except UnknownFact as unknown:
            yield Undetermined((unknown.pointer,), facet=cable.id, at=cable.pointer)
        except CalculationError as reason:
            yield Undetermined((), f"Not worked out: {reason}.", facet=cable.id, at=cable.pointer)


def _by_circuit(circuit: Circuit, job: Job) -> Outcome:
    if circuit.knows("conductor") and circuit.conductor.knows("size", "grounding") and circuit.conductor.grounding != NONE:
        wire = Wire(circuit, None, circuit.conductor.size, circuit, job.survey, job.edition)
        try:
            return _fits(wire, circuit.conductor.grounding)
        except CalculationError as reason:
            return Undetermined((), f"Not worked out: {reason}.")
    return Undetermined((job.plan.where("cables"),))


def _judged(cable: Cable, circuit: Circuit, job: Job) -> Outcome:
    wire = Wire(circuit, cable, cable.size, cable, job.survey, job.edition)
    if cable.grounding != NONE:
        return _fits(wire, cable.grounding)
    if cable.type in METAL_AROUND:
        said = f"{name_of(cable)} has no grounding wire."
        return Judgement(said, BY_METAL, facet=cable.id, at=cable.pointer)
    found = _needed(wire, least=wire.size)
    said = f"{name_of(cable)} has no grounding conductor; a {_rating(circuit)} circuit needs {found}."
    return Violation(said, remedies=_remedies(wire, found), facet=cable.id, at=cable.pointer)


def _rating(circuit: Circuit) -> str:
    return shown(amperes(circuit.breaker.rating))


def _fits(wire: Wire, grounding: str) -> Outcome:
    area = wire.edition.conductors.area
    asked = [_needed(wire, least) for least in _least_sizes(wire)]
    enough = [reaches(area[grounding], area[each]) for each in asked]
    if all(enough):
        return Pass(facet=wire.facet)
    if any(enough):
        needs = tuple(dict.fromkeys(open_facts(wire)))[:MOST_NAMED]
        said = "Whether its wire was enlarged only because of heat or bundling is not said."
        return Undetermined(needs, said, facet=wire.facet, at=wire.at.pointer)
    return _too_small(wire, grounding, wire.edition.conductors.rising(asked)[0])


def _needed(wire: Wire, least: str) -> str:
    upsized = Upsized(least, wire.size) if wire.edition.conductors.larger(wire.size, least) else None
    rating = wire.circuit.breaker.rating
    found = grounding_conductor(rating, wire.edition, material=material_of(wire), upsized=upsized, circuit_size=wire.size)
    return found.size


def _least_sizes(wire: Wire) -> tuple[str, ...]:
    """The smallest wire that would do, from which enlarging counts; where derating counts, at the most and the least of it."""
    if wire.edition.grounding_increase.grows_for_derating:
        return (_least_size(wire, derated=None),)
    return tuple(dict.fromkeys(_least_size(wire, derated=worst) for worst in (False, True)))


def _least_size(wire: Wire, derated: bool | None) -> str:
    """The first size that the breaker may guard, not over the size used: motors and taps have smaller wire by rules of their own."""
    sizes = wire.edition.conductors.area
    smaller = (size for size in sizes if not wire.edition.conductors.larger(size, wire.size))
    return next((size for size in smaller if _would_do(wire, size, derated)), wire.size)


def _would_do(wire: Wire, size: str, derated: bool | None) -> bool:
    other = Wire(wire.circuit, wire.cable, size, wire.at, wire.survey, wire.edition)
    if not has_ampacity(other):
        return False
    if derated is None:
        return _would_do_in_free_run(other)
    return bearing(other, strict=derated, worst=derated).allows(wire.circuit.breaker.rating)


def _would_do_in_free_run(wire: Wire) -> bool:
    """Before any correction or adjustment."""
    material, terminations = material_of(wire), column_of(wire.circuit, "terminations")
    use = ConductorUse(size=wire.size, material=material, method=method_of(wire), terminations=terminations)
    limit = max_overcurrent(ampacity(use, wire.edition).ampacity, wire.size, material, wire.edition).next_size_up.rating
    return limit is not None and reaches(limit, wire.circuit.breaker.rating)


def _too_small(wire: Wire, grounding: str, needed: str) -> Violation:
    base = grounding_conductor(wire.circuit.breaker.rating, wire.edition, material=material_of(wire)).by_table
    enlarged = wire.edition.conductors.larger(needed, base)
    why = f", as its {wire.size} conductors are larger than the breaker asks for" if enlarged else ""
    what = f"circuit {name_of(wire.circuit)}" if wire.cable is None else name_of(wire.cable)
    return Violation(
        f"The grounding conductor of {what} is {grounding}; a {_rating(wire.circuit)} breaker asks for {needed}{why}.",
        remedies=_remedies(wire, needed),
        facet=wire.facet,
        at=wire.at.pointer,
    )


def _remedies(wire: Wire, needed: str) -> tuple[Remedy, ...]:
    words = f"Use a cable with a {needed} grounding conductor."
    if wire.cable is not None:
        return (Remedy(words, (state(wire.cable, "grounding", needed),)),)
    return (Remedy(words, (state(wire.circuit.conductor, "grounding", needed),)),)
