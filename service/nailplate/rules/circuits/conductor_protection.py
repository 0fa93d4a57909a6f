"""A breaker is no larger than its smallest wire can bear.

Why: a wire that may carry more than its insulation stands overheats inside the wall, and the breaker never trips.

Put it right: use a smaller breaker, or larger wire all the way from the panel to the last outlet.

Trap: 14, 12 and 10 AWG copper stay at 15, 20 and 30 A whatever the tables give them. The next standard breaker up is open only where
the wire's ampacity is no standard rating, and never to a circuit of several receptacles. Three or more cables without spacing in a
sealed hole or in foam lose ampacity. Taps (240.4(E), 240.21) are out of this rule's scope: a tap to a cooking unit is put as a question
to the authority having jurisdiction, any other thinner wire is judged as a part of its circuit. Motors and listed cooling equipment go
by their nameplates (240.4(G)). What the circuit's loads ask of its wire, continuous ones above all, is ``continuous-load``'s to say.
"""

from collections.abc import Iterator
from dataclasses import replace as altered

from nailplate.calc.overcurrent import rating_not_over
from nailplate.codes import Column, Edition
from nailplate.plan import Appliance, Cable, Circuit, Device, PanelEnd, Pointer, UnknownFact
from nailplate.plan.words import ApplianceKind, CableType, DeviceKind, Purpose
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    Judgement,
    NotConcerned,
    Operation,
    Outcome,
    Pass,
    Reading,
    Remedy,
    Severity,
    Undetermined,
    Violation,
    replace,
    rule,
    state,
)
from nailplate.survey import Survey
from nailplate.survey.bundling import ANY_NUMBER, beside_at_most, open_bundles, states_routes
from nailplate.survey.names import name_of
from nailplate.survey.wires import (
    Bearing,
    Wire,
    bearing,
    has_ampacity,
    material_of,
    open_facts,
    under_least,
)
from nailplate.units import Amperes, Measure, amperes, reaches, shown, within, written

MOST_NAMED = 5
"""Missing facts that one outcome names; they are all of one kind."""
NOT_ADJUSTED = 3
"""Current-carrying conductors that may lie together without an adjustment."""
SMALLEST_BREAKER = 15.0
TWENTY = 20.0
TWENTY_AMPERE = frozenset({Purpose.SMALL_APPLIANCE, Purpose.LAUNDRY, Purpose.BATHROOM, Purpose.GARAGE})
"""The circuits of 210.11(C), which are rated 20 A."""
TAP_AMPACITY = 20.0
TAPPED_CIRCUIT = 50.0
"""210.19: what cooking units are tapped from, and the least that a tap to one of them bears (from memory)."""
GROUND_OF_CABLES = "10 AWG"
"""The grounding conductor of nonmetallic-sheathed cables of 10 to 6 AWG (common practice)."""
COOKING = frozenset({ApplianceKind.RANGE, ApplianceKind.WALL_OVEN, ApplianceKind.COOKTOP})
COOLING = frozenset({ApplianceKind.HEAT_PUMP, ApplianceKind.MINI_SPLIT, ApplianceKind.AIR_CONDITIONER})
MOTORS = frozenset(
    {
        ApplianceKind.WELL_PUMP,
        ApplianceKind.SUMP_PUMP,
        ApplianceKind.PRESSURE_PUMP,
        ApplianceKind.GARAGE_DOOR_OPENER,
        ApplianceKind.DISPOSER,
        ApplianceKind.COMPACTOR,
        ApplianceKind.EVAPORATIVE_COOLER,
    }
)
OUTLETS_FOR_OTHERS = frozenset({DeviceKind.RECEPTACLE, DeviceKind.LUMINAIRE, DeviceKind.TRACK, DeviceKind.FAN})


