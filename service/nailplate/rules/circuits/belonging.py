"""What belongs on a laundry's, a bathroom's and a garage's circuit."""

from collections.abc import Callable, Mapping
from typing import Final

from nailplate.plan import Appliance, Circuit, Device, Room, UnknownFact
from nailplate.plan.trade import FOOD_ROOMS, OUTDOOR
from nailplate.plan.words import DeviceKind, Fuel, Purpose, Use
from nailplate.rulekit import Job
from nailplate.survey.loads import WASHERS, Trade, is_ordinary, required_in_bathroom, room_of, trade_of, washers_in
from nailplate.survey.protection import appliances_served, outlets_of


def belongs(part: Device | Appliance, circuit: Circuit, job: Job) -> bool | None:
    """Whether an outlet belongs on the circuit, by its purpose; None where that is disputed. Raises UnknownFact."""
    if isinstance(part, Appliance):
        _knows_its_outlets(part, job)
        return False
    room = room_of(job.survey, part)
    answer = LOOKS[circuit.purpose](part, room, job)
    return True if answer is not True and _told_elsewhere(part, room, circuit, job) else answer


def _knows_its_outlets(appliance: Appliance, job: Job) -> None:
    """Raises UnknownFact where an outlet that the appliance uses does not say its circuit: it may be on this one."""
    for outlet in outlets_of(job.survey, appliance):
        if not outlet.knows("circuit"):
            raise UnknownFact(outlet.where("circuit"))


def _told_elsewhere(device: Device, room: Room | None, circuit: Circuit, job: Job) -> bool:
    """Whether the rule on another reserved circuit says that this outlet belongs there."""
    if room is None or not is_ordinary(job.survey, device):
        return False
    if circuit.purpose is not Purpose.LAUNDRY and any(each.kind in WASHERS for each in appliances_served(job.survey, device)):
        return True
    if circuit.purpose is not Purpose.BATHROOM and Use.BATHROOM in room.uses:
        return device.id in required_in_bathroom(job.survey, room, job.edition)
    every = circuit.purpose is not Purpose.GARAGE and Use.GARAGE in room.uses and not job.holds("garage_circuit_one_a_bay")
    return every or FOOD_ROOMS.issuperset(room.uses)


def _is_laundrys(device: Device, room: Room | None, job: Job) -> bool:
    if not is_ordinary(job.survey, device):
        return False
    if any(each.kind in WASHERS or _is_gas_dryer(each) for each in appliances_served(job.survey, device)):
        return True
    return room is not None and (Use.LAUNDRY in room.uses or (washers_in(job.survey, room) and Use.BATHROOM not in room.uses))


def _is_gas_dryer(appliance: Appliance) -> bool:
    return trade_of(appliance) is Trade.OTHER and appliance.isnt(fuel=Fuel.NONE)


def _is_bathrooms(device: Device, room: Room | None, job: Job) -> bool | None:
    """None: a receptacle of a bathroom that is neither at a basin nor at a counter, from 2020 on."""
    if room is None or Use.BATHROOM not in room.uses or not is_ordinary(job.survey, device):
        return False
    return True if device.id in required_in_bathroom(job.survey, room, job.edition) else None


def _is_garages(device: Device, room: Room | None, job: Job) -> bool:
    if room is not None and Use.GARAGE in room.uses:
        return device.kind is DeviceKind.RECEPTACLE or (job.holds("garage_circuit_any_outdoors") and room.vehicle_bays == 1)
    outdoors = room is None or bool(OUTDOOR & set(room.uses))
    if not outdoors or not is_ordinary(job.survey, device):
        return False
    return job.holds("garage_circuit_any_outdoors") or not device.is_(readily_accessible=False)


LOOKS: Final[Mapping[Purpose, Callable[[Device, Room | None, Job], bool | None]]] = {
    Purpose.LAUNDRY: _is_laundrys,
    Purpose.BATHROOM: _is_bathrooms,
    Purpose.GARAGE: _is_garages,
}
"""Whether an outlet belongs, by the purpose of the circuit."""
