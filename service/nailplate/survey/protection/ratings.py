"""What protection rests on: ratings of receptacles, arc-fault devices, and what a circuit supplies and where."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from nailplate.plan import Box, BoxEnd, Cable, Circuit, Device, DeviceEnd, PanelEnd, Pointer, Room, UnknownFact
from nailplate.plan.wiring import Appliance
from nailplate.survey.index import Survey
from nailplate.survey.places import standing

NO_ROOM: Final = Pointer("/rooms")
"""What is missing where a part stands in no room that is drawn, and not on the weather side of an outside wall."""


# Ratings


def receptacle_amperes(survey: Survey, device: Device) -> float:
    """A receptacle's rating, or that of its circuit, which bounds it: a 20 A circuit takes 15 A and 20 A receptacles alike."""
    if not device.knows("rating") and device.knows("circuit"):
        circuit = survey.plan.circuits[device.circuit]
        if circuit.knows("breaker") and circuit.breaker.knows("rating"):
            return circuit.breaker.rating
    return device.rating


def receptacle_volts(survey: Survey, device: Device) -> float:
    """A receptacle's voltage rating, or else its circuit's nominal voltage."""
    if not device.knows("voltage") and device.knows("circuit") and survey.plan.circuits[device.circuit].knows("voltage"):
        return survey.plan.circuits[device.circuit].voltage
    return device.voltage


# Arc faults


def outlet_type_interrupter(survey: Survey, circuit: Circuit) -> Device | None:
    """The first device on a circuit that is stated to be an outlet-type arc-fault interrupter."""
    devices = survey.devices_on_circuit.get(circuit.id, [])
    return next((each for each in devices if each.knows("afci") and each.afci), None)


@dataclass(frozen=True, slots=True)
class HomeRun:
    """The one cable that the plan draws from a panel to a circuit's first box or device."""

    cable: Cable
    box: Box | None
    device: Device | None

    def ends_at(self, device: Device) -> bool:
        """Whether this device is where the home run ends."""
        return self.device is device or (self.box is not None and device.knows("box") and device.box == self.box.id)


def home_run(survey: Survey, circuit: Circuit) -> HomeRun | None:
    """A circuit's home run, if exactly one is drawn and its far end is."""
    runs = [
        each for each in survey.cables_on_circuit.get(circuit.id, []) if any(isinstance(end, PanelEnd) for end in each.ends)
    ]
    if len(runs) != 1:
        return None
    for end in runs[0].ends:
        if isinstance(end, BoxEnd):
            return HomeRun(runs[0], survey.plan.boxes[end.box], None)
        if isinstance(end, DeviceEnd):
            return HomeRun(runs[0], None, survey.plan.devices[end.device])
    return None


# What a circuit supplies, and where


@dataclass(frozen=True, slots=True)
class Supplied:
    """The outlets and devices of a circuit with the rooms they stand in (None: outside), and facts missing about the rest."""

    places: tuple[tuple[Device | Appliance, Room | None], ...]
    unknown: tuple[Pointer, ...]


def supplied(survey: Survey, circuit: Circuit) -> Supplied:
    """What a circuit supplies: devices on it, switches that control an outlet on it, and appliances on it."""
    places: list[tuple[Device | Appliance, Room | None]] = []
    unknown: list[Pointer] = []
    for part in _parts_on(survey, circuit):
        try:
            places.append((part, _room_of(survey, part)))
        except UnknownFact as missing:
            unknown.append(missing.pointer)
    return Supplied(tuple(places), tuple(dict.fromkeys(unknown)))


def _parts_on(survey: Survey, circuit: Circuit) -> list[Device | Appliance]:
    devices = survey.devices_on_circuit.get(circuit.id, [])
    controls = dict.fromkeys(control for device in devices for control in survey.controls_of.get(device.id, []))
    switches = (survey.plan.devices[each] for control in controls for each in control.switches)
    unsaid = [each for each in switches if not each.knows("circuit")]
    return list(dict.fromkeys((*devices, *unsaid, *survey.appliances_on_circuit.get(circuit.id, []))))


def _room_of(survey: Survey, part: Device | Appliance) -> Room | None:
    if isinstance(part, Appliance):
        return survey.plan.rooms[part.room]
    where = standing(survey, part)
    if where.room is None and not where.outside:
        raise UnknownFact(NO_ROOM)
    return where.room


def appliances_served(survey: Survey, device: Device) -> tuple[Appliance, ...]:
    """The appliances that a receptacle is there for, by its own word or by theirs."""
    named = [*(device.serves if device.knows("serves") else ())]
    if device.knows("dedicated_space"):
        named.append(device.dedicated_space)
    users = survey.once(_users).get(device.id, [])
    return tuple(dict.fromkeys((*(survey.plan.appliances[each] for each in named), *users)))


def _users(survey: Survey) -> Mapping[str, list[Appliance]]:
    """Device id to the appliances that say they use it."""
    found: dict[str, list[Appliance]] = {}
    for appliance in survey.plan.appliances.values():
        if appliance.knows("outlet"):
            found.setdefault(appliance.outlet, []).append(appliance)
    return found
