"""Where cables leave their circuit: ends at which everything else is on other circuits, or the panel is another one."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from nailplate.plan import Cable
from nailplate.survey.index import Survey
from nailplate.survey.wiring.cable_circuits import CarriedBy, carried, circuits_of
from nailplate.survey.wiring.circuit_trees import circuit_tree
from nailplate.survey.wiring.wiring_nodes import Node, NodeKind, cables_at, devices_at, ends_of, is_power_cable


@dataclass(frozen=True, slots=True)
class Change:
    """An end of a cable where nothing is on its circuit. ``others`` are the circuits there; none where it is another's panel."""

    cable: Cable
    node: Node
    others: tuple[str, ...]


def changes_of(survey: Survey, cable: Cable) -> tuple[Change, ...]:
    """The ends at which a cable leaves its circuit. What says no circuit, or may be on the same, changes nothing."""
    return survey.once(_changes, cable.id)


def changing_cables(survey: Survey, node: Node, circuit_id: str) -> tuple[Cable, ...]:
    """Cables of other circuits that end at a node, with nothing else of theirs there while the node is on this circuit."""
    found = survey.once(_changes_at).get(node, ())
    return tuple(change.cable for change in found if circuit_id in change.others)


def stands_unfed(survey: Survey, node: Node) -> bool:
    """Whether a node is on a piece of some circuit that holds its devices and isn't joined to its panel."""
    return node in survey.once(_unfed_nodes)


def _changes_at(survey: Survey) -> Mapping[Node, list[Change]]:
    found: dict[Node, list[Change]] = {}
    for cable in survey.plan.cables.values():
        for change in changes_of(survey, cable) if is_power_cable(cable) else ():
            found.setdefault(change.node, []).append(change)
    return found


def _changes(survey: Survey, cable_id: str) -> tuple[Change, ...]:
    cable = survey.plan.cables[cable_id]
    mine = carried(survey, cable).known
    return tuple(_change_at_ends(survey, cable, mine)) if mine else ()


def _change_at_ends(survey: Survey, cable: Cable, mine: tuple[str, ...]) -> Iterator[Change]:
    ends = ends_of(survey, cable)
    for node in dict.fromkeys(ends):
        if node.kind is NodeKind.PANEL:
            panels = {survey.plan.circuits[each].panel for each in mine if survey.plan.circuits[each].knows("panel")}
            if panels and node.id not in panels:
                yield Change(cable, node, ())
            continue
        said = survey.once(_said, node)
        if not said.may_be_any and all(said.parts[each] == ends.count(node) for each in mine):
            others = tuple(each for each in said.parts if each not in mine)
            if others:
                yield Change(cable, node, others)


@dataclass(frozen=True, slots=True)
class _Said:
    """How many cable ends and devices at a node are on each circuit, and whether one there may be on any."""

    parts: Mapping[str, int]
    may_be_any: bool


def _said(survey: Survey, node: Node) -> _Said:
    devices = [device for device in devices_at(survey, node) if not device.knows("part_of")]
    cables = [carried(survey, cable) for cable in cables_at(survey, node)]
    parts = Counter(circuit for device in devices for circuit in circuits_of(device))
    parts.update(circuit for found in cables for circuit in found.known)
    open_cables = any(found.by is CarriedBy.OPEN for found in cables)
    return _Said(parts, open_cables or any(not circuits_of(device) for device in devices))


def _unfed_nodes(survey: Survey) -> frozenset[Node]:
    trees = (circuit_tree(survey, circuit) for circuit in survey.plan.circuits.values())
    islands = (island for tree in trees for island in tree.islands if island.devices)
    return frozenset(node for island in islands for node in island.nodes)
