"""A circuit of the plan as a layout to be wired: its nodes, cables, controls, and what is always live on it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from nailplate.calc import switching
from nailplate.calc.switching import Supply
from nailplate.plan import Cable, Control, Device, Pointer, UnknownFact
from nailplate.plan.trade import ALARMS, SWITCHING, TWO_LEGS
from nailplate.plan.words import CableType, DeviceKind, Interconnect
from nailplate.survey.index import Survey
from nailplate.survey.wiring.cable_lengths import cable_length
from nailplate.survey.wiring.control_parts import ControlParts, control_parts, is_half_switched
from nailplate.survey.wiring.wired_together import (
    Together,
    devices_by_circuit,
    devices_without_circuit,
    supplies_of,
)
from nailplate.survey.wiring.wiring_nodes import Node, ends_of, node_of_device
from nailplate.units import reaches

TAKE_NOTHING: Final = SWITCHING - {DeviceKind.DISCONNECT, DeviceKind.THERMOSTAT}
"""Devices that only open a circuit; a disconnect or thermostat that no control names passes it on to equipment."""


@dataclass(frozen=True, slots=True)
class DrawnLayout:
    """A layout, and by pointer what had to be left out of it."""

    layout: switching.Layout
    left_out: tuple[Pointer, ...]


def drawn_layout(survey: Survey, together: Together, panel: Node) -> DrawnLayout:
    """The layout of circuits wired together. Raises UnknownFact where it is not said what they bring."""
    left_out: list[Pointer] = []
    controls = tuple(_controls(survey, together, left_out))
    loads = tuple(_loads(survey, together, controls, left_out))
    cables = [cable for cable in together.cables if ends_of(survey, cable)[0] in together.fed]
    nodes = dict.fromkeys(node for cable in cables for node in ends_of(survey, cable))
    layout = switching.Layout(
        feed=name_of_node(panel),
        boxes=tuple(name_of_node(node) for node in dict.fromkeys((panel, *nodes))),
        cables=tuple(_cables(survey, cables)),
        controls=controls,
        loads=loads,
        signals=tuple(_signals(survey, together)),
        neutral_wished=tuple(dict.fromkeys(switch.box for control in controls for switch in control.switches)),
    )
    return DrawnLayout(layout, tuple(dict.fromkeys(left_out)))


def name_of_node(node: Node) -> str:
    """What a node is called in a layout."""
    return str(node.pointer)


def _box_of(device: Device) -> str:
    return name_of_node(node_of_device(device))


# Cables


def _cables(survey: Survey, cables: list[Cable]) -> Iterator[switching.Cable]:
    """Copper is weighed by length where every length is known, else by the number of runs."""
    weigh = _lengths_known(survey, cables)
    for cable in cables:
        one, other = ends_of(survey, cable)
        yield switching.Cable(
            cable.id,
            (name_of_node(one), name_of_node(other)),
            cable.insulated if cable.knows("insulated") else None,
            cable_length(survey, cable).inches if weigh else 1.0,
            white_marked=cable.knows("reidentified_white") and cable.reidentified_white,
            raceway=cable.knows("type") and cable.type is CableType.RACEWAY,
        )


def _lengths_known(survey: Survey, cables: list[Cable]) -> bool:
    try:
        for cable in cables:
            cable_length(survey, cable)
    except UnknownFact:  # unknown: the shortest way is told only where every length is known
        return False
    return True


# Controls


def _controls(survey: Survey, together: Together, left_out: list[Pointer]) -> Iterator[switching.Control]:
    for control in controls_on(survey, together):
        parts = control_parts(survey, control)
        try:
            if in_the_way(parts, together):
                left_out += in_the_way(parts, together)
            elif parts.switches:
                yield _control(parts, together)
        except UnknownFact as unknown:
            left_out.append(unknown.pointer)


def in_the_way(parts: ControlParts, together: Together) -> tuple[Pointer, ...]:
    """What keeps a control out of the wiring of its circuit."""
    if parts.on_several:
        return (parts.control.pointer,)
    return (*parts.needs, *(fault.at for fault in parts.faults), *(each.pointer for each in unreached(parts, together)))


def unreached(parts: ControlParts, together: Together) -> tuple[Device, ...]:
    """Switches and outlets of a control that no cable of the circuit joins to the panel."""
    members = (*(device for device, _ in parts.switches), *parts.outlets)
    return tuple(device for device in members if node_of_device(device) not in together.fed)


def _control(parts: ControlParts, together: Together) -> switching.Control:
    supplies = supplies_of(together, parts.circuits[0])
    return switching.Control(
        parts.control.id,
        tuple(switching.Switch(device.id, _box_of(device), kind) for device, kind in parts.switches),
        tuple(switching.Outlet(device.id, _box_of(device), _back(device, supplies)) for device in parts.outlets),
        supplies[0],
    )


def _back(outlet: Device, supplies: tuple[Supply, ...]) -> Supply:
    """The neutral where there is one; of a circuit that has two hots besides, only for an outlet of one leg's voltage."""
    if Supply.NEUTRAL not in supplies:
        return Supply.SECOND_HOT
    return Supply.SECOND_HOT if len(supplies) == len(Supply) and reaches(outlet.voltage, TWO_LEGS) else Supply.NEUTRAL