@rule(
    id="conductor-protection",
    over=Circuit,
    severity=Severity.DANGER,
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
    cables, machine = _cables_of(circuit, survey), _machine(circuit, job)
    if machine is not None and _goes_by_nameplate(machine):
        return (_by_nameplate(circuit, machine, cables, job),)
    return tuple(_unless_a_machine(each, machine) for each in _by_table(circuit, cables, job))


def _cables_of(circuit: Circuit, survey: Survey) -> list[Cable]:
    return [cable for cable in survey.cables_on_circuit.get(circuit.id, []) if _power_cable(cable)]


def _power_cable(cable: Cable) -> bool:
    """Limited-energy cables are Article 725's, flexible cords 240.5's."""
    limited = cable.knows("low_voltage") and cable.low_voltage
    return not limited and not (cable.knows("type") and cable.type is CableType.CORD)


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
    machine = _machine(wire.circuit, Job(wire.survey.plan, wire.survey, wire.edition))
    try:
        borne = bearing(wire, strict=True, worst=True, beside=beside)
    except UnknownFact:
        return False
    if machine is not None and _goes_by_nameplate(machine):
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
        return _no_ampacity(wire)
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


def _no_ampacity(wire: Wire) -> Outcome:
    """Wire under the least of any circuit is ``smallest-conductor``'s to tell of; larger than the tables it is not judged."""
    if under_least(wire):
        return NotConcerned(wire.facet)
    said = f"The ampacity of {wire.size} wire stands in no table here; its breaker is not judged."
    return Undetermined((), said, facet=wire.facet, at=wire.at.pointer)


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
        f"{shown(amperes(best.ampacity))} here and allows {most} ({best.limit.by})."
    )
    remedies = _smaller(wire.circuit, worst.limit.rating)
    remedies += (_larger_wire(wire),) if _larger_size(wire) else ()
    return Violation(
        said,
        amperes(rating),
        _shown_limit(best),
        remedies=remedies,
        facet=wire.facet,
        at=wire.at.pointer,
        related=_related(wire),
    )


def _related(wire: Wire) -> tuple[Pointer, ...]:
    every = (wire.circuit.pointer, wire.cable.pointer if wire.cable is not None else wire.circuit.pointer)
    return tuple(each for each in dict.fromkeys(every) if each != wire.at.pointer)


def _smaller(circuit: Circuit, rating: Amperes | None) -> tuple[Remedy, ...]:
    """A smaller breaker, unless the circuit must be a 20 A one or would come under 15 A, which few outlets may be on."""
    required = circuit.knows("purpose") and circuit.purpose in TWENTY_AMPERE
    if rating is None or not reaches(rating, TWENTY if required else SMALLEST_BREAKER):
        return ()
    words = f"Use a breaker of {shown(amperes(rating))}, if the loads allow it; else pull larger wire."
    return (Remedy(words, (replace(circuit.breaker.where("rating"), written(amperes(rating))),)),)


def _larger_size(wire: Wire, minimum: float = 0.0) -> str | None:
    """The smallest larger size that suits the breaker as it is, or that bears ``minimum`` where the nameplate governs."""
    edition, rating = wire.edition, wire.circuit.breaker.rating
    larger = [size for size in edition.ampacity.of(material_of(wire))[Column.C60] if edition.conductors.larger(size, wire.size)]
    for size in edition.conductors.rising(larger):
        borne = bearing(altered(wire, size=size), strict=True, worst=True)
        if reaches(borne.ampacity, minimum) if minimum else borne.allows(rating):
            return size
    return None


def _larger_wire(wire: Wire, minimum: float = 0.0) -> Remedy:
    size = _larger_size(wire, minimum) or wire.size
    if wire.at is not wire.circuit and wire.cable is not None:
        return Remedy(f"Pull {size} wire instead of this cable.", tuple(_resized(wire.cable, size, wire.edition)))
    cables = [each for each in wire.survey.cables_on_circuit.get(wire.circuit.id, []) if _power_cable(each)]
    patch = [replace(wire.circuit.conductor.where("size"), size)]
    for cable in cables:
        if cable.knows("size") and cable.size == wire.size:
            patch += _resized(cable, size, wire.edition)
    return Remedy(f"Pull {size} wire all the way, where the terminals take it.", tuple(patch))


def _resized(cable: Cable, size: str, edition: Edition) -> Iterator[Operation]:
    yield state(cable, "size", size)
    ground = GROUND_OF_CABLES if edition.conductors.larger(size, GROUND_OF_CABLES) else size
    stated = cable.grounding if cable.knows("grounding") else "none"
    if stated in edition.conductors.area and edition.conductors.larger(ground, stated):
        yield state(cable, "grounding", ground)


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


# Motors and cooling equipment, 240.4(G)


def _machine(circuit: Circuit, job: Job) -> Appliance | None:
    """The motor or cooling machine that has the circuit to itself."""
    appliances = job.survey.appliances_on_circuit.get(circuit.id, [])
    if len(appliances) != 1 or any(
        _serves_others(each, appliances[0]) for each in job.survey.devices_on_circuit.get(circuit.id, [])
    ):
        return None
    machine = appliances[0]
    driven = machine.knows("hp") or machine.kind in MOTORS | COOLING or (machine.knows("listed_hvac") and machine.listed_hvac)
    return machine if driven else None


