"""Which circuits a cable carries: as stated, or as everything around it says, or not known."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from nailplate.plan import Cable, Circuit, Device, Pointer
from nailplate.survey.index import Survey
from nailplate.survey.wiring.wiring_nodes import Node, NodeKind, cables_at, devices_at, ends_of, is_power_cable


class CarriedBy(StrEnum):
    """How it is known what a cable carries."""

    STATED = "stated"
    INFERRED = "inferred"
    """The cable doesn't say, but devices and cables around it are of one circuit only."""
    OPEN = "open"
    """The cable doesn't say, and around it are several circuits, or none."""


@dataclass(frozen=True, slots=True)
class Carried:
    """The ids of the circuits that a cable carries (two in a multiwire cable); where that is open, those it may carry."""

    circuits: tuple[str, ...]
    by: CarriedBy

    @property
    def known(self) -> tuple[str, ...]:
        """The circuits it certainly carries."""
        return () if self.by is CarriedBy.OPEN else self.circuits


def carried(survey: Survey, cable: Cable) -> Carried:
    """What a cable carries; of a flexible cord, which joins nothing here, by its own word alone."""
    own = circuits_of(cable)
    return survey.once(_all_carried).get(cable.id) or Carried(own, CarriedBy.STATED if own else CarriedBy.OPEN)


def cables_carrying(survey: Survey, circuit_id: str) -> tuple[Cable, ...]:
    """The power cables that carry a circuit, by their own word or by inference, in the plan's order."""
    return survey.once(_by_circuit).get(circuit_id, ())


def circuits_of(part: Device | Cable) -> tuple[str, ...]:
    """The circuits that a device or cable is stated to be on."""
    names = [getattr(part, name) for name in ("circuit", "second_circuit") if part.knows(name)]
    return tuple(dict.fromkeys(names))


def may_carry_too(cable: Cable, circuit: Circuit) -> Pointer | None:
    """What is missing of a cable that states one circuit and may carry another too: of a multiwire cable the other half."""
    if not is_power_cable(cable) or cable.knows("circuit", "second_circuit"):
        return None
    if cable.knows("second_circuit"):
        return cable.where("circuit")
    partner = circuit.multiwire.partner if circuit.knows("multiwire") else None
    room = not cable.knows("insulated") or cable.insulated >= _OF_TWO_CIRCUITS
    return cable.where("second_circuit") if room and cable.is_(circuit=partner) else None


_OF_TWO_CIRCUITS = 3
"""Insulated conductors of a cable that carries two circuits with one neutral."""


def _by_circuit(survey: Survey) -> Mapping[str, tuple[Cable, ...]]:
    found: dict[str, list[Cable]] = {}
    for cable_id, each in survey.once(_all_carried).items():
        for circuit in each.known:
            found.setdefault(circuit, []).append(survey.plan.cables[cable_id])
    return {circuit: tuple(cables) for circuit, cables in found.items()}


def _all_carried(survey: Survey) -> Mapping[str, Carried]:
    power = [cable for cable in survey.plan.cables.values() if is_power_cable(cable)]
    found = {cable.id: Carried(circuits_of(cable), CarriedBy.STATED) for cable in power if circuits_of(cable)}
    for cable in power:
        if cable.id not in found:
            found.update(_inferred(survey, cable))
    return {cable.id: found[cable.id] for cable in power}


def _inferred(survey: Survey, start: Cable) -> Mapping[str, Carried]:
    """What cables without a word of their own carry, all that hang together with ``start`` at once."""
    cables, nodes = _unsaid_around(survey, start)
    near = tuple(dict.fromkeys(circuit for node in nodes for circuit in _said_at(survey, node)))
    by = CarriedBy.INFERRED if len(near) == 1 else CarriedBy.OPEN
    return {cable.id: Carried(near, by) for cable in cables}


def _unsaid_around(survey: Survey, start: Cable) -> tuple[list[Cable], list[Node]]:
    """Cables that say no circuit and are joined to each other, and the boxes and devices they end at. A panel joins nothing."""
    cables, nodes = {start: None}, dict[Node, None]()
    left = [start]
    while left:
        for node in ends_of(survey, left.pop()):
            if node.kind is NodeKind.PANEL or node in nodes:
                continue
            nodes[node] = None
            new = [each for each in cables_at(survey, node) if not circuits_of(each) and each not in cables]
            cables.update(dict.fromkeys(new))
            left += dict.fromkeys(new)
    return list(cables), list(nodes)


def _said_at(survey: Survey, node: Node) -> Iterator[str]:
    for device in devices_at(survey, node):
        yield from circuits_of(device)
    for cable in cables_at(survey, node):
        yield from circuits_of(cable)
