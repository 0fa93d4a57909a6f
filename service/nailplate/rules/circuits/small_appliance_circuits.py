"""Two 20 A circuits or more serve the receptacles of kitchen and dining places, and nothing else.

Why: kettles, toasters and coffee makers run together; on one circuit, or one that feeds lights too, it trips or overheats.

Fix: give kitchen, pantry, breakfast and dining places at least two 20 A circuits of their own, both at the counter.

Does not judge: where the receptacles are (`wall-counter`, `island-peninsula`), their protection (`gfci-locations`,
`afci-rooms`) and the wire (`conductor-protection`). In a room that is kitchen and living room at once, which receptacles belong
to the kitchen is left to the authority having jurisdiction.
"""

from collections.abc import Iterator
from contextlib import suppress

from nailplate.plan import ROOT, Appliance, Cable, Circuit, Device, Plan, Pointer, Room, UnknownFact
from nailplate.plan.trade import FOOD_ROOMS, LINE_TO_NEUTRAL, NOT_OUTLETS, OFF_SMALL_APPLIANCE_CIRCUITS
from nailplate.plan.wiring import Conductors
from nailplate.plan.words import ApplianceKind, Connection, DeviceKind, Fuel, Mount, Provision, Purpose, Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation, state
from nailplate.survey import Survey, place_of, standing
from nailplate.survey.loads import WASHERS
from nailplate.survey.names import name_of
from nailplate.survey.wiring import cables_at, circuits_in_box, node_of_device
from nailplate.terms import Material
from nailplate.units import amperes, count, reaches, shown, within, written

RATINGS = (15.0, 20.0)
COUNTER_HEIGHT = 34.0
"""Inches above the floor from which a kitchen's wall receptacle serves a counter; lower ones serve the floor."""
COLD = frozenset({ApplianceKind.REFRIGERATOR})
GAS = (Fuel.PROPANE, Fuel.NATURAL_GAS)


@rule(
    id="small-appliance-circuits",
    over=Plan,
    severity=Severity.CODE,
    subjects=(Subject.REQUIRED_CIRCUITS,),
    cites={
        "nec-2017": Cite(
            "210.11(C)(1), 210.52(B)", seen=(2017, 2023), note="trade answers and a public copy of the 2023 code text"
        )
    },
    hazards=(Hazard.OVERLOAD, Hazard.OVERHEATING),
    dwelling_only=True,
)
def small_appliance_circuits(plan: Plan, job: Job) -> Iterator[Outcome]:
    """How many, of what rating, what is on them that should not be, what is not on them that should be, and the counter."""
    if not any(FOOD_ROOMS.intersection(room.uses) for room in plan.rooms.values()):
        cooks = plan.basis.knows("provisions") and Provision.COOKING in plan.basis.provisions
        yield (
            Undetermined((ROOT / "rooms",), "It has provisions for cooking, but no kitchen is drawn.")
            if cooks
            else NotConcerned()
        )
        return
    if not plan.circuits:
        yield Undetermined((plan.where("circuits"),), "No circuit is drawn.")
        return
    circuits = [each for each in plan.circuits.values() if each.is_(purpose=Purpose.SMALL_APPLIANCE)]
    yield _enough(plan, circuits, job)
    for circuit in circuits:
        yield _rated(circuit, job)
        yield from _one_kitchen(circuit, job)
    for device in plan.devices.values():
        yield from _settled(device, circuits, job)
    yield from _zones(plan, circuits, job)
    yield from _wired_in(plan, circuits)
    for room in plan.rooms.values():
        if Use.KITCHEN in room.uses:
            yield _counter(room, circuits, job)


# The circuits themselves


def _enough(plan: Plan, circuits: list[Circuit], job: Job) -> Outcome:
    if len(circuits) >= job.number("small_circuits_for_kitchen"):
        return Pass(count(len(circuits)), job.measure("small_circuits_for_kitchen"), facet="count")
    unknown = tuple(each.where("purpose") for each in plan.circuits.values() if not each.knows("purpose"))
    if len(circuits) + len(unknown) >= job.number("small_circuits_for_kitchen"):
        return Undetermined(unknown, facet="count")
    wanted = f"{job.number('small_circuits_for_kitchen'):g} of {shown(job.measure('reserved_circuit_rating'))}"
    said = f"Small-appliance circuits: {len(circuits)}; a kitchen has at least {wanted}."
    words = "Add 20 A circuits for the kitchen and dining receptacles, and divide the counter's receptacles between them."
    remedies = (Remedy(words),)
    return Violation(
        said,
        count(len(circuits)),
        job.measure("small_circuits_for_kitchen"),
        remedies=remedies,
        facet="count",
        at=plan.where("circuits"),
    )


