"""A breaker is no larger than its smallest wire can bear.

Why: a wire that may carry more than its insulation stands overheats inside the wall, and the breaker never trips.

Fix: use a smaller breaker, or larger wire all the way from the panel to the last outlet.

Trap: 14, 12 and 10 AWG copper stay at 15, 20 and 30 A whatever the tables give them. The next standard breaker up is open only where
the wire's ampacity is no standard rating, and never to a circuit of several receptacles. Three or more cables without spacing in a
sealed hole or in foam lose ampacity. Taps (240.4(E), 240.21) are out of this rule's scope: a tap to a cooking unit is put as a question
to the authority having jurisdiction, any other thinner wire is judged as a part of its circuit. Motors and listed cooling equipment go
by their nameplates (240.4(G)). What the circuit's loads ask of its wire, continuous ones above all, is ``continuous-load``'s to say.
"""

from collections.abc import Iterator

from nailplate.codes import Edition
from nailplate.plan import Cable, Circuit, PanelEnd, Pointer, UnknownFact
from nailplate.plan.trade import COOKING
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    Judgement,
    NotConcerned,
    Outcome,
    Pass,
    Reading,
    Severity,
    Subject,
    Undetermined,
    Violation,
    rule,
)
from nailplate.rules.circuits.breaker_remedies import larger_size, larger_wire, smaller_breaker
from nailplate.rules.circuits.bundling import ANY_NUMBER, beside_at_most, open_bundles, states_routes
from nailplate.rules.circuits.machine_protection import (
    by_nameplate,
    goes_by_nameplate,
    machine_on,
    no_ampacity,
    unless_a_machine,
)
from nailplate.survey import Survey
from nailplate.survey.names import name_of
from nailplate.survey.wiring import (
    MOST_NAMED,
    Bearing,
    Wire,
    bearing,
    has_ampacity,
    is_bundled_by_closeness,
    is_power_cable,
    lying_with,
    most_crowded,
    open_facts,
)
from nailplate.units import Measure, amperes, reaches, shown, within

NOT_ADJUSTED = 3
"""Current-carrying conductors that may lie together without an adjustment."""
TAP_AMPACITY = 20.0
TAPPED_CIRCUIT = 50.0
"""210.19: what cooking units are tapped from, and the least that a tap to one of them bears (from memory)."""


