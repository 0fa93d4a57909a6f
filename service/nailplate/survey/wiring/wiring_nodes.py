"""The points that cables join: a panel, a box, or a device with its own wiring space."""

from collections.abc import Mapping
from enum import StrEnum
from typing import NamedTuple

from nailplate.plan import Box, BoxEnd, Cable, Device, Panel, PanelEnd, Pointer
from nailplate.plan.cables import End
from nailplate.plan.words import CableType
from nailplate.survey.index import Survey


class NodeKind(StrEnum):
    """What stands at a node; the values are the plan's map names."""

    PANEL = "panels"
    BOX = "boxes"
    DEVICE = "devices"


class Node(NamedTuple):
    """A panel, a box, or a device that cables end at without a box."""

    kind: NodeKind
    id: str

    @property
    def pointer(self) -> Pointer:
        """Where the plan states it."""
        return Pointer(f"/{self.kind}") / self.id


def node_of_device(device: Device) -> Node:
    """Where a device is wired: its box, or its own wiring space."""
    return Node(NodeKind.BOX, device.box) if device.knows("box") else Node(NodeKind.DEVICE, device.id)


def part_at(survey: Survey, node: Node) -> Panel | Box | Device:
    """The part of the plan that a node stands for."""
    part: Panel | Box | Device = getattr(survey.plan, node.kind)[node.id]
    return part


def devices_at(survey: Survey, node: Node) -> tuple[Device, ...]:
    """Every device wired at a node, whatever its circuit."""
    if node.kind is NodeKind.BOX:
        return tuple(survey.devices_in_box.get(node.id, ()))
    return (survey.plan.devices[node.id],) if node.kind is NodeKind.DEVICE else ()


def cables_at(survey: Survey, node: Node) -> tuple[Cable, ...]:
    """Every power cable that ends at a node; one with both ends there stands twice."""
    return survey.once(_cables_at).get(node, ())


def _cables_at(survey: Survey) -> Mapping[Node, tuple[Cable, ...]]:
    found: dict[Node, list[Cable]] = {}
    for cable in survey.plan.cables.values():
        for node in ends_of(survey, cable) if is_power_cable(cable) else ():
            found.setdefault(node, []).append(cable)
    return {node: tuple(cables) for node, cables in found.items()}


def is_power_cable(cable: Cable) -> bool:
    """Limited-energy cables are Article 725's, flexible cords 400's."""
    limited = cable.knows("low_voltage") and cable.low_voltage
    return not limited and not (cable.knows("type") and cable.type is CableType.CORD)


def ends_of(survey: Survey, cable: Cable) -> tuple[Node, Node]:
    """Both ends of a cable, in the order drawn. A device that is in a box is wired there, even where the cable names the device."""
    kept = survey.shelf(_both_ends)
    found = kept.get(cable)
    if found is None:
        found = kept[cable] = _both_ends(survey, cable)
    return found


def _both_ends(survey: Survey, cable: Cable) -> tuple[Node, Node]:
    first, second = cable.ends
    return _wired_at(survey, first), _wired_at(survey, second)


def _wired_at(survey: Survey, end: End) -> Node:
    if isinstance(end, BoxEnd):
        return Node(NodeKind.BOX, end.box)
    if isinstance(end, PanelEnd):
        return Node(NodeKind.PANEL, end.panel)
    return node_of_device(survey.plan.devices[end.device])
