"""Circuits that are wired as one: a circuit by itself, or a multiwire pair, with the cables of both and what it brings."""

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from typing import Final

from nailplate.calc import switching
from nailplate.calc.switching import Supply
from nailplate.plan import Cable, Circuit, Device, UnknownFact
from nailplate.plan.trade import TWO_LEGS
from nailplate.survey.index import Survey
from nailplate.survey.wiring.box_circuits import circuits_in_box
from nailplate.survey.wiring.cable_circuits import cables_carrying
from nailplate.survey.wiring.circuit_trees import circuit_tree
from nailplate.survey.wiring.multiwire import pairs_of
from nailplate.survey.wiring.wiring_nodes import Node, NodeKind, ends_of, node_of_device
from nailplate.units import reaches


@dataclass(frozen=True, slots=True)
class Together:
    """One circuit, or a multiwire pair in the plan's order; the second of a pair brings the second hot."""

    circuits: tuple[Circuit, ...]
    cables: tuple[Cable, ...]
    panel: Node | None
    fed: Mapping[Node, None]
    """Every node that the cables join to the panel, the panel first."""


def wired_together(survey: Survey, circuit: Circuit) -> Together:
    """What a circuit is wired together with."""
    return survey.once(_together, _first_of(survey, circuit).id)


def _first_of(survey: Survey, circuit: Circuit) -> Circuit:
    pairs = pairs_of(survey, circuit)
    return pairs[0].first if pairs and pairs_of(survey, pairs[0].first)[0] is pairs[0] else circuit


def _together(survey: Survey, circuit_id: str) -> Together:
    circuit = survey.plan.circuits[circuit_id]
    pairs = pairs_of(survey, circuit)
    circuits = pairs[0].halves if pairs and pairs[0].first is circuit else (circuit,)
    cables = tuple(dict.fromkeys(cable for each in circuits for cable in cables_carrying(survey, each.id)))
    panel = next((tree.panel for tree in (circuit_tree(survey, each) for each in circuits) if tree.panel), None)
    return Together(circuits, cables, panel, _fed(survey, panel, cables))


def _fed(survey: Survey, panel: Node | None, cables: tuple[Cable, ...]) -> Mapping[Node, None]:
    if panel is None:
        return {}
    beside: dict[Node, list[Node]] = {}
    for cable in cables:
        one, other = ends_of(survey, cable)
        beside.setdefault(one, []).append(other)
        beside.setdefault(other, []).append(one)
    found: dict[Node, None] = {panel: None}
    left = [panel]
    while left:
        new = dict.fromkeys(node for node in beside.get(left.pop(), ()) if node not in found)
        found.update(new)
        left += new
    return found


def closing_cables(survey: Survey, together: Together) -> tuple[Cable, ...]:
    """Cables that close a loop: each joins what the cables before it in the document join already."""
    drawn = []
    for cable in together.cables:
        one, other = ends_of(survey, cable)
        drawn.append(switching.Cable(cable.id, (str(one.pointer), str(other.pointer))))
    return tuple(survey.plan.cables[each] for each in switching.closing_cables(drawn))


# What a circuit brings


def supplies_of(together: Together, circuit: Circuit) -> tuple[Supply, ...]:
    """The conductors of a circuit's supply. Raises UnknownFact where it is not said whether it takes both legs, or has a neutral."""
    if len(together.circuits) > 1:
        return (Supply.SECOND_HOT if circuit is together.circuits[1] else Supply.HOT, Supply.NEUTRAL)
    if not _on_two_legs(circuit):
        return Supply.HOT, Supply.NEUTRAL
    return (*_BOTH_HOTS, Supply.NEUTRAL) if circuit.neutral else _BOTH_HOTS


_BOTH_HOTS: Final = (Supply.HOT, Supply.SECOND_HOT)


def _on_two_legs(circuit: Circuit) -> bool:
    if circuit.knows("legs"):
        return len(circuit.legs) > 1
    if circuit.knows("breaker") and circuit.breaker.knows("poles"):
        return circuit.breaker.poles > 1
    return reaches(circuit.voltage, TWO_LEGS)


# Which circuit a device is on


def circuit_of(survey: Survey, device: Device) -> Circuit:
    """A device's circuit: as stated, or the only one in its box. Raises UnknownFact where neither tells."""
    if not device.knows("circuit") and device.knows("box"):
        there = circuits_in_box(survey, survey.plan.boxes[device.box])
        if len(there.circuits) == 1 and not there.unsaid:
            return survey.plan.circuits[there.circuits[0]]
    return survey.plan.circuits[device.circuit]


def devices_by_circuit(survey: Survey) -> Mapping[str, tuple[Device, ...]]:
    """Circuit id to the devices on it, by their word or by their box."""
    return survey.once(_devices_by_circuit)


def _devices_by_circuit(survey: Survey) -> Mapping[str, tuple[Device, ...]]:
    found: dict[str, list[Device]] = {}
    for device in survey.plan.devices.values():
        for circuit_id in dict.fromkeys(_circuit_ids(survey, device)):
            found.setdefault(circuit_id, []).append(device)
    return {circuit_id: tuple(devices) for circuit_id, devices in found.items()}


def _circuit_ids(survey: Survey, device: Device) -> Iterator[str]:
    with suppress(UnknownFact):
        yield circuit_of(survey, device).id
    if device.knows("second_circuit"):
        yield device.second_circuit


def devices_without_circuit(survey: Survey) -> Mapping[Node, tuple[Device, ...]]:
    """Node to the devices in it of which neither they nor their box say the circuit."""
    return survey.once(_without_circuit)


def _without_circuit(survey: Survey) -> Mapping[Node, tuple[Device, ...]]:
    found: dict[Node, list[Device]] = {}
    for device in survey.plan.devices.values():
        node = node_of_device(device)
        if node.kind is NodeKind.BOX and not any(_circuit_ids(survey, device)):
            found.setdefault(node, []).append(device)
    return {node: tuple(devices) for node, devices in found.items()}
