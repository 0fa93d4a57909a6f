"""A cable is of the size and the number of conductors that its circuit needs, and stays on that circuit.

Why: a breaker guards the smallest wire of its circuit, and a person who switches it off trusts that everything on it is dead.

Fix: pull a cable like the rest of the circuit, end it where its circuit is, and leave out a cable that closes a ring.

Trap: a ring of cables still works when one of them is cut, so nobody notices that a breaker feeds a wire from both ends.

Does not judge: This rule leaves to others what they tell: a wire too small for its breaker to ``conductor-protection``, an
outlet that stands unfed because a cable is of another circuit to ``circuit-fed``.
"""

from collections.abc import Iterator

from nailplate.plan import Box, Cable, Circuit, UnknownFact
from nailplate.plan.trade import CONTROLS
from nailplate.remedies.larger_wires_in_boxes import boxes_hold
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
from nailplate.rules.circuits.cable_needs import least_insulated
from nailplate.survey.names import name_of, names_of
from nailplate.survey.wiring import (
    Carried,
    CarriedBy,
    Change,
    Island,
    Loop,
    Node,
    NodeKind,
    Wire,
    bearing,
    cables_at,
    carried,
    changes_of,
    circuit_tree,
    devices_at,
    ends_of,
    has_ampacity,
    is_power_cable,
    island_of,
    loop_closed_by,
    part_at,
    stands_unfed,
)
from nailplate.units import count, reaches

MOST_NAMED = 5
APART_OR_PARALLEL = (
    Reading("They carry different conductors, a feed and a switch leg, each with its return, kept apart in the boxes.", "pass"),
    Reading("The same conductors are joined at both ends, in parallel, which wire under 1/0 AWG may not be.", "violation"),
)
SIZE, CONDUCTORS, CIRCUIT, RING = "size", "conductors", "circuit", "ring"


@rule(
    id="cable-matches-circuit",
    over=Cable,
    severity=Severity.DANGER,
    subjects=(Subject.FED,),
    cites={
        "nec-2017": Cite(
            "300.3(B), 310.10(H)", note="from memory: conductors of a circuit together; none under 1/0 in parallel"
        ),
        "nec-2020": Cite("300.3(B), 310.10(G)", note="from memory: the paragraph on parallel conductors moved"),
    },
    hazards=(Hazard.SHOCK, Hazard.OVERHEATING),
    changes={"nec-2020": "The paragraph on conductors in parallel is 310.10(G), it was 310.10(H)."},
)
def cable_matches_circuit(cable: Cable, job: Job) -> Iterator[Outcome]:
    """An outcome each for size, conductors, circuit and rings."""
    if not is_power_cable(cable):
        yield NotConcerned()
        return
    found = carried(job.survey, cable)
    yield _conductors(cable, found, job)
    if found.by is CarriedBy.OPEN:
        said = f"Neither {name_of(cable)} nor what it joins says which circuit it carries."
        yield Undetermined((cable.where("circuit"),), said, facet=CIRCUIT)
        return
    yield from (_size(cable, job.plan.circuits[each], job) for each in found.known)
    yield _stays(cable, found, job)
    yield _rings(cable, found, job)


# Conductors


def _conductors(cable: Cable, found: Carried, job: Job) -> Outcome:
    if not cable.knows("insulated"):
        return Undetermined((cable.where("insulated"),), facet=CONDUCTORS)
    circuits = [job.plan.circuits[each] for each in found.known]
    needed = least_insulated(job.survey, cable, circuits)
    if reaches(cable.insulated, needed):
        return Pass(count(cable.insulated), count(needed), facet=CONDUCTORS)
    filled = any(box.knows("volume") or box.knows("trade_size") for box in _boxes_at(cable, job))  # it may not hold one more
    patch = () if filled or cable.insulated == 1 else (state(cable, "insulated", needed),)
    remedy = Remedy(f"Pull a cable with {needed} insulated conductors.", patch)
    one = cable.insulated == 1
    has = "one insulated conductor" if one else f"{cable.insulated} insulated conductors"
    takes = f"circuits {_both(circuits)} take" if len(circuits) > 1 else "its circuit takes"
    three = f"{takes} {needed} here, two hots and a neutral"
    why = "current has no way back in it" if one else three
    return Violation(
        f"{name_of(cable)} has {has}; {why}.", count(cable.insulated), count(needed), remedies=(remedy,), facet=CONDUCTORS
    )


def _boxes_at(cable: Cable, job: Job) -> list[Box]:
    return [part for end in ends_of(job.survey, cable) if isinstance(part := part_at(job.survey, end), Box)]


def _both(circuits: list[Circuit]) -> str:
    return " and ".join(name_of(each) for each in circuits)


# Size


def _size(cable: Cable, circuit: Circuit, job: Job) -> Outcome:
    facet = f"{SIZE} {circuit.id}"
    if not (circuit.knows("conductor") and circuit.conductor.knows("size")):
        return NotConcerned(facet=facet)
    if not cable.knows("size"):
        return Undetermined((cable.where("size"),), facet=facet)
    wanted = circuit.conductor.size
    if not job.edition.conductors.larger(wanted, cable.size):
        return Pass(facet=facet)
    if not _guarded(cable, circuit, job):
        return NotConcerned(facet=facet)  # conductor-protection's
    grounding = (state(cable, "grounding", wanted),) if cable.knows("grounding") and cable.grounding == cable.size else ()
    held = boxes_hold(job.survey, (cable,), wanted, job.edition)
    return Violation(
        f"{name_of(cable)} is {cable.size}; circuit {name_of(circuit)} is listed as {wanted}.",
        remedies=(
            Remedy(f"Pull {wanted} cable.", (state(cable, "size", wanted), *grounding) if held else ()),
            Remedy(f"Or list the circuit's wire as {cable.size}.", (state(circuit.conductor, "size", cable.size),)),
        ),
        facet=facet,
        related=(circuit.pointer,),
    )