def controls_on(survey: Survey, together: Together) -> list[Control]:
    """The controls that have a switch or outlet on these circuits, circuit by circuit in the plan's order."""
    by_circuit = survey.once(_controls_by_circuit)
    return list(dict.fromkeys(each for circuit in together.circuits for each in by_circuit.get(circuit.id, ())))


def _controls_by_circuit(survey: Survey) -> Mapping[str, tuple[Control, ...]]:
    found: dict[str, list[Control]] = {}
    for control in survey.plan.controls.values():
        for circuit in control_parts(survey, control).circuits:
            found.setdefault(circuit.id, []).append(control)
    return {circuit_id: tuple(controls) for circuit_id, controls in found.items()}


# What is always live


def _loads(
    survey: Survey, together: Together, controls: tuple[switching.Control, ...], left_out: list[Pointer]
) -> Iterator[switching.Load]:
    controlled = {outlet.id for control in controls for outlet in control.outlets}
    for device in _devices(survey, together):
        if device.kind in TAKE_NOTHING or (device.id in controlled and not is_half_switched(device)):
            continue
        if node_of_device(device) in together.fed:
            yield switching.Load(device.id, _box_of(device), _needs(survey, together, device))
        else:
            left_out.append(device.pointer)
    for node in together.fed:
        unsaid = devices_without_circuit(survey).get(node, ())
        left_out += (each.where("circuit") for each in unsaid if each.kind not in TAKE_NOTHING)


def _devices(survey: Survey, together: Together) -> tuple[Device, ...]:
    by_circuit = devices_by_circuit(survey)
    return tuple(dict.fromkeys(device for circuit in together.circuits for device in by_circuit.get(circuit.id, ())))


def _needs(survey: Survey, together: Together, device: Device) -> tuple[Supply, ...]:
    """What the device's circuits bring; a receptacle split between both halves of a multiwire circuit takes both hots."""
    by_circuit = devices_by_circuit(survey)
    on = [circuit for circuit in together.circuits if device in by_circuit.get(circuit.id, ())]
    brought = {supply for circuit in on for supply in supplies_of(together, circuit)}
    return tuple(supply for supply in Supply if supply in brought)


def _signals(survey: Survey, together: Together) -> Iterator[switching.Signal]:
    joined = [device for device in _devices(survey, together) if _is_interconnected(device)]
    joined = [device for device in joined if node_of_device(device) in together.fed]
    if joined:
        yield switching.Signal("alarms", tuple((device.id, _box_of(device)) for device in joined))


def _is_interconnected(device: Device) -> bool:
    return device.kind in ALARMS and device.knows("interconnect") and device.interconnect is Interconnect.WIRED
