"""What the rules on laundry, bathroom and garage circuits share: how many, of what rating, and how to put an outlet on another."""

from collections.abc import Callable, Iterable, Iterator

from nailplate.plan import Circuit, Device, Plan, Pointer, Room, UnknownFact
from nailplate.remedies.changed_breakers import on_breaker
from nailplate.rulekit import Job, Operation, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.loads import unsaid_purposes
from nailplate.survey.names import name_of
from nailplate.survey.wiring import cables_at, node_of_device
from nailplate.units import amperes, count, reaches, shown, within

FEWEST = 1


def enough(plan: Plan, circuits: list[Circuit], what: str, job: Job, meant: Iterable[Device] = ()) -> Outcome:
    """Whether there is one at all; ``meant`` are the receptacles that belong on it, of which the first is named with its circuit."""
    if circuits:
        return Pass(count(len(circuits)), count(FEWEST), facet="count")
    unsaid = unsaid_purposes(job.survey)
    if unsaid:
        return Undetermined(unsaid[:_NAMED], facet="count")
    on = [each for each in meant if each.knows("circuit")][:1]
    return Violation(
        f"No circuit is shown as the {what} circuit; a dwelling with such a place has one of {shown(job.measure('reserved_circuit_rating'))}."
        f"{_elsewhere(on, job)}",
        count(0),
        count(FEWEST),
        (_new_circuit(what, job),),
        facet="count",
        at=plan.where("circuits"),
        related=tuple(each.pointer for each in on),
    )


def receptacles_told(rooms: Iterable[Room], in_room: Callable[[Room], Iterable[Device]]) -> Iterator[Device]:
    """What belongs on the circuit in these rooms, as far as the plan tells it."""
    for room in rooms:
        try:
            yield from in_room(room)
        except UnknownFact:  # unknown: which belong on it is asked once there is one
            continue


def _elsewhere(found: list[Device], job: Job) -> str:
    return "".join(f" {name_of(each)} is on {name_of(job.plan.circuits[each.circuit])}." for each in found)


def _new_circuit(what: str, job: Job) -> Remedy:
    return Remedy(
        f"Add a {shown(job.measure('reserved_circuit_rating'))} circuit of 12 AWG copper, and feed only the {what} receptacles from it."
    )


def _on_its_breaker(circuit: Circuit, job: Job) -> tuple[Remedy, ...]:
    return on_breaker(circuit, job.amperes("reserved_circuit_rating"), job.survey)


def rated(
    circuit: Circuit, what: str, job: Job, fixes: Callable[[Circuit, Job], tuple[Remedy, ...]] = _on_its_breaker
) -> Outcome:
    """Whether it is a 20 A circuit."""
    if not (circuit.knows("breaker") and circuit.breaker.knows("rating")):
        return Undetermined((circuit.pointer / "breaker" / "rating",), facet=circuit.id, at=circuit.pointer)
    rating, wanted = circuit.breaker.rating, job.measure("reserved_circuit_rating")
    if within(rating, wanted.value) and reaches(rating, wanted.value):
        return Pass(amperes(rating), wanted, circuit.id)
    return Violation(
        f"{name_of(circuit)}, a {what} circuit, has a {shown(amperes(rating))} breaker; such a circuit is rated {shown(wanted)}.",
        amperes(rating),
        wanted,
        fixes(circuit, job),
        facet=circuit.id,
        at=circuit.pointer,
    )


def moved(device: Device, circuit: Circuit, job: Job) -> Remedy:
    """The outlet on another circuit; as a patch only while no cable is drawn to it."""
    patch: tuple[Operation, ...] = ()
    if not cables_at(job.survey, node_of_device(device)):
        patch = (state(device, "circuit", circuit.id),)
    return Remedy(f"Feed it from {name_of(circuit)}.", patch)


def off_circuit(device: Device, what: str, circuits: list[Circuit], job: Job) -> Violation:
    """A receptacle that the reserved circuit must feed and does not."""
    on = job.plan.circuits[device.circuit]
    return Violation(
        f"{name_of(device)} is one of the {what} receptacles and is on {name_of(on)}; it belongs on the {what} circuit.",
        remedies=tuple(moved(device, each, job) for each in circuits[:1]) or (_new_circuit(what, job),),
        facet=device.id,
        at=device.pointer,
        related=(on.pointer,),
    )


def untold(needs: tuple[Pointer, ...], facet: str, at: Pointer) -> Undetermined:
    """What is missing of a place."""
    return Undetermined(tuple(dict.fromkeys(needs))[:_NAMED], facet=facet, at=at)


_NAMED = 5
