"""What each circuit feeds and what that draws: lights, what is fastened in place, what stands on a cord, what is plugged in by hand.

Each load is a span: at least and at most what it draws, the same figure where the plan says it. Lights without a figure count for
nothing: a dwelling's lighting is counted by its area (220.14). Alarms, chimes and thermostats draw next to nothing.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from nailplate.plan import Circuit, Device, Pointer, UnknownFact
from nailplate.plan.trade import CARRIED, NOT_OUTLETS
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import DeviceKind
from nailplate.survey.index import Survey
from nailplate.survey.loads.appliance_trades import Attached, Trade, attachment, trade_of
from nailplate.survey.loads.house_load import amperes_drawn
from nailplate.survey.protection import appliances_served

PADDLE_FAN: Final = 175.0
"""Volt-amperes that a ceiling fan draws at most, where the plan does not say it (common practice)."""
_LIGHTS: Final = frozenset({DeviceKind.LUMINAIRE, DeviceKind.TRACK})
_FANS: Final = frozenset({DeviceKind.FAN, DeviceKind.EXHAUST_FAN})
_DRAW: Final = _LIGHTS | _FANS | {DeviceKind.CONNECTION}


@dataclass(frozen=True, slots=True)
class CircuitLoad:
    """One load: what it is, how it is joined (None: not said), the amperes that it draws at least and at most, what is missing."""

    part: Appliance | Device
    attached: Attached | None
    least: float
    most: float
    needs: tuple[Pointer, ...] = ()

    @property
    def trade(self) -> Trade:
        """The rules that speak of its circuit."""
        return trade_of(self.part) if isinstance(self.part, Appliance) else Trade.OTHER


@dataclass(frozen=True, slots=True)
class Fed:
    """What a circuit feeds. ``free`` are outlets that are there for no appliance that keeps its place."""

    loads: tuple[CircuitLoad, ...]
    free: tuple[Device, ...]

    @property
    def appliances(self) -> tuple[Appliance, ...]:
        """Every appliance on it that keeps its place."""
        return tuple(
            each.part for each in self.loads if isinstance(each.part, Appliance) and each.attached is not Attached.CARRIED
        )

    @property
    def outlets(self) -> int:
        """How many outlets it has: one for each appliance, and the free ones."""
        return len(self.appliances) + len(self.free)

    @property
    def may_be_no_further(self) -> tuple[Pointer, ...]:
        """What is missing of connections that may be those of an appliance counted already."""
        return tuple(
            each.where("serves") for each in self.free if each.kind is DeviceKind.CONNECTION and not each.knows("serves")
        )

    @property
    def lights(self) -> bool:
        """Whether a light is on it."""
        return any(each.kind in _LIGHTS for each in self.free)

    @property
    def receptacles_for_use(self) -> tuple[Device, ...]:
        """Receptacles for whatever is plugged in."""
        return tuple(each for each in self.free if each.kind is DeviceKind.RECEPTACLE)

    def attached(self, *ways: Attached) -> tuple[CircuitLoad, ...]:
        """The loads that are joined in one of these ways."""
        return tuple(each for each in self.loads if each.attached in ways)


def fed_by(survey: Survey, circuit: Circuit) -> Fed:
    """What a circuit feeds."""
    return survey.once(_fed_by, circuit.id)


def circuit_id_of(survey: Survey, appliance: Appliance) -> str | None:
    """The circuit of an appliance: as stated, or that of the outlet it uses or that is there for it."""
    if appliance.knows("circuit"):
        return appliance.circuit
    outlets = survey.once(outlets_by_appliance).get(appliance.id, ())
    return next((each.circuit for each in outlets if each.knows("circuit")), None)


def outlets_by_appliance(survey: Survey) -> Mapping[str, list[Device]]:
    """Appliance id to the devices that are there for it, by its own word or by theirs."""
    found: dict[str, list[Device]] = {}
    for device in survey.plan.devices.values():
        for appliance in appliances_served(survey, device):
            found.setdefault(appliance.id, []).append(device)
    return found


def total(loads: Iterable[CircuitLoad]) -> tuple[float, float, tuple[Pointer, ...]]:
    """Amperes of these loads together, at least and at most, and what is missing between the two."""
    every = tuple(loads)
    needs = dict.fromkeys(need for each in every for need in each.needs)
    return sum(each.least for each in every), sum(each.most for each in every), tuple(needs)


def _fed_by(survey: Survey, circuit_id: str) -> Fed:
    circuit = survey.plan.circuits[circuit_id]
    appliances = survey.once(_appliances_by_circuit).get(circuit_id, [])
    free = tuple(each for each in survey.devices_on_circuit.get(circuit_id, []) if _is_free(survey, each))
    drawing = (_device_load(each, circuit) for each in free if each.kind in _DRAW)
    return Fed((*(_appliance_load(each) for each in appliances), *drawing), free)


def _is_free(survey: Survey, device: Device) -> bool:
    if device.kind in NOT_OUTLETS or device.knows("part_of"):
        return False
    return all(each.kind in CARRIED for each in appliances_served(survey, device))


def _appliances_by_circuit(survey: Survey) -> Mapping[str, list[Appliance]]:
    found: dict[str, list[Appliance]] = {}
    for appliance in survey.plan.appliances.values():
        circuit_id = circuit_id_of(survey, appliance)
        if circuit_id is not None:
            found.setdefault(circuit_id, []).append(appliance)
    return found


def _appliance_load(appliance: Appliance) -> CircuitLoad:
    attached = attachment(appliance)
    unsaid = () if attached is not None else (appliance.where("fastened"),)
    try:
        drawn = amperes_drawn(appliance)
    except UnknownFact as missing:
        return CircuitLoad(appliance, attached, 0.0, math.inf, (missing.pointer, *unsaid))
    return CircuitLoad(appliance, attached, drawn, drawn, unsaid)


def _device_load(device: Device, circuit: Circuit) -> CircuitLoad:
    attached = Attached.LIGHTING if device.kind in _LIGHTS else Attached.FASTENED
    if not device.knows("power"):
        return _unsaid(device, attached, circuit)
    if not circuit.knows("voltage"):
        return CircuitLoad(device, attached, 0.0, math.inf, (circuit.where("voltage"),))
    drawn = device.power / circuit.voltage
    return CircuitLoad(device, attached, drawn, drawn)


def _unsaid(device: Device, attached: Attached, circuit: Circuit) -> CircuitLoad:
    if attached is Attached.LIGHTING:
        return CircuitLoad(device, attached, 0.0, 0.0)
    if device.kind is DeviceKind.FAN and circuit.knows("voltage"):
        return CircuitLoad(device, attached, 0.0, PADDLE_FAN / circuit.voltage, (device.where("power"),))
    return CircuitLoad(device, attached, 0.0, math.inf, (device.where("power"),))
