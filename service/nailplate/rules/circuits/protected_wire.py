"""A circuit's wire against its breaker, as the rules on breakers and on bundles both ask: by the tables, or by a machine's nameplate."""

from collections.abc import Iterator

from nailplate.codes import Edition
from nailplate.plan import Cable, Circuit, UnknownFact
from nailplate.rulekit import Job, Judgement, NotConcerned, Outcome, Pass, Undetermined, Violation
from nailplate.rules.circuits.machine_protection import (
    by_nameplate,
    goes_by_nameplate,
    machine_on,
    no_ampacity,
    unless_a_machine,
)
from nailplate.rules.circuits.wire_told import shown_limit, too_large, two_ways
from nailplate.survey import Survey
from nailplate.survey.wiring import MOST_NAMED, Bearing, Wire, bearing, has_ampacity, is_power_cable, open_facts
from nailplate.units import amperes, shown


def wire_outcomes(survey: Survey, circuit_id: str, edition: Edition) -> tuple[Outcome, ...]:
    """The answers as far as the plan says how the cables run."""
    job = Job(survey.plan, survey, edition)
    circuit = survey.plan.circuits[circuit_id]
    cables, machine = cables_of(circuit, survey), machine_on(circuit, job)
    if machine is not None and goes_by_nameplate(machine):
        return (by_nameplate(circuit, machine, cables, job),)
    return tuple(unless_a_machine(each, machine) for each in _by_table(circuit, cables, job))


def cables_of(circuit: Circuit, survey: Survey) -> list[Cable]:
    """The power cables that carry a circuit."""
    return [cable for cable in survey.cables_on_circuit.get(circuit.id, []) if is_power_cable(cable)]


def _by_table(circuit: Circuit, cables: list[Cable], job: Job) -> Iterator[Outcome]:
    stated = circuit.conductor.size if circuit.knows("conductor") and circuit.conductor.knows("size") else None
    if stated or not cables:
        own = [cable for cable in cables if cable.knows("size") and cable.size == stated]
        size = stated or circuit.conductor.size
        yield min(
            (_judged(Wire(circuit, cable, size, circuit, job.survey, job.edition)) for cable in own or (None,)), key=_rank
        )
    for cable in cables:
        if not cable.knows("size"):
            yield Undetermined((cable.where("size"),), facet=cable.id, at=cable.pointer)
        elif cable.size != stated:
            yield _judged(Wire(circuit, cable, cable.size, cable, job.survey, job.edition))


def _rank(outcome: Outcome) -> tuple[int, float]:
    """Where cables of one size fare differently, the worst is told."""
    order = (Violation, Undetermined, Judgement, Pass, NotConcerned)
    limit = None if isinstance(outcome, Undetermined | NotConcerned) else outcome.limit
    return order.index(type(outcome)), limit.value if limit else 0.0


def _judged(wire: Wire) -> Outcome:
    if not has_ampacity(wire):
        return no_ampacity(wire)
    try:
        strict, lenient = (
            (bearing(wire, strict=strict, worst=False), bearing(wire, strict=strict, worst=True)) for strict in (True, False)
        )
    except UnknownFact as unknown:
        return Undetermined((unknown.pointer,), facet=wire.facet, at=wire.at.pointer)
    rating = wire.circuit.breaker.rating
    fits = [[each.allows(rating) for each in pair] for pair in (strict, lenient)]
    if all(fits[0] + fits[1]):
        return Pass(amperes(rating), shown_limit(strict[1]), facet=wire.facet)
    if not any(fits[0] + fits[1]):
        return too_large(wire, strict)
    if any(one != other for one, other in fits):
        needs = tuple(dict.fromkeys(open_facts(wire)))
        return Undetermined(needs[:MOST_NAMED], _between(strict), facet=wire.facet, at=wire.at.pointer)
    return two_ways(wire, strict[1], lenient[1])


def _between(pair: tuple[Bearing, Bearing]) -> str:
    best, worst = (shown(amperes(each.ampacity)) for each in pair)
    if best == worst:
        return f"The wire's ampacity is {best}; whether its breaker may be the next size up is not said (240.4(B))."
    return f"By what is not said, the wire's ampacity is {worst} to {best}."
