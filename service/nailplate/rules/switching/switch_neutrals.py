"""Whether the neutral of a lighting circuit comes to the boxes of its switches, and the cables that would have to bring it."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from nailplate.calc.switching import CableWiring, Role, Wiring
from nailplate.plan import ROOT, Box, Cable, Circuit, Control, Device, Pointer
from nailplate.plan.words import DeviceKind
from nailplate.survey.index import Survey
from nailplate.survey.wiring import (
    LEAST_IN_CABLE,
    ControlWiring,
    Node,
    NodeKind,
    circuit_tree,
    control_wiring,
    name_of_node,
    node_of_device,
)

LIGHTING: Final = frozenset({DeviceKind.LUMINAIRE, DeviceKind.TRACK})


class Comes(StrEnum):
    """What the wiring says of a neutral at a box."""

    YES = "yes"
    NO = "no"
    OPEN = "open"
    """It turns on facts that are missing."""
    UNJUDGED = "unjudged"
    """The control cannot be wired as drawn, which other rules tell."""


@dataclass(frozen=True, slots=True)
class Arrival:
    """What is known of the neutral at a box, and the facts missing to know more."""

    comes: Comes
    needs: tuple[Pointer, ...] = ()


@dataclass(frozen=True, slots=True)
class LightSwitch:
    """A switch in a box, and the control by which it switches lighting."""

    device: Device
    control: Control


def light_switches(survey: Survey, box: Box) -> tuple[LightSwitch, ...]:
    """The switches in a box that control lighting outlets."""
    return survey.once(_by_box).get(box.id, ())


def _by_box(survey: Survey) -> Mapping[str, tuple[LightSwitch, ...]]:
    found: dict[str, list[LightSwitch]] = {}
    for control in survey.plan.controls.values():
        if not any(survey.plan.devices[each].kind in LIGHTING for each in control.outlets):
            continue
        for device in (survey.plan.devices[each] for each in dict.fromkeys(control.switches)):
            if device.knows("box"):
                found.setdefault(device.box, []).append(LightSwitch(device, control))
    return {box: tuple(switches) for box, switches in found.items()}


def neutral_at(survey: Survey, switch: LightSwitch) -> Arrival:
    """Whether the neutral of the switched lighting comes to the box of one of its switches."""
    found = control_wiring(survey, switch.control)
    if found.parts.needs:
        return Arrival(Comes.OPEN, found.parts.needs)
    if found.circuit is None or found.parts.faults or found.circuit.loops or found.circuit.lone or found.cut_off:
        return Arrival(Comes.UNJUDGED)
    if found.circuit.needs or found.unreached:
        return Arrival(Comes.OPEN, found.circuit.needs or (ROOT / "cables",))
    if found.circuit.wiring is None or not found.wired:
        return Arrival(Comes.UNJUDGED)
    return _in_wiring(survey, switch, found, found.circuit.wiring)


def _in_wiring(survey: Survey, switch: LightSwitch, found: ControlWiring, wiring: Wiring) -> Arrival:
    box = name_of_node(node_of_device(switch.device))
    if not any(joint.net.role is Role.NEUTRAL for joint in wiring.joints_in(box)):
        return Arrival(Comes.NO)
    planned = (wiring.cables[cable.id] for cable in _way(survey, switch, found))
    unsure = [each for each in planned if each.has is None and len(each.carried) > LEAST_IN_CABLE]
    if unsure:
        return Arrival(Comes.OPEN, tuple(survey.plan.cables[each.cable].where("insulated") for each in unsure))
    return Arrival(Comes.YES)


def _way(survey: Survey, switch: LightSwitch, found: ControlWiring) -> tuple[Cable, ...]:
    """The cables from the panel to a switch."""
    circuits = found.circuit.together.circuits if found.circuit is not None else ()
    ways = (circuit_tree(survey, circuit).path_to(node_of_device(switch.device)) for circuit in circuits)
    way = next((steps for steps in ways if steps), ())
    return tuple(step.cable for step in way if step.cable is not None)


def cables_without(survey: Survey, switch: LightSwitch) -> tuple[CableWiring, ...]:
    """The cables on the way to a switch that bring no neutral, the nearest to the panel first."""
    found = control_wiring(survey, switch.control)
    if found.circuit is None or found.circuit.wiring is None:
        return ()
    planned = (found.circuit.wiring.cables[cable.id] for cable in _way(survey, switch, found))
    return tuple(each for each in planned if all(net.role is not Role.NEUTRAL for net in each.carried))


def circuit_of_lighting(survey: Survey, control: Control) -> Circuit | None:
    """The circuit that a control's lighting is on, if it is on one."""
    circuits = control_wiring(survey, control).parts.circuits
    return circuits[0] if len(circuits) == 1 else None


def cables_into(survey: Survey, box: Box, circuit: Circuit) -> tuple[Cable, ...]:
    """The cables of a circuit that end in a box."""
    node = Node(NodeKind.BOX, box.id)
    tree = circuit_tree(survey, circuit)
    below = tuple(step.cable for step in tree.below.get(node, ()))
    own = tree.steps[node].cable if node in tree.steps else None
    return tuple(cable for cable in (own, *below) if cable is not None)