def _rated(circuit: Circuit, job: Job) -> Outcome:
    if not (circuit.knows("breaker") and circuit.breaker.knows("rating")):
        return Undetermined((circuit.pointer / "breaker" / "rating",), facet=circuit.id, at=circuit.pointer)
    rating = circuit.breaker.rating
    if within(rating, job.amperes("reserved_circuit_rating")) and reaches(rating, job.amperes("reserved_circuit_rating")):
        return Pass(amperes(rating), job.measure("reserved_circuit_rating"), facet=circuit.id)
    limit = job.measure("reserved_circuit_rating")
    said = f"{name_of(circuit)}, a small-appliance circuit, has a {shown(amperes(rating))} breaker; such a circuit is rated {shown(limit)}."
    remedies = (_to_rating(circuit, job),)
    return Violation(
        said, amperes(rating), job.measure("reserved_circuit_rating"), remedies=remedies, facet=circuit.id, at=circuit.pointer
    )


def _to_rating(circuit: Circuit, job: Job) -> Remedy:
    """A larger breaker is proposed only where all the wire is known to bear it."""
    change = (state(circuit.breaker, "rating", written(job.measure("reserved_circuit_rating"))),)
    if reaches(circuit.breaker.rating, job.amperes("reserved_circuit_rating")):
        return Remedy(f"Use a {shown(job.measure('reserved_circuit_rating'))} breaker.", change)
    if _wire_bears_it(circuit, job):
        return Remedy(
            f"Use a {shown(job.measure('reserved_circuit_rating'))} breaker; the wire is large enough for it.", change
        )
    return Remedy(
        f"Pull {job.size('kitchen_circuit_wire')} copper or larger all the way, and use a {shown(job.measure('reserved_circuit_rating'))} breaker."
    )


def _wire_bears_it(circuit: Circuit, job: Job) -> bool:
    cables = job.survey.cables_on_circuit.get(circuit.id, [])
    wires: list[Cable | Conductors] = [*cables, *([circuit.conductor] if circuit.knows("conductor") else [])]
    larger = job.edition.conductors.larger
    return bool(wires) and all(
        each.knows("size", "material")
        and each.material is Material.COPPER
        and not larger(job.size("kitchen_circuit_wire"), each.size)
        for each in wires
    )