@rule(
    id="conductor-protection",
    over=Circuit,
    severity=Severity.DANGER,
    subjects=(Subject.BREAKERS_AND_WIRE,),
    cites={
        "nec-2017": Cite(
            "240.4", seen=(2017, 2020, 2023), note="public copies of code text and trade press on 240.4(B) and (D)"
        )
    },
    needs=("breaker.rating",),
    hazards=(Hazard.OVERHEATING, Hazard.FIRE),
)
def conductor_protection(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """240.4(B), (D) and (G), 310.16, 334.80. One outcome for the circuit's own wire, one for each cable of another size."""
    yield from job.survey.once(_by_itself, circuit.id, job.edition)
    if states_routes(job.survey):
        open_facts = job.survey.once(_open_bundles, circuit.id, job.edition)
        if open_facts:
            said = f"How its cables run together is not said, and {_LESS}."
            yield Undetermined(open_facts[:MOST_NAMED], said, facet="bundle")
    elif job.survey.once(_first_asking, job.edition) == circuit.id:
        every = job.plan.where("cables")
        said = f"Of no cable of the plan is it said how it runs, and {_LESS}; state routes and what is bundled."
        yield Undetermined((every,), said, facet="bundle", at=every)


def _by_itself(survey: Survey, circuit_id: str, edition: Edition) -> tuple[Outcome, ...]:
    """The answers as far as the plan says how the cables run."""
    job = Job(survey.plan, survey, edition)
    circuit = survey.plan.circuits[circuit_id]
    cables, machine = _cables_of(circuit, survey), machine_on(circuit, job)
    if machine is not None and goes_by_nameplate(machine):
        return (by_nameplate(circuit, machine, cables, job),)
    return tuple(unless_a_machine(each, machine) for each in _by_table(circuit, cables, job))


def _cables_of(circuit: Circuit, survey: Survey) -> list[Cable]:
    return [cable for cable in survey.cables_on_circuit.get(circuit.id, []) if is_power_cable(cable)]


# What runs together


_LESS = "conductors that are bundled bear less (310.15(C)(1), 334.80)"


def _first_asking(survey: Survey, edition: Edition) -> str | None:
    """Where no cable states a route, one circuit asks for all of them: the first for which it matters."""
    return next((each for each in survey.plan.circuits if survey.once(_open_bundles, each, edition)), None)


def _open_bundles(survey: Survey, circuit_id: str, edition: Edition) -> tuple[Pointer, ...]:
    """Where it is left out how a circuit's cables lie, as far as the worst bundle would be too much for its breaker."""
    circuit = survey.plan.circuits[circuit_id]
    try:
        found = survey.once(_by_itself, circuit_id, edition) if circuit.breaker.rating else ()
    except UnknownFact:
        return ()
    settled = any(isinstance(each, Violation) for each in found) or all(isinstance(each, NotConcerned) for each in found)
    if settled:  # bundling makes a wrong breaker no better
        return ()
    cables = _cables_of(circuit, survey)
    if not cables:
        wire = Wire(circuit, None, circuit.conductor.size, circuit, survey, edition)
        return () if _bears_any_bundle(wire, ANY_NUMBER) else (survey.plan.where("cables"),)
    wires = (
        Wire(circuit, each, each.size, each, survey, edition) for each in cables if each.knows("size") and open_bundles(each)
    )
    feared = (wire.cable for wire in wires if wire.cable and not _bears_any_bundle(wire, beside_at_most(survey, wire.cable)))
    return tuple(pointer for cable in feared for pointer in open_bundles(cable))


def _bears_any_bundle(wire: Wire, beside: int) -> bool:
    """Whether its breaker, or what the machine's nameplate asks for, is not too much for it with so many more conductors beside it."""
    if not has_ampacity(wire) or not beside:
        return True
    machine = machine_on(wire.circuit, Job(wire.survey.plan, wire.survey, wire.edition))
    try:
        borne = bearing(wire, strict=True, worst=True, beside=beside)
    except UnknownFact:
        return False
    if machine is not None and goes_by_nameplate(machine):
        return reaches(borne.ampacity, machine.minimum_circuit)
    return borne.allows(wire.circuit.breaker.rating)


# The wire by the tables


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
        return Pass(amperes(rating), _shown_limit(strict[1]), facet=wire.facet)
    if not any(fits[0] + fits[1]):
        return _too_large(wire, strict)
    if any(one != other for one, other in fits):
        needs = tuple(dict.fromkeys(open_facts(wire)))
        return Undetermined(needs[:MOST_NAMED], _between(strict), facet=wire.facet, at=wire.at.pointer)
    return _two_ways(wire, strict[1], lenient[1])


def _shown_limit(bearing: Bearing) -> Measure | None:
    return amperes(bearing.limit.rating) if bearing.limit.rating is not None else None


def _between(pair: tuple[Bearing, Bearing]) -> str:
    best, worst = (shown(amperes(each.ampacity)) for each in pair)
    if best == worst:
        return f"The wire's ampacity is {best}; whether its breaker may be the next size up is not said (240.4(B))."
    return f"By what is not said, the wire's ampacity is {worst} to {best}."


# What is wrong, and what to do about it


def _too_large(wire: Wire, pair: tuple[Bearing, Bearing]) -> Outcome:
    best, worst = pair
    rating = wire.circuit.breaker.rating
    if _cooking_tap(wire, worst):
        return _tap(wire, worst)
    most = (
        f"a breaker of at most {shown(amperes(best.limit.rating))}" if best.limit.rating is not None else "no standard breaker"
    )
    said = (
        f"The breaker of {name_of(wire.circuit)} is {shown(amperes(rating))}; its {wire.size} wire bears "
        f"{shown(amperes(best.ampacity))} here{_beside(wire)} and allows {most} ({best.limit.by})."
    )
    remedies = smaller_breaker(wire, worst.limit.rating)
    remedies += (larger_wire(wire),) if larger_size(wire) else ()
    return Violation(
        said,
        amperes(rating),
        _shown_limit(best),
        remedies=remedies,
        facet=wire.facet,
        at=wire.at.pointer,
        related=_related(wire),
    )


def _beside(wire: Wire) -> str:
    """The cables that it lies with, where those take from its ampacity."""
    if wire.cable is None or all(run.strict[1] <= NOT_ADJUSTED for run in wire.runs):
        return ""
    place = most_crowded(wire.survey, wire.cable)
    others = lying_with(wire.survey, place) if place is not None else ()
    names = ", ".join(name_of(each) for each in others[:MOST_NAMED])
    more = f" and {len(others) - MOST_NAMED} more" if len(others) > MOST_NAMED else ""
    return f", where {name_of(wire.cable)} lies with {names}{more}," if others else ""


def _related(wire: Wire) -> tuple[Pointer, ...]:
    every = (wire.circuit.pointer, wire.cable.pointer if wire.cable is not None else wire.circuit.pointer)
    return tuple(each for each in dict.fromkeys(every) if each != wire.at.pointer)


def _two_ways(wire: Wire, strict: Bearing, lenient: Bearing) -> Outcome:
    rating = wire.circuit.breaker.rating
    strictly, literally = _counts(wire)
    readings = (
        Reading(f"{strictly}: {shown(amperes(strict.ampacity))}.", "pass" if strict.allows(rating) else "violation"),
        Reading(f"{literally}: {shown(amperes(lenient.ampacity))}.", "pass" if lenient.allows(rating) else "violation"),
    )
    said = f"How the bundle of {wire.size} wire is counted decides whether its breaker is too large."
    return Judgement(said, readings, amperes(rating), _shown_limit(strict), facet=wire.facet, at=wire.at.pointer)


def _counts(wire: Wire) -> tuple[str, str]:
    """The two ways to count a bundle, by what makes them differ here."""
    if all(stretch.literal[1] <= NOT_ADJUSTED for stretch in wire.runs):
        return (
            "The exception for a short stretch is measured along this one cable, and the bundle is too long for it",
            "It is measured along the circuit as a whole, and the bundle is short",
        )
    if wire.cable is not None and any(is_bundled_by_closeness(wire.survey, each) for each in wire.cable.route):
        return "Cables less than an inch apart lie without spacing", "Cables that do not touch keep their spacing"
    return "Every conductor in the bundle counts", "Of a third conductor that is one of two travelers, one at a time counts"


# Taps to cooking units, 210.19


def _cooking_tap(wire: Wire, bearing: Bearing) -> bool:
    cable, circuit = wire.cable, wire.circuit
    appliances = wire.survey.appliances_on_circuit.get(circuit.id, [])
    if cable is None or wire.at is circuit or not appliances or any(each.kind not in COOKING for each in appliances):
        return False
    at_panel = any(isinstance(end, PanelEnd) for end in cable.ends)
    return not at_panel and within(circuit.breaker.rating, TAPPED_CIRCUIT) and reaches(bearing.ampacity, TAP_AMPACITY)


def _tap(wire: Wire, bearing: Bearing) -> Judgement:
    readings = (
        Reading("It is a tap to one cooking unit, no longer than serving it takes.", "pass"),
        Reading("It is part of the circuit, or longer than that.", "violation"),
    )
    rating = amperes(wire.circuit.breaker.rating)
    said = f"{wire.size} wire that bears {shown(amperes(bearing.ampacity))} serves a cooking unit on a {shown(rating)} circuit."
    return Judgement(
        said, readings, rating, _shown_limit(bearing), facet=wire.facet, at=wire.at.pointer, related=_related(wire)
    )