def _guarded(cable: Cable, circuit: Circuit, job: Job) -> bool:
    """Whether the breaker guards the cable at its best; where that can't be told, conductor-protection asks."""
    wire = Wire(circuit, cable, cable.size, cable, job.survey, job.edition)
    try:
        return has_ampacity(wire) and bearing(wire, strict=False, worst=False).allows(circuit.breaker.rating)
    except UnknownFact:  # unknown: what is missing is asked for by conductor-protection
        return False


# The circuit along the way


def _stays(cable: Cable, found: Carried, job: Job) -> Outcome:
    ends = ends_of(job.survey, cable)
    if any(stands_unfed(job.survey, end) for end in ends if end.kind is not NodeKind.PANEL):
        return NotConcerned(facet=CIRCUIT)  # circuit-fed's
    changed = changes_of(job.survey, cable)
    if changed:
        return _changes(cable, changed[0], job)
    astray = _astray(cable, found, job)
    return _feeds_nothing(cable, astray, job) if astray else Pass(facet=CIRCUIT)


def _changes(cable: Cable, change: Change, job: Job) -> Outcome:
    place = name_of(part_at(job.survey, change.node))
    mine = _circuit_names(carried(job.survey, cable).known, job)
    if not change.others:
        said = f"{name_of(cable)} comes from {place}, and its circuit, {mine}, starts in another panel."
        return Violation(said, remedies=(Remedy("Start it in its circuit's panel."),), facet=CIRCUIT)
    said = f"{name_of(cable)} is of circuit {mine} and ends in {place}, where everything else is of {_circuit_names(change.others, job)}."
    words = "End it where its circuit is; splicing it here would join two circuits."
    return Violation(said, remedies=(Remedy(words),), facet=CIRCUIT, related=(change.node.pointer,))


def _circuit_names(circuits: tuple[str, ...], job: Job) -> str:
    return " and ".join(name_of(job.plan.circuits[each]) for each in circuits)


def _astray(cable: Cable, found: Carried, job: Job) -> Island | None:
    """The piece of its circuit that the cable is in, if it is not joined to the panel and holds no outlet of it."""
    circuits = [job.plan.circuits[each] for each in found.known]
    pieces = [island_of(job.survey, each, cable) for each in circuits if circuit_tree(job.survey, each).panel is not None]
    return pieces[0] if pieces and all(pieces) else None


def _feeds_nothing(cable: Cable, island: Island, job: Job) -> Outcome:
    """Told once of the whole piece, by its first cable."""
    cables = [each for node in island.nodes for each in cables_at(job.survey, node)] if cable is island.cables[0] else []
    if not cables or any(carried(job.survey, each).by is CarriedBy.OPEN for each in cables):
        return NotConcerned(facet=CIRCUIT)  # a cable that says no circuit asks for itself
    said = f"{name_of(cable)} is joined neither to its circuit's panel nor to an outlet of its circuit."
    remedies = (
        Remedy("Draw what feeds it and what it feeds, or leave it out.", tuple(remove(each.pointer) for each in island.cables)),
    )
    related = tuple(each.pointer for each in island.cables[1:])
    return Violation(said, remedies=remedies, facet=CIRCUIT, related=related)


# Rings


def _rings(cable: Cable, found: Carried, job: Job) -> Outcome:
    closed = (loop_closed_by(job.survey, job.plan.circuits[each], cable) for each in found.known)
    loop = next((each for each in closed if each is not None), None)
    return _ring(cable, loop, job) if loop else Pass(facet=RING)


def _ring(cable: Cable, loop: Loop, job: Job) -> Outcome:
    others = [each for each in loop.ring if each is not cable]
    related = tuple(each.pointer for each in others)
    alike = all(each.knows("insulated") for each in loop.ring) and len({each.insulated for each in loop.ring}) == 1
    one_circuit = all(len(carried(job.survey, each).known) == 1 for each in loop.ring)
    plain = not any(_holds_switch(node, job) for node in loop.nodes) and not _share_a_neutral(loop, job)
    patch = (remove(cable.pointer),) if alike and one_circuit and plain else ()  # else which one goes is not for a patch to say
    remedies = (Remedy("Leave out one cable of the ring.", patch),)
    if not others:
        said = f"Both ends of {name_of(cable)} are in {name_of(part_at(job.survey, loop.nodes[0]))}."
        return Violation(said, remedies=remedies, facet=RING)
    said = f"{name_of(cable)} closes a ring with {names_of(others, MOST_NAMED)}"
    if any(_holds_switch(node, job) for node in loop.nodes):
        return Judgement(f"{said}, through a switch box.", APART_OR_PARALLEL, remedies=remedies, facet=RING, related=related)
    return Violation(f"{said}, and is fed from both its ends.", remedies=remedies, facet=RING, related=related)


def _share_a_neutral(loop: Loop, job: Job) -> bool:
    """Whether a circuit of the ring is half of a multiwire branch circuit: its neutral may come back by either cable."""
    found = {each for cable in loop.ring for each in carried(job.survey, cable).known}
    return any(job.plan.circuits[each].knows("multiwire") for each in found) or any(
        other.knows("multiwire") and other.multiwire.knows("partner") and other.multiwire.partner in found
        for other in job.plan.circuits.values()
    )


def _holds_switch(node: Node, job: Job) -> bool:
    return any(device.kind in CONTROLS for device in devices_at(job.survey, node))