def _one_kitchen(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """210.52(B)(3): no such circuit serves more than one kitchen."""
    kitchens = []
    for device in job.survey.devices_on_circuit.get(circuit.id, []):
        room = _room(device, job)
        if device.kind is DeviceKind.RECEPTACLE and room is not None and Use.KITCHEN in room.uses:
            kitchens.append(room)
    each = list(dict.fromkeys(kitchens))
    if len(each) > 1:
        names = " and ".join(name_of(room) for room in each)
        said = f"{name_of(circuit)}, a small-appliance circuit, serves {len(each)} kitchens, {names}; it serves one."
        remedies = (Remedy("Give each kitchen small-appliance circuits of its own."),)
        yield Violation(said, count(len(each)), count(1), remedies=remedies, facet=f"{circuit.id} kitchens", at=circuit.pointer)


def _room(device: Device, job: Job) -> Room | None:
    try:
        return standing(job.survey, device).room
    except UnknownFact:  # unknown: what does not say where it is, is told of by itself
        return None


# What is on them, and what should be


def _settled(device: Device, circuits: list[Circuit], job: Job) -> Iterator[Outcome]:
    """What is to be said of one device, if anything."""
    try:
        outcome = _of_device(device, circuits, job)
    except UnknownFact as unknown:
        outcome = Undetermined((unknown.pointer,), facet=device.id, at=device.pointer)
    if outcome:
        yield outcome


def _of_device(device: Device, circuits: list[Circuit], job: Job) -> Outcome | None:
    if device.kind in NOT_OUTLETS or device.knows("part_of"):
        return None
    on_them = _on(device, circuits)
    if device.kind is not DeviceKind.RECEPTACLE:
        return _stranger(device) if on_them and not _gas_igniter(device, job) else None
    if not _serves_kitchen(device, job):
        return _unserved(device, job) if on_them else None
    if on_them:
        return Pass(facet=device.id)
    outcome = _off_them(device, circuits, job)
    return None if isinstance(outcome, Violation) and _shares_its_room(device, job) else outcome


def _on(device: Device, circuits: list[Circuit]) -> bool:
    """Whether one of them feeds the device; a split receptacle or two-circuit yoke has two circuits."""
    return bool(_circuits_of(device) & {circuit.id for circuit in circuits})


def _circuits_of(device: Device) -> set[str]:
    return {getattr(device, name) for name in ("circuit", "second_circuit") if device.knows(name)}


def _serves_kitchen(device: Device, job: Job) -> bool:
    """A receptacle of 210.52(A) or (C), or the refrigerator's, in one of the places served."""
    room = standing(job.survey, device).room
    if room is None or not FOOD_ROOMS.intersection(room.uses):
        return False
    served = _served_by(device, job)
    if any(each.kind in COLD for each in served):
        return True
    if (served and all(_fastened(each) for each in served)) or device.is_(in_cabinet=True):
        return False
    ordinary = within(device.voltage, LINE_TO_NEUTRAL) and device.rating in RATINGS
    return ordinary and within(place_of(job.survey, device).height, job.inches("wall_receptacle_highest"))


def _served_by(device: Device, job: Job) -> list[Appliance]:
    named = [*(device.serves if device.knows("serves") else ())]
    named += [device.dedicated_space] if device.knows("dedicated_space") else []
    named += [each.id for each in job.survey.once(_by_outlet).get(device.id, [])]
    return [job.plan.appliances[each] for each in dict.fromkeys(named)]


def _by_outlet(survey: Survey) -> dict[str, list[Appliance]]:
    found: dict[str, list[Appliance]] = {}
    for appliance in survey.plan.appliances.values():
        if appliance.knows("outlet"):
            found.setdefault(appliance.outlet, []).append(appliance)
    return found


def _fastened(appliance: Appliance) -> bool:
    return appliance.kind in OFF_SMALL_APPLIANCE_CIRCUITS or (appliance.knows("fastened") and appliance.fastened)


def _gas_igniter(device: Device, job: Job) -> bool:
    """210.52(B)(2) Ex. 2: what a gas-fired range, oven or cooktop needs beside its gas."""
    served = _served_by(device, job)
    return bool(served) and all(each.is_among(fuel=GAS) for each in served)


def _unserved(device: Device, job: Job) -> Outcome | None:
    """A receptacle that is on one of them, but is none that they are for."""
    if _gas_igniter(device, job):
        return Pass(facet=device.id)
    return _clock(device) if _may_be_a_clocks(device, job) else _stranger(device)


def _may_be_a_clocks(device: Device, job: Job) -> bool:
    """A single receptacle high on the wall of one of the places served, and nothing says what it is for."""
    room = standing(job.survey, device).room
    high = not within(place_of(job.survey, device).height, job.inches("wall_receptacle_highest"))
    in_cabinet = device.is_(in_cabinet=True)
    single = not device.knows("contacts") or device.contacts == 1
    placed = room is not None and bool(FOOD_ROOMS.intersection(room.uses))
    return placed and high and single and not in_cabinet and not _served_by(device, job)


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
    elif _gas_igniter(device, job) or _switched_outside_the_kitchen(device, job) or _is_washers(device, circuit, job):
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


def _switched_outside_the_kitchen(device: Device, job: Job) -> bool:
    """210.52(B)(1) Ex. 1: instead of a light, 210.70(A)(1) Ex. 1."""
    room = standing(job.survey, device).room
    switched = any(device.id in control.outlets for control in job.survey.controls_of.get(device.id, []))
    return switched and room is not None and Use.KITCHEN not in room.uses


def _is_washers(device: Device, circuit: Circuit, job: Job) -> bool:
    """210.11(C)(2): a washing machine's receptacle is the laundry's, though the machine stands in the kitchen."""
    return circuit.purpose is Purpose.LAUNDRY and any(each.kind in WASHERS for each in _served_by(device, job))


def _wired_in(plan: Plan, circuits: list[Circuit]) -> Iterator[Outcome]:
    """Appliances that are fed straight from one of them, without an outlet of their own in the plan."""
    for appliance in plan.appliances.values():
        wired = appliance.is_(connection=Connection.HARD_WIRED)
        gas = appliance.is_among(fuel=GAS)
        direct = appliance.knows("circuit") and not appliance.knows("outlet") and (wired or _fastened(appliance))
        if direct and not gas and any(appliance.circuit == circuit.id for circuit in circuits):
            yield _stranger(appliance)


# One room for several uses


def _shares_its_room(device: Device, job: Job) -> bool:
    """Whether only its place in the room could tell the kitchen's receptacle from the living room's."""
    room = standing(job.survey, device).room
    cold = any(each.kind in COLD for each in _served_by(device, job))
    if room is None or FOOD_ROOMS.issuperset(room.uses) or cold:
        return False
    return _is_laundrys(device, room, job) or not _high(device, job)


def _is_laundrys(device: Device, room: Room, job: Job) -> bool:
    """On the laundry circuit, in a room that is a laundry too: at a counter's height it may still be the laundry's."""
    return Use.LAUNDRY in room.uses and job.plan.circuits[device.circuit].purpose is Purpose.LAUNDRY


def _zones(plan: Plan, circuits: list[Circuit], job: Job) -> Iterator[Outcome]:
    """In a room that is kitchen and living room at once, receptacles at the wall's foot are on other circuits by one reading."""
    outside: dict[str, list[Device]] = {}
    for device in plan.devices.values():
        room = _room(device, job)
        if room is not None and _in_either_zone(device, circuits, job):
            outside.setdefault(room.id, []).append(device)
    for room_id, devices in outside.items():
        yield _zone(plan.rooms[room_id], devices)


def _in_either_zone(device: Device, circuits: list[Circuit], job: Job) -> bool:
    try:
        if device.kind is not DeviceKind.RECEPTACLE or device.knows("part_of") or _on(device, circuits):
            return False
        in_either = _serves_kitchen(device, job) and _shares_its_room(device, job)
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


# The counter


def _counter(room: Room, circuits: list[Circuit], job: Job) -> Outcome:
    facet = f"{room.id} counter"
    found = [each for each in job.survey.once(_receptacles_by_room).get(room.id, []) if _at_counter(each, room, job)]
    mine = {circuit.id for circuit in circuits}
    on = sorted(set().union(*(_circuits_of(each) & mine for each in found)))
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
    circuits = [job.plan.circuits[each] for device in found for each in sorted(_circuits_of(device))]
    missing += [each.where("purpose") for each in circuits if not each.knows("purpose")]
    return tuple(dict.fromkeys(missing))


def _unplaced(on: set[str], circuits: list[Circuit], job: Job) -> Iterator[Pointer]:
    """What is missing of receptacles on the other small-appliance circuits that may stand at the counter."""
    for circuit in circuits:
        for device in job.survey.devices_on_circuit.get(circuit.id, []) if circuit.id not in on else ():
            try:
                if device.kind is DeviceKind.RECEPTACLE and _serves_kitchen(device, job):
                    _high(device, job)
            except UnknownFact as unknown:
                yield unknown.pointer


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
    stays = next((each for each in found if _circuits_of(each) & set(on)), None)
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


def _receptacles_by_room(survey: Survey) -> dict[str, list[Device]]:
    """Those of which the plan says where they are."""
    found: dict[str, list[Device]] = {}
    for device in survey.plan.devices.values():
        if device.kind is DeviceKind.RECEPTACLE:
            with suppress(UnknownFact):
                room = standing(survey, device).room
                found.setdefault(room.id if room else "", []).append(device)
    return found


def _at_counter(device: Device, room: Room, job: Job) -> bool:
    """A receptacle above the counter that is not some appliance's own."""
    if device.kind is not DeviceKind.RECEPTACLE or device.knows("part_of") or device.knows("dedicated_space"):
        return False
    try:
        own = _has_own_circuit(device, job)
        return standing(job.survey, device).room is room and _high(device, job) and _serves_kitchen(device, job) and not own
    except UnknownFact:  # unknown: told of the device by itself
        return False


def _has_own_circuit(device: Device, job: Job) -> bool:
    circuits = [job.plan.circuits[each] for each in _circuits_of(device)]
    return any(each.is_(purpose=Purpose.INDIVIDUAL) for each in circuits)


def _high(device: Device, job: Job) -> bool:
    if device.is_(mount=Mount.COUNTERTOP):
        return True
    cold = any(each.kind in COLD for each in _served_by(device, job))
    return not cold and reaches(place_of(job.survey, device).height, COUNTER_HEIGHT)
