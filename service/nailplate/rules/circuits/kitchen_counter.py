"""The receptacles of a kitchen's counter, which two small-appliance circuits feed."""

from collections.abc import Iterator

from nailplate.plan import Circuit, Device, Pointer, Room, UnknownFact
from nailplate.plan.words import DeviceKind
from nailplate.rulekit import Job, Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation, state
from nailplate.rules.circuits.kitchen_receptacles import at_counter, is_high, receptacles_in_room, serves_kitchen
from nailplate.survey.index import Survey
from nailplate.survey.wiring import cables_at, circuits_of, node_of_device
from nailplate.units import count


def counter_fed(room: Room, circuits: list[Circuit], job: Job) -> Outcome:
    """Whether two of the circuits serve the counter of a kitchen."""
    facet = f"{room.id} counter"
    found = [each for each in receptacles_in_room(room, job) if at_counter(each, room, job)]
    mine = {circuit.id for circuit in circuits}
    on = sorted(set().union(*(set(circuits_of(each)) & mine for each in found)))
    if len(on) >= job.number("small_circuits_for_kitchen"):
        return Pass(count(len(on)), job.measure("small_circuits_for_kitchen"), facet=facet)
    unknown = (*_open_circuits(found, job), *_unplaced(set(on), circuits, job))
    if unknown:
        return Undetermined(unknown, facet=facet, at=room.pointer)
    if not found:
        return NotConcerned(facet=facet)
    return _one_outlet(found[0], facet) if len(found) == 1 else _one_circuit(found, on, circuits, facet, job)


def _open_circuits(found: list[Device], job: Job) -> tuple[Pointer, ...]:
    missing = [each.where("circuit") for each in found if not each.knows("circuit")]
    circuits = [job.plan.circuits[each] for device in found for each in sorted(circuits_of(device))]
    missing += [each.where("purpose") for each in circuits if not each.knows("purpose")]
    return tuple(dict.fromkeys(missing))


def _unplaced(on: set[str], circuits: list[Circuit], job: Job) -> Iterator[Pointer]:
    """What is missing of receptacles that may stand at the counter: on the other small-appliance circuits, on one of a purpose not said,
    or on no circuit said."""
    perhaps = [each for each in job.plan.circuits.values() if not each.knows("purpose")]
    may_be = [each.id for each in (*circuits, *perhaps) if each.id not in on]
    others = [each for circuit in may_be for each in job.survey.devices_on_circuit.get(circuit, [])]
    for device in (*others, *job.survey.once(_of_no_circuit)):
        try:
            if device.kind is DeviceKind.RECEPTACLE and serves_kitchen(device, job):
                is_high(device, job)
        except UnknownFact as unknown:
            yield unknown.pointer


def _of_no_circuit(survey: Survey) -> list[Device]:
    return [each for each in survey.plan.devices.values() if not circuits_of(each)]


def _one_outlet(device: Device, facet: str) -> Judgement:
    readings = (
        Reading(
            "Both small-appliance circuits must reach the counter, so it needs a second outlet or a two-circuit yoke.",
            "violation",
        ),
        Reading("The spacing rule requires one outlet here, and one outlet is on one circuit.", "pass"),
    )
    return Judgement("The kitchen counter has one receptacle outlet, on one circuit.", readings, facet=facet, at=device.pointer)


def _one_circuit(found: list[Device], on: list[str], circuits: list[Circuit], facet: str, job: Job) -> Violation:
    said = f"The {len(found)} receptacles of the kitchen counter are on {len(on)} small-appliance circuit{'' if len(on) == 1 else 's'};"
    stays = next((each for each in found if set(circuits_of(each)) & set(on)), None)
    moved = next((each for each in reversed(found) if each is not stays), None)
    other = next((each for each in circuits if each.id not in on), None)
    drawn = moved is not None and cables_at(job.survey, node_of_device(moved))
    patch = (state(moved, "circuit", other.id),) if stays and moved and other and not drawn else ()
    words = "Divide the counter's receptacles between two small-appliance circuits."
    return Violation(
        f"{said} at least {job.number('small_circuits_for_kitchen'):g} serve it.",
        count(len(on)),
        job.measure("small_circuits_for_kitchen"),
        remedies=(Remedy(words, patch),),
        facet=facet,
        at=found[0].pointer,
        related=tuple(each.pointer for each in found[1:]),
    )
