"""One graph per circuit: its panel, the boxes and devices its cables join, and in which order they are fed.

The public face of it:

- ``circuit_tree(survey, circuit)`` is a circuit's ``CircuitTree``: ``steps`` in the order of feeding, ``islands`` that no cable
  joins to the panel, ``loops``, ``dead_ends``, and devices that stand ``unfed``.
- ``feed_path(survey, device)`` is the way from the panel to a device, for asking what stands on its line side.
- ``is_cut_off(survey, device)`` is for rules that say nothing where a feed is missing, since ``circuit-fed`` tells of it.
- ``lengths_from_panel`` (in ``cable_lengths``) says how much cable lies between.

Which cables carry a circuit is ``cable_circuits``' business, what stands in a box ``box_circuits``'.
"""

from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from nailplate.plan import Cable, Circuit, Device
from nailplate.survey.index import Survey
from nailplate.survey.wiring.cable_circuits import cables_carrying, circuits_of
from nailplate.survey.wiring.wiring_nodes import Node, NodeKind, devices_at, ends_of, node_of_device


@dataclass(frozen=True, slots=True)
class Step:
    """A node as it is fed: through ``cable`` from ``upstream``. Both are None at the panel (or where an island is entered)."""

    node: Node
    upstream: Node | None
    cable: Cable | None
    depth: int
    """How many cables lie between the panel and it."""


@dataclass(frozen=True, slots=True)
class Loop:
    """Cables that form a ring; ``closing`` is the one that a walk from the panel comes to last."""

    closing: Cable
    ring: tuple[Cable, ...]
    nodes: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Island:
    """Nodes of a circuit that hang together and that no cable of it joins to the panel. ``devices`` are those on the circuit."""

    nodes: tuple[Node, ...]
    cables: tuple[Cable, ...]
    devices: tuple[Device, ...]


@dataclass(frozen=True, slots=True)
class CircuitTree:
    """One circuit as its cables are drawn."""

    circuit: Circuit
    panel: Node | None
    """Its panel: as stated, or else the only one that its cables end in; None where that isn't known."""
    cables: tuple[Cable, ...]
    """Every power cable that carries it, in the plan's order."""
    home_runs: tuple[Cable, ...]
    """Those that end in its panel."""
    steps: Mapping[Node, Step]
    """Every node fed from the panel, the panel first, each after the one that feeds it."""
    loops: tuple[Loop, ...]
    islands: tuple[Island, ...]
    """A device on the circuit that no cable of it reaches is an island by itself."""
    dead_ends: tuple[Node, ...]
    """Fed boxes at the end of a branch with no device on the circuit in them; in the order of feeding."""
    below: Mapping[Node, tuple[Step, ...]]
    """Node to the steps that it feeds."""

    @property
    def unfed(self) -> tuple[Device, ...]:
        """Devices on the circuit that its cables do not join to the panel."""
        return tuple(device for island in self.islands for device in island.devices)

    def feeds(self, node: Node) -> bool:
        """Whether the circuit's cables lead from its panel to a node."""
        return node in self.steps

    def path_to(self, node: Node) -> tuple[Step, ...]:
        """The steps from the panel to a node, the panel's first; empty where the node is not fed."""
        path: list[Step] = []
        step = self.steps.get(node)
        while step is not None:
            path.append(step)
            step = self.steps[step.upstream] if step.upstream is not None else None
        return tuple(reversed(path))


def circuit_tree(survey: Survey, circuit: Circuit) -> CircuitTree:
    """A circuit's tree, worked out once."""
    return survey.once(_circuit_tree, circuit.id)


def feed_path(survey: Survey, device: Device, circuit: Circuit | None = None) -> tuple[Step, ...]:
    """The steps from the panel to a device, by its own circuit unless another is named; empty where it is not fed.

    Raises UnknownFact where neither says a circuit.
    """
    on = circuit or survey.plan.circuits[device.circuit]
    return circuit_tree(survey, on).path_to(node_of_device(device))


def is_cut_off(survey: Survey, device: Device) -> bool:
    """Whether cables are drawn and those of a device's own circuit do not lead to it, which ``circuit-fed`` tells for the circuit."""
    if not survey.plan.cables or device.knows("part_of"):
        return False
    trees = (circuit_tree(survey, survey.plan.circuits[each]) for each in circuits_of(device))
    return any(not tree.feeds(node_of_device(device)) for tree in trees)


def island_of(survey: Survey, circuit: Circuit, cable: Cable) -> Island | None:
    """The piece of a circuit that one of its cables is in, if its panel does not feed it."""
    return survey.once(_islands_by_cable, circuit.id).get(cable)


def loop_closed_by(survey: Survey, circuit: Circuit, cable: Cable) -> Loop | None:
    """The ring that a cable closes in a circuit."""
    return survey.once(_loops_by_cable, circuit.id).get(cable)


def _islands_by_cable(survey: Survey, circuit_id: str) -> Mapping[Cable, Island]:
    tree = circuit_tree(survey, survey.plan.circuits[circuit_id])
    return {cable: island for island in tree.islands for cable in island.cables}


def _loops_by_cable(survey: Survey, circuit_id: str) -> Mapping[Cable, Loop]:
    return {loop.closing: loop for loop in circuit_tree(survey, survey.plan.circuits[circuit_id]).loops}


# How it is built


_Joins = Mapping[Node, list[tuple[Cable, Node]]]
"""What a circuit's cables join: for each node the cables at it, each with its far end."""


