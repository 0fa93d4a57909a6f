"""Where the protection of a receptacle or circuit comes from: the breaker, the device itself, or the LOAD side that feeds it.

A fact that is not stated is unknown here as everywhere, with one bound: a feed-through that the plan does not draw is asked for
only where the circuit holds a GFCI device that could be its source, since the plan has no word for "fed from no LOAD side".
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from nailplate.plan import Box, BoxEnd, Cable, Circuit, Device, DeviceEnd, PanelEnd, Pointer, Room, UnknownFact
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import DeviceKind
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


# Ground faults


@dataclass(frozen=True, slots=True)
class GroundFaultProtection:
    """What protects a receptacle from ground faults, or the facts that would tell. Neither: it is unprotected as drawn."""

    source: Circuit | Device | None
    unknown: tuple[Pointer, ...]
    circuits: tuple[Circuit, ...]


def ground_fault_protection(survey: Survey, device: Device) -> GroundFaultProtection:
    """GFCI protection of a device, traced up through what feeds it to the breaker."""
    return survey.once(_ground_fault_protection, device.id)


def is_gfci(device: Device) -> bool:
    """Whether a device is stated to be a ground-fault circuit interrupter."""
    return device.kind is DeviceKind.BLANK_GFCI or (device.knows("gfci") and device.gfci)


def feed_chain(survey: Survey, device: Device) -> Iterator[Device]:
    """The device, what feeds it from its LOAD side, and so on upstream; a chain that closes on itself ends there."""
    seen: set[str] = set()
    while device.id not in seen:
        seen.add(device.id)
        yield device
        if device.knows("feed_through_source"):
            device = survey.plan.devices[device.feed_through_source]


def _ground_fault_protection(survey: Survey, device_id: str) -> GroundFaultProtection:
    device = survey.plan.devices[device_id]
    chain = list(feed_chain(survey, device))
    circuits = _circuits(survey, chain)
    interrupter = next((each for each in chain if is_gfci(each)), None)
    if interrupter is device:
        return GroundFaultProtection(device, (), circuits)
    # One LOAD side feeds one circuit: the other half of a split receptacle needs a source of its own.
    left = circuits if interrupter is None else circuits[1:]
    if all(protects_people(each) for each in left) and (interrupter or left):
        return GroundFaultProtection(interrupter or left[0], (), circuits)
    unknown: tuple[Pointer, ...] = () if device.knows("gfci") else (device.where("gfci"),)
    halves = [_unknown_breaker(each) for each in left if not protects_people(each)] or [(device.where("circuit"),)]
    if interrupter is None and left and not protects_people(left[0]):
        halves[0] += _unknown_feed(survey, chain, left[0])
    if all(halves):  # a half about which nothing is unknown is unprotected, whatever the other is
        unknown += tuple(pointer for half in halves for pointer in half)
    return GroundFaultProtection(None, tuple(dict.fromkeys(unknown)), circuits)


def _circuits(survey: Survey, chain: list[Device]) -> tuple[Circuit, ...]:
    """The circuit of a device, or else of what feeds it; and the second one of a split receptacle."""
    first = next((each.circuit for each in chain if each.knows("circuit")), None)
    second = chain[0].second_circuit if chain[0].knows("second_circuit") else None
    return tuple(survey.plan.circuits[each] for each in dict.fromkeys((first, second)) if each is not None)


def protects_people(circuit: Circuit) -> bool:
    """Whether a circuit's breaker is stated to be a GFCI."""
    return circuit.knows("breaker") and circuit.breaker.knows("protects") and circuit.breaker.protects.gfci


def _unknown_breaker(circuit: Circuit) -> tuple[Pointer, ...]:
    if not circuit.knows("breaker"):
        return (circuit.where("breaker"),)
    return () if circuit.breaker.knows("protects") else (circuit.breaker.where("protects"),)


def _unknown_feed(survey: Survey, chain: list[Device], circuit: Circuit) -> tuple[Pointer, ...]:
    """What is not known about the devices upstream, and where a source that is not drawn would stand."""
    last, upstream = chain[-1], chain[1:]
    unknown = tuple(each.where("gfci") for each in upstream if not each.knows("gfci"))
    if last.knows("feed_through_source"):
        return unknown
    able = survey.once(_interrupters).get(circuit.id, [])
    may_feed = any(chain[0] not in feed_chain(survey, each) for each in able)
    return (*unknown, last.where("feed_through_source")) if may_feed else unknown


def _interrupters(survey: Survey) -> Mapping[str, list[Device]]:
    """Circuit id to the GFCI devices on it."""
    return {
        circuit: [device for device in devices if is_gfci(device)] for circuit, devices in survey.devices_on_circuit.items()
    }


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
