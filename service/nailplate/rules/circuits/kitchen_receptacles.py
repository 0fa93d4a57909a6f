"""Receptacles of kitchen and dining places: which of them small-appliance circuits are for, and which stand at the counter."""

from contextlib import suppress
from typing import Final

from nailplate.plan import Appliance, Circuit, Device, Room, UnknownFact
from nailplate.plan.trade import FOOD_ROOMS, LINE_TO_NEUTRAL, OFF_SMALL_APPLIANCE_CIRCUITS
from nailplate.plan.words import ApplianceKind, DeviceKind, Fuel, Mount, Purpose, Use
from nailplate.rulekit import Job
from nailplate.survey import Survey, place_of, standing
from nailplate.survey.loads import WASHERS
from nailplate.survey.protection import appliances_served
from nailplate.survey.wiring import circuits_of
from nailplate.units import reaches, within

RATINGS: Final = (15.0, 20.0)
COUNTER_HEIGHT: Final = 34.0
"""Inches above the floor from which a kitchen's wall receptacle serves a counter; lower ones serve the floor (common practice)."""
COLD: Final = frozenset({ApplianceKind.REFRIGERATOR})
GAS: Final = frozenset({Fuel.PROPANE, Fuel.NATURAL_GAS})


def serves_kitchen(device: Device, job: Job) -> bool:
    """A receptacle of 210.52(A) or (C), or the refrigerator's, in one of the places served."""
    room = standing(job.survey, device).room
    if room is None or not FOOD_ROOMS.intersection(room.uses):
        return False
    served = appliances_served(job.survey, device)
    if any(each.kind in COLD for each in served):
        return True
    if (served and all(is_fastened(each) for each in served)) or device.is_(in_cabinet=True):
        return False
    ordinary = within(device.voltage, LINE_TO_NEUTRAL) and device.rating in RATINGS
    return ordinary and within(place_of(job.survey, device).height, job.inches("wall_receptacle_highest"))


def is_fastened(appliance: Appliance) -> bool:
    """Whether an appliance is none that is moved about a kitchen."""
    return appliance.kind in OFF_SMALL_APPLIANCE_CIRCUITS or appliance.is_(fastened=True)


def is_for_igniter(device: Device, job: Job) -> bool:
    """210.52(B)(2) Ex. 2: what a gas-fired range, oven or cooktop needs beside its gas."""
    served = appliances_served(job.survey, device)
    return bool(served) and all(each.is_among(fuel=GAS) for each in served)


def may_be_a_clocks(device: Device, job: Job) -> bool:
    """A single receptacle high on the wall of one of the places served, and nothing says what it is for."""
    room = standing(job.survey, device).room
    high = not within(place_of(job.survey, device).height, job.inches("wall_receptacle_highest"))
    in_cabinet = device.is_(in_cabinet=True)
    single = not device.knows("contacts") or device.contacts == 1
    placed = room is not None and bool(FOOD_ROOMS.intersection(room.uses))
    return placed and high and single and not in_cabinet and not appliances_served(job.survey, device)


def switched_outside_kitchen(device: Device, job: Job) -> bool:
    """210.52(B)(1) Ex. 1: instead of a light, 210.70(A)(1) Ex. 1."""
    room = standing(job.survey, device).room
    switched = any(device.id in control.outlets for control in job.survey.controls_of.get(device.id, []))
    return switched and room is not None and Use.KITCHEN not in room.uses


def is_washers(device: Device, circuit: Circuit, job: Job) -> bool:
    """210.11(C)(2): a washing machine's receptacle is the laundry's, though the machine stands in the kitchen."""
    return circuit.purpose is Purpose.LAUNDRY and any(each.kind in WASHERS for each in appliances_served(job.survey, device))


def is_on(device: Device, circuits: list[Circuit]) -> bool:
    """Whether one of them feeds the device; a split receptacle or two-circuit yoke has two circuits."""
    return bool(set(circuits_of(device)) & {circuit.id for circuit in circuits})


def room_told(device: Device, job: Job) -> Room | None:
    """The room that a device is in, where the plan says it."""
    try:
        return standing(job.survey, device).room
    except UnknownFact:  # unknown: what does not say where it is, is told of by itself
        return None


def shares_its_room(device: Device, job: Job) -> bool:
    """Whether only its place in the room could tell the kitchen's receptacle from the living room's."""
    room = standing(job.survey, device).room
    cold = any(each.kind in COLD for each in appliances_served(job.survey, device))
    if room is None or FOOD_ROOMS.issuperset(room.uses) or cold:
        return False
    return _is_laundrys(device, room, job) or not is_high(device, job)


def _is_laundrys(device: Device, room: Room, job: Job) -> bool:
    """On the laundry circuit, in a room that is a laundry too: at a counter's height it may still be the laundry's."""
    return Use.LAUNDRY in room.uses and job.plan.circuits[device.circuit].purpose is Purpose.LAUNDRY


def is_high(device: Device, job: Job) -> bool:
    """Whether a receptacle is as high as a counter, and not the refrigerator's. Raises UnknownFact."""
    if device.is_(mount=Mount.COUNTERTOP):
        return True
    cold = any(each.kind in COLD for each in appliances_served(job.survey, device))
    return not cold and reaches(place_of(job.survey, device).height, COUNTER_HEIGHT)


def at_counter(device: Device, room: Room, job: Job) -> bool:
    """A receptacle above the counter that is not some appliance's own."""
    if device.kind is not DeviceKind.RECEPTACLE or device.knows("part_of") or device.knows("dedicated_space"):
        return False
    try:
        own = _has_own_circuit(device, job)
        return standing(job.survey, device).room is room and is_high(device, job) and serves_kitchen(device, job) and not own
    except UnknownFact:  # unknown: told of the device by itself
        return False


def _has_own_circuit(device: Device, job: Job) -> bool:
    circuits = [job.plan.circuits[each] for each in circuits_of(device)]
    return any(each.is_(purpose=Purpose.INDIVIDUAL) for each in circuits)


def receptacles_in_room(room: Room, job: Job) -> list[Device]:
    """The receptacles of which the plan says that they are in this room."""
    return job.survey.once(_receptacles_by_room).get(room.id, [])


def _receptacles_by_room(survey: Survey) -> dict[str, list[Device]]:
    """Those of which the plan says where they are."""
    found: dict[str, list[Device]] = {}
    for device in survey.plan.devices.values():
        if device.kind is DeviceKind.RECEPTACLE:
            with suppress(UnknownFact):
                room = standing(survey, device).room
                found.setdefault(room.id if room else "", []).append(device)
    return found