@dataclass(frozen=True, slots=True)
class _Walk:
    """What was reached from one node, in order, and the cables that closed a ring on the way."""

    steps: dict[Node, Step]
    closing: tuple[tuple[Cable, Node, Node], ...]


def _circuit_tree(survey: Survey, circuit_id: str) -> CircuitTree:
    circuit = survey.plan.circuits[circuit_id]
    cables = cables_carrying(survey, circuit_id)
    joins = _joins(survey, cables)
    panel = _panel(circuit, joins)
    fed = _walk(panel, joins) if panel else _Walk({}, ())
    stray = list(_stray(survey, circuit_id, joins, fed.steps))
    return CircuitTree(
        circuit=circuit,
        panel=panel,
        cables=cables,
        home_runs=tuple(dict.fromkeys(cable for cable, _ in joins.get(panel, ()))) if panel else (),
        steps=fed.steps,
        loops=tuple(loop for walk in (fed, *stray) for loop in _loops(walk)),
        islands=tuple(_island(survey, circuit_id, walk, joins) for walk in stray),
        dead_ends=tuple(_dead_ends(survey, circuit_id, fed.steps)),
        below=_below(fed.steps),
    )


def _joins(survey: Survey, cables: Iterable[Cable]) -> _Joins:
    at: dict[Node, list[tuple[Cable, Node]]] = {}
    for cable in cables:
        first, second = ends_of(survey, cable)
        at.setdefault(first, []).append((cable, second))
        if second != first:
            at.setdefault(second, []).append((cable, first))
    return at


def _panel(circuit: Circuit, joins: _Joins) -> Node | None:
    if circuit.knows("panel"):
        return Node(NodeKind.PANEL, circuit.panel)
    ended_in = [node for node in joins if node.kind is NodeKind.PANEL]
    return ended_in[0] if len(ended_in) == 1 else None


def _walk(start: Node, joins: _Joins) -> _Walk:
    """Breadth first, each cable once."""
    steps = {start: Step(start, None, None, 0)}
    closing: list[tuple[Cable, Node, Node]] = []
    used: set[Cable] = set()
    left = deque([start])
    while left:
        here = left.popleft()
        for cable, there in joins.get(here, ()):
            if cable in used:
                continue
            used.add(cable)
            if there in steps:
                closing.append((cable, here, there))
            else:
                steps[there] = Step(there, here, cable, steps[here].depth + 1)
                left.append(there)
    return _Walk(steps, tuple(closing))


def _stray(survey: Survey, circuit_id: str, joins: _Joins, fed: Mapping[Node, Step]) -> Iterator[_Walk]:
    """A walk of each piece that is not joined to the panel: cables first, then devices that no cable of the circuit reaches."""
    seen = set(fed)
    alone = (node_of_device(device) for device in survey.devices_on_circuit.get(circuit_id, ()))
    for node in (*joins, *alone):
        if node not in seen:
            walk = _walk(node, joins)
            seen.update(walk.steps)
            yield walk


def _island(survey: Survey, circuit_id: str, walk: _Walk, joins: _Joins) -> Island:
    cables = dict.fromkeys(cable for node in walk.steps for cable, _ in joins.get(node, ()))
    return Island(tuple(walk.steps), tuple(cables), tuple(_on_circuit(survey, circuit_id, walk.steps)))


def _on_circuit(survey: Survey, circuit_id: str, nodes: Iterable[Node]) -> Iterator[Device]:
    mine = survey.once(_ids_on_circuit, circuit_id)
    yield from (device for node in nodes for device in devices_at(survey, node) if device.id in mine)


def _ids_on_circuit(survey: Survey, circuit_id: str) -> frozenset[str]:
    return frozenset(device.id for device in survey.devices_on_circuit.get(circuit_id, ()))


def _loops(walk: _Walk) -> Iterator[Loop]:
    for cable, here, there in walk.closing:
        one, other = _ways_to_meeting(walk.steps, here, there)
        drawn = (walk.steps[node].cable for node in (*one[:-1], *other[:-1]))
        ring = (*(each for each in drawn if each is not None), cable)
        yield Loop(cable, ring, (*one, *reversed(other[:-1])))


def _ways_to_meeting(steps: Mapping[Node, Step], here: Node, there: Node) -> tuple[list[Node], list[Node]]:
    """The nodes from each of two upstream to the one where their ways meet; it ends both."""
    ways = ([here], [there])
    while ways[0][-1] != ways[1][-1]:
        deeper = max(ways, key=lambda way: steps[way[-1]].depth)
        upstream = steps[deeper[-1]].upstream
        if upstream is None:
            break
        deeper.append(upstream)
    return ways


def _dead_ends(survey: Survey, circuit_id: str, steps: Mapping[Node, Step]) -> Iterator[Node]:
    feeding = {step.upstream for step in steps.values()}
    for node, step in steps.items():
        leaf = node not in feeding and step.upstream is not None
        if leaf and node.kind is NodeKind.BOX and not any(_on_circuit(survey, circuit_id, (node,))):
            yield node


def _below(steps: Mapping[Node, Step]) -> Mapping[Node, tuple[Step, ...]]:
    found: dict[Node, list[Step]] = {node: [] for node in steps}
    for step in steps.values():
        if step.upstream is not None:
            found[step.upstream].append(step)
    return {node: tuple(each) for node, each in found.items()}