def _serves_others(device: Device, machine: Appliance) -> bool:
    own = device.knows("serves") and machine.id in device.serves
    own = own or (device.knows("dedicated_space") and device.dedicated_space == machine.id)
    own = own or (machine.knows("outlet") and machine.outlet == device.id)
    return device.kind in OUTLETS_FOR_OTHERS and not own


def _goes_by_nameplate(machine: Appliance) -> bool:
    """Whether the nameplate's figures are known, and govern: listed cooling or heating equipment, or a motor."""
    governed = machine.knows("hp") or (machine.knows("listed_hvac") and machine.listed_hvac)
    return governed and machine.knows("minimum_circuit", "max_overcurrent")


def _unless_a_machine(outcome: Outcome, machine: Appliance | None) -> Outcome:
    """A machine's breaker may be larger than its wire's ampacity, by how much its nameplate says."""
    unlisted = machine is not None and machine.knows("listed_hvac") and not machine.listed_hvac and not machine.knows("hp")
    if machine is None or unlisted or not isinstance(outcome, Violation):
        return outcome
    names = ["minimum_circuit", "max_overcurrent", *(() if machine.knows("hp") else ("listed_hvac",))]
    said = (
        "A motor's or cooling machine's breaker may be larger than its wire bears (240.4(G)); the nameplate tells by how much."
    )
    return Undetermined(
        tuple(machine.where(name) for name in names if not machine.knows(name)), said, facet=outcome.facet, at=outcome.at
    )


def _by_nameplate(circuit: Circuit, machine: Appliance, cables: list[Cable], job: Job) -> Outcome:
    """Every wire of the circuit bears what the nameplate asks for, and the breaker is no larger than it allows."""
    wires = [Wire(circuit, cable, cable.size, cable, job.survey, job.edition) for cable in cables]
    if not cables or (circuit.knows("conductor") and circuit.conductor.knows("size")):
        wires.append(Wire(circuit, None, circuit.conductor.size, circuit, job.survey, job.edition))
    wires = [wire for wire in wires if not under_least(wire)]
    if not wires:
        return NotConcerned()
    unfit = next((wire for wire in wires if not has_ampacity(wire)), None)
    if unfit is not None:
        return _no_ampacity(unfit)
    best, worst = (min(bearing(wire, strict=True, worst=worst).ampacity for wire in wires) for worst in (False, True))
    rating, most, least = circuit.breaker.rating, machine.max_overcurrent, machine.minimum_circuit
    if within(rating, most) and reaches(worst, least):
        return Pass(amperes(rating), amperes(most))
    if within(rating, most) and reaches(best, least):
        return Undetermined(tuple(dict.fromkeys(each for wire in wires for each in open_facts(wire)))[:MOST_NAMED])
    said = (
        f"The nameplate asks for a circuit of at least {shown(amperes(least))} and a breaker of at most {shown(amperes(most))}; "
        f"the wire bears {shown(amperes(best))} and the breaker is {shown(amperes(rating))}."
    )
    measured, limit = (best, least) if within(rating, most) else (rating, most)
    return Violation(said, amperes(measured), amperes(limit), remedies=_to_the_nameplate(machine, wires))


def _to_the_nameplate(machine: Appliance, wires: list[Wire]) -> tuple[Remedy, ...]:
    circuit, edition = wires[0].circuit, wires[0].edition
    words, patch = [], []
    if not within(circuit.breaker.rating, machine.max_overcurrent):
        rating = rating_not_over(machine.max_overcurrent, edition.overcurrent)
        if rating is None:
            return ()
        words.append(f"a breaker of {shown(amperes(rating))}")
        patch.append(replace(circuit.breaker.where("rating"), written(amperes(rating))))
    for wire in wires:
        if not reaches(bearing(wire, strict=True, worst=True).ampacity, machine.minimum_circuit):
            size = _larger_size(wire, machine.minimum_circuit)
            if size is None:
                return ()
            words.append(f"{size} wire")
            patch += _resized(wire.cable, size, edition) if wire.cable else [replace(circuit.conductor.where("size"), size)]
    return (Remedy(f"By the nameplate, use {' and '.join(dict.fromkeys(words))}.", tuple(patch)),)
