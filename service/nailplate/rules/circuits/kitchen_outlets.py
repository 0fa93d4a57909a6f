"""What small-appliance circuits feed that they are not for, and the kitchen's receptacles that are on other circuits."""

from collections.abc import Iterator

from nailplate.plan import Appliance, Circuit, Device, Plan, Room, UnknownFact
from nailplate.plan.trade import NOT_OUTLETS
from nailplate.plan.words import Connection, DeviceKind, Purpose
from nailplate.rulekit import Job, Judgement, Outcome, Pass, Reading, Remedy, Violation, state
from nailplate.rules.circuits.kitchen_receptacles import (
    GAS,
    is_fastened,
    is_for_igniter,
    is_on,
    is_washers,
    may_be_a_clocks,
    room_told,
    serves_kitchen,
    shares_its_room,
    switched_outside_kitchen,
)
from nailplate.survey.names import name_of
from nailplate.survey.wiring import cables_at, circuits_in_box, node_of_device
from nailplate.units import amperes, reaches


def outlet_settled(device: Device, circuits: list[Circuit], job: Job) -> Iterator[Outcome]:
    """What is to be said of one device, if anything. Raises UnknownFact."""
    outcome = _settled(device, circuits, job)
    if outcome:
        yield outcome


def _settled(device: Device, circuits: list[Circuit], job: Job) -> Outcome | None:
    if device.kind in NOT_OUTLETS or device.knows("part_of"):
        return None
    on_them = is_on(device, circuits)
    if device.kind is not DeviceKind.RECEPTACLE:
        return _stranger(device) if on_them and not is_for_igniter(device, job) else None
    if not serves_kitchen(device, job):
        return _unserved(device, job) if on_them else None
    if on_them:
        return Pass(facet=device.id)
    outcome = _off_them(device, circuits, job)
    return None if isinstance(outcome, Violation) and shares_its_room(device, job) else outcome


def _unserved(device: Device, job: Job) -> Outcome | None:
    """A receptacle that is on one of them, but is none that they are for."""
    if is_for_igniter(device, job):
        return Pass(facet=device.id)
    return _clock(device) if may_be_a_clocks(device, job) else _stranger(device)


def _clock(device: Device) -> Judgement:
    readings = (Reading("It is there for an electric clock alone.", "pass"), Reading("It serves anything else.", "violation"))
    said = f"{name_of(device)} hangs high on a small-appliance circuit; only a clock's receptacle may."
    return Judgement(said, readings, facet=device.id, at=device.pointer)


def _stranger(part: Device | Appliance) -> Outcome:
    said = (
        f"{name_of(part)} is on a small-appliance circuit, which serves only receptacles of kitchen, pantry, breakfast and "
        "dining places."
    )
    return Violation(said, remedies=(Remedy("Feed it from another circuit."),), facet=part.id, at=part.pointer)


def _off_them(device: Device, circuits: list[Circuit], job: Job) -> Outcome:
    """A receptacle of these places that is on none of them."""
    circuit = job.plan.circuits[device.circuit]
    purpose = circuit.purpose
    if purpose is Purpose.INDIVIDUAL:
        if reaches(circuit.breaker.rating, job.amperes("kitchen_individual_rating")):
            return Pass(amperes(circuit.breaker.rating), job.measure("kitchen_individual_rating"), facet=device.id)
    elif is_for_igniter(device, job) or switched_outside_kitchen(device, job) or is_washers(device, circuit, job):
        return Pass(facet=device.id)
    said = f"{name_of(device)} is in a kitchen or dining place but not on a small-appliance circuit."
    onto = _reaching(device, circuits, job)
    patch = (state(device, "circuit", onto.id),) if onto else ()
    remedies = (Remedy("Feed it from a small-appliance circuit.", patch),)
    return Violation(said, remedies=remedies, facet=device.id, at=device.pointer, related=(circuit.pointer,))


def _reaching(device: Device, circuits: list[Circuit], job: Job) -> Circuit | None:
    """The first of the circuits whose cables lead to a device; any of them while none is drawn to it.

    None for one that is switched: its switch would stay on the other circuit.
    """
    if job.survey.controls_of.get(device.id):
        return None
    node = node_of_device(device)
    if not cables_at(job.survey, node):
        return circuits[0] if circuits else None
    there = circuits_in_box(job.survey, job.plan.boxes[device.box]).circuits if device.knows("box") else ()
    return next((each for each in circuits if each.id in there), None)


def wired_in(plan: Plan, circuits: list[Circuit]) -> Iterator[Outcome]:
    """Appliances that are fed straight from one of them, without an outlet of their own in the plan."""
    for appliance in plan.appliances.values():
        wired = appliance.is_(connection=Connection.HARD_WIRED)
        gas = appliance.is_among(fuel=GAS)
        direct = appliance.knows("circuit") and not appliance.knows("outlet") and (wired or is_fastened(appliance))
        if direct and not gas and any(appliance.circuit == circuit.id for circuit in circuits):
            yield _stranger(appliance)


# One room for several uses


def zones(plan: Plan, circuits: list[Circuit], job: Job) -> Iterator[Outcome]:
    """In a room that is kitchen and living room at once, receptacles at the wall's foot are on other circuits by one reading."""
    outside: dict[str, list[Device]] = {}
    for device in plan.devices.values():
        room = room_told(device, job)
        if room is not None and _in_either_zone(device, circuits, job):
            outside.setdefault(room.id, []).append(device)
    for room_id, devices in outside.items():
        yield _zone(plan.rooms[room_id], devices)


def _in_either_zone(device: Device, circuits: list[Circuit], job: Job) -> bool:
    try:
        if device.kind is not DeviceKind.RECEPTACLE or device.knows("part_of") or is_on(device, circuits):
            return False
        in_either = serves_kitchen(device, job) and shares_its_room(device, job)
        return in_either and isinstance(_off_them(device, circuits, job), Violation)
    except UnknownFact:  # unknown: told of the device by itself
        return False


def _zone(room: Room, devices: list[Device]) -> Judgement:
    names = ", ".join(name_of(device) for device in devices)
    readings = (
        Reading("They are in another part of it, and small-appliance circuits may not feed them.", "pass"),
        Reading("They are in its kitchen or dining part, and small-appliance circuits must feed them.", "violation"),
    )
    said = f"{name_of(room)} is a kitchen or dining place and something else at once; {names} are on other circuits."
    pointers = tuple(device.pointer for device in devices)
    return Judgement(said, readings, facet=f"{room.id} zones", at=room.pointer, related=pointers)
