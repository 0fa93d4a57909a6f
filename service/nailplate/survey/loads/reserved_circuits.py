"""Circuits that the code keeps for one place: laundry, bathroom and garage; which receptacles must be on one, and which may be.

Small-appliance circuits have a rule of their own that looks at the whole kitchen.
"""

from collections.abc import Iterator
from typing import Final

from nailplate.codes import Edition
from nailplate.plan import Circuit, Device, Pointer, Room
from nailplate.plan.trade import LINE_TO_NEUTRAL
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import ApplianceKind, BuildingKind, DeviceKind, Mount, Purpose, Use
from nailplate.survey.index import Survey
from nailplate.survey.loads.circuit_loads import circuit_id_of, fed_by
from nailplate.survey.places import standing
from nailplate.survey.protection import appliances_served, receptacle_volts
from nailplate.survey.receptacles import InRoom, basins_reached, receptacles_in
from nailplate.survey.space import Bay, bays, empty_bays
from nailplate.units import reaches, within

WASHERS: Final = frozenset({ApplianceKind.CLOTHES_WASHER, ApplianceKind.WASHER_DRYER})


def circuits_for(survey: Survey, purpose: Purpose) -> list[Circuit]:
    """The circuits that are stated to be for this."""
    return [each for each in survey.plan.circuits.values() if each.knows("purpose") and each.purpose is purpose]


def unsaid_purposes(survey: Survey) -> tuple[Pointer, ...]:
    """Circuits that do not say what they are for."""
    return tuple(each.where("purpose") for each in survey.plan.circuits.values() if not each.knows("purpose"))


# Laundry


def washers(survey: Survey) -> list[Appliance]:
    """Washing machines that plug into a 125 V receptacle; one of 240 V has a circuit like a dryer's."""
    found = [each for each in survey.plan.appliances.values() if each.kind in WASHERS]
    return [each for each in found if not (each.knows("volts") and not within(each.volts, LINE_TO_NEUTRAL))]


def laundry_rooms(survey: Survey) -> list[Room]:
    """The rooms that are laundries."""
    return [each for each in survey.plan.rooms.values() if Use.LAUNDRY in each.uses]


def laundry_circuits(survey: Survey) -> list[Circuit]:
    """The laundry's circuits, and a washing machine's individual one, which serves the laundry alone too."""
    feeding = {circuit_id_of(survey, each) for each in washers(survey)}
    own = [each for each in circuits_for(survey, Purpose.INDIVIDUAL) if each.id in feeding]
    return [*circuits_for(survey, Purpose.LAUNDRY), *own]


def is_shared_laundry(survey: Survey) -> bool:
    """In a building of many dwellings the laundry may be one for all."""
    basis = survey.plan.basis
    return basis.knows("building") and basis.building is BuildingKind.MULTIFAMILY


# Bathrooms


def bathrooms(survey: Survey) -> list[Room]:
    """The rooms that are bathrooms."""
    return [each for each in survey.plan.rooms.values() if Use.BATHROOM in each.uses]


def bathroom_receptacles(survey: Survey, room: Room, edition: Edition) -> Iterator[InRoom]:
    """The receptacles of a bathroom that its circuit must feed. Raises UnknownFact for a basin that is not drawn."""
    for each in receptacles_in(survey, room).found:
        washing = any(served.kind in WASHERS for served in appliances_served(survey, each.device))
        if not washing and (not edition.holds("bathroom_circuit_at_basins_only") or _is_at_basin(survey, room, each)):
            yield each


def required_in_bathroom(survey: Survey, room: Room, edition: Edition) -> frozenset[str]:
    """The ids of those receptacles."""
    return survey.once(_required_in_bathroom, room.id, edition)


def _required_in_bathroom(survey: Survey, room_id: str, edition: Edition) -> frozenset[str]:
    return frozenset(each.device.id for each in bathroom_receptacles(survey, survey.plan.rooms[room_id], edition))


def _is_at_basin(survey: Survey, room: Room, receptacle: InRoom) -> bool:
    device = receptacle.device
    on_counter = device.knows("mount") and device.mount is Mount.COUNTERTOP
    return on_counter or bool(basins_reached(survey, room, receptacle.point))


def serves_bathrooms(survey: Survey, circuit: Circuit) -> bool:
    """Whether it may feed a bathroom's receptacle: the bathrooms' circuit, or a 20 A one that feeds nothing else."""
    if circuit.purpose is Purpose.INDIVIDUAL:
        return (
            reaches(circuit.breaker.rating, survey.amperes("reserved_circuit_rating"))
            and len(fed_by(survey, circuit).free) <= 1
        )
    return circuit.purpose is Purpose.BATHROOM


# Garages


def garages(survey: Survey) -> list[Room]:
    """Garages with power for vehicles. One that does not say whether it is attached or has power is told of by itself."""
    return [each for each in survey.plan.rooms.values() if Use.GARAGE in each.uses and _has_power(each)]


def _has_power(room: Room) -> bool:
    if room.knows("vehicle_bays") and room.vehicle_bays == 0:
        return False
    return not (room.knows("attached", "has_power") and not room.attached and not room.has_power)


def garage_receptacles(survey: Survey, room: Room) -> tuple[InRoom, ...]:
    """The receptacles of a garage for whatever is used in it."""
    return receptacles_in(survey, room).for_use


def bays_off(survey: Survey, room: Room, off: list[InRoom], on: list[InRoom]) -> tuple[Bay, ...]:
    """The bays whose receptacles are all among those ``off`` the garage's circuits. Raises UnknownFact for what is not drawn."""
    if not off:
        return ()
    if room.vehicle_bays == 1:
        return () if on else (Bay(1, (off[0].point, off[0].point)),)
    found = bays(survey, room)
    bare = {each.number for each in empty_bays(found, [each.point for each in (*off, *on)])}
    left = empty_bays(found, [each.point for each in on]) if on else found
    return tuple(each for each in left if each.number not in bare)


# Where a device stands


def room_of(survey: Survey, device: Device) -> Room | None:
    """The room of a device; None outside. Raises UnknownFact where the plan does not say it."""
    return standing(survey, device).room


def is_ordinary(survey: Survey, device: Device) -> bool:
    """Whether it is a receptacle for 120 V. Raises UnknownFact where its voltage is not known."""
    return device.kind is DeviceKind.RECEPTACLE and within(receptacle_volts(survey, device), LINE_TO_NEUTRAL)


def washers_in(survey: Survey, room: Room) -> bool:
    """Whether a washing machine stands in a room."""
    return room.id in survey.once(_rooms_with_washers)


def _rooms_with_washers(survey: Survey) -> frozenset[str]:
    found = (each for each in survey.plan.appliances.values() if each.kind in WASHERS)
    return frozenset(each.room for each in found if each.knows("room"))
