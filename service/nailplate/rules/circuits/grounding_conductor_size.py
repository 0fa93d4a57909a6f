"""The grounding conductor of each cable is large enough for the breaker.

Why: the grounding conductor has to carry enough current for the breaker to trip; one that is too small burns open and leaves metal
parts live.

Fix: use a cable with a larger grounding conductor, or a breaker that suits the one it has.

Trap: cable of a larger size, pulled to save voltage, has to have its grounding conductor enlarged in the same proportion; the one
inside a standard 6-3 cable suits a 60 A breaker, not an enlarged 40 A circuit. From 2020 a qualified person may size it otherwise.

Does not judge: the metal armor, sheath or raceway that is a grounding conductor itself; wires in parallel (250.122(F)).
"""

from collections.abc import Iterator
from dataclasses import replace

from nailplate.calc.grounding import Upsized, grounding_conductor
from nailplate.calc.overcurrent import largest_overcurrent
from nailplate.calc.steps import CalculationError
from nailplate.plan import Cable, Circuit, UnknownFact
from nailplate.plan.trade import METAL_AROUND
from nailplate.remedies.grounds import grounding_remedies
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, Outcome, Pass, Reading, Undetermined, Violation
from nailplate.survey.names import name_of
from nailplate.survey.wiring import (
    Wire,
    bearing,
    cables_carrying,
    carried,
    has_ampacity,
    material_of,
    open_facts,
    unadjusted,
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
    changes={"nec-2020": "Wire enlarged only because of heat or bundling no longer requires a larger grounding conductor."},
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
    return Violation(said, remedies=grounding_remedies(wire, found, least=wire.size), facet=cable.id, at=cable.pointer)


def _rating(circuit: Circuit) -> str:
    return shown(amperes(circuit.breaker.rating))


def _fits(wire: Wire, grounding: str) -> Outcome:
    area = wire.edition.conductors.area
    asked = [_needed(wire, least) for least in _least_sizes(wire)]
    enough = [reaches(area[grounding], area[each]) for each in asked]
    if all(enough):
        return Pass(facet=wire.facet)
    if any(enough):
        derated = wire.edition.grounding_increase.grows_for_derating
        beside = {fact for run in wire.runs for fact in run.open} if derated else set()  # how it lies counts in no way then
        needs = tuple(each for each in dict.fromkeys(open_facts(wire)) if each not in beside)[:MOST_NAMED]
        why = "larger than the breaker requires" if derated else "enlarged only because of heat or bundling"
        return Undetermined(needs, f"Whether its wire was {why} is not said.", facet=wire.facet, at=wire.at.pointer)
    found = _too_small(wire, grounding, wire.edition.conductors.rising(asked)[0])
    by_breaker = _by_table(wire)
    if wire.edition.holds("grounding_by_qualified_person") and reaches(area[grounding], area[by_breaker]):
        return _by_qualified(found, by_breaker)
    return found


def _by_table(wire: Wire) -> str:
    """The size that the breaker alone requires."""
    rating, material = wire.circuit.breaker.rating, material_of(wire)
    return grounding_conductor(rating, wire.edition, material=material, circuit_size=wire.size).size


def _by_qualified(found: Violation, by_breaker: str) -> Judgement:
    """250.122(B), exception: it is only the enlarging that requires more."""
    readings = (
        Reading(
            f"A qualified person sized it to trip the breaker; the table requires {by_breaker} for the breaker alone.", "pass"
        ),
        Reading("Nobody did, and it is enlarged in proportion.", "violation"),
    )
    return Judgement(found.message, readings, remedies=found.remedies, facet=found.facet, at=found.at, related=found.related)


def _needed(wire: Wire, least: str) -> str:
    upsized = Upsized(least, wire.size) if wire.edition.conductors.larger(wire.size, least) else None
    rating = wire.circuit.breaker.rating
    found = grounding_conductor(rating, wire.edition, material=material_of(wire), upsized=upsized, circuit_size=wire.size)
    return found.size


def _least_sizes(wire: Wire) -> tuple[str, ...]:
    """The smallest wire that would do, from which enlarging counts, at the best and the worst that the plan can mean."""
    return tuple(dict.fromkeys(_least_size(wire, worst=worst) for worst in (False, True)))


def _least_size(wire: Wire, *, worst: bool) -> str:
    """The first size that the breaker may guard, not over the size used: motors and taps have smaller wire by rules of their own."""
    sizes = wire.edition.conductors.area
    smaller = (size for size in sizes if not wire.edition.conductors.larger(size, wire.size))
    return next((size for size in smaller if _would_do(replace(wire, size=size), worst=worst)), wire.size)


def _would_do(wire: Wire, *, worst: bool) -> bool:
    if not has_ampacity(wire):
        return False
    rating = wire.circuit.breaker.rating
    if not wire.edition.grounding_increase.grows_for_derating:
        return bearing(wire, strict=worst, worst=worst).allows(rating)
    before = unadjusted(wire, worst=worst)  # before any correction or adjustment
    limit = largest_overcurrent(before, wire.size, material_of(wire), wire.edition, several_receptacles=False).rating
    return limit is not None and reaches(limit, rating)


def _too_small(wire: Wire, grounding: str, needed: str) -> Violation:
    enlarged = wire.edition.conductors.larger(needed, _by_table(wire))
    why = f", as its {wire.size} conductors are larger than the breaker requires" if enlarged else ""
    what = f"circuit {name_of(wire.circuit)}" if wire.cable is None else name_of(wire.cable)
    return Violation(
        f"The grounding conductor of {what} is {grounding}; a {_rating(wire.circuit)} breaker requires {needed}{why}.",
        remedies=grounding_remedies(wire, needed, _least_size(wire, worst=True)),
        facet=wire.facet,
        at=wire.at.pointer,
    )
