"""Tells whether a wiring works and is lawful, from its joints and cables alone: a second opinion that shares nothing with the solver.

A graph of conductor ends and terminals, an edge for each conductor and splice, and for each combination of switch positions an edge
for each closed contact. Everything asked of a wiring is then a question about paths in that graph.
"""

from collections import Counter
from collections.abc import Iterator
from itertools import product
from typing import Any

import networkx as nx

from nailplate.calc.switching import CableEnd, Control, Supply, Terminal, Wiring
from nailplate.plan.words import Ways

# What is printed in a maker's instruction sheet of each switch (common practice), written down here once more on purpose.
CLOSED: dict[Ways, tuple[list[tuple[str, str]], list[tuple[str, str]]]] = {
    Ways.SINGLE_POLE: ([], [("line", "load")]),
    Ways.DOUBLE_POLE: ([], [("line 1", "load 1"), ("line 2", "load 2")]),
    Ways.THREE_WAY: ([("common", "traveler 1")], [("common", "traveler 2")]),
    Ways.FOUR_WAY: ([("in 1", "out 1"), ("in 2", "out 2")], [("in 1", "out 2"), ("in 2", "out 1")]),
}
Graph = Any


def complaints(wiring: Wiring) -> list[str]:
    """Everything wrong with a wiring; empty where it is sound."""
    return [*_in_the_boxes(wiring), *_at_rest(wiring), *_in_every_position(wiring)]


def graph_of(wiring: Wiring) -> Graph:
    graph = nx.Graph()
    for supply in Supply:
        graph.add_node(("", supply.value, ""))
    for cable in wiring.layout.cables:
        for conductor in wiring.cables[cable.id].conductors:
            one, other = ((cable.id, conductor.color, box) for box in cable.ends)
            graph.add_edge(one, other, cable=cable.id, leaves=one)
    for number, joint in enumerate(wiring.joints):
        for end in joint.ends:
            graph.add_edge(("joint", number), _node(joint.box, end))
    return graph


def _node(box: str, end: CableEnd | Terminal) -> tuple[str, str, str]:
    return (end.cable, end.color, box) if isinstance(end, CableEnd) else (end.device, end.name, end.control)


def _feed(supply: Supply) -> tuple[str, str, str]:
    return ("", supply.value, "")


# In the boxes: nothing is joined that is not there, and nothing twice


def _in_the_boxes(wiring: Wiring) -> Iterator[str]:
    ends_at = {(cable.id, box) for cable in wiring.layout.cables for box in cable.ends}
    standing = {("", wiring.layout.feed)}
    for control in wiring.layout.controls:
        standing |= {(switch.id, switch.box) for switch in control.switches}
        standing |= {(outlet.id, outlet.box) for outlet in control.outlets}
    standing |= {(load.id, load.box) for load in wiring.layout.loads}
    standing |= {joined for signal in wiring.layout.signals for joined in signal.joins}
    for joint in wiring.joints:
        for end in joint.ends:
            known = (end.cable, joint.box) in ends_at if isinstance(end, CableEnd) else (end.device, joint.box) in standing
            if not known:
                yield f"{end} is joined in {joint.box}, where it is not"
    times = Counter(_node(joint.box, end) for joint in wiring.joints for end in joint.ends)
    yield from (f"{node} is joined twice" for node, number in times.items() if number > 1)
    for cable in wiring.cables.values():
        if len({each.color for each in cable.conductors}) < len(cable.conductors):
            yield f"two conductors of {cable.cable} have one color"
        if cable.has is not None and len(cable.conductors) > cable.has and wiring.feasible:
            yield f"{cable.cable} has {cable.has} conductors and carries {len(cable.conductors)}"


# At rest: what holds whatever the switches do


def _at_rest(wiring: Wiring) -> Iterator[str]:
    graph = graph_of(wiring)
    for load in wiring.layout.loads:
        for supply in load.needs:
            if not nx.has_path(graph, (load.id, supply.value, ""), _feed(supply)):
                yield f"{load.id} lacks the {supply}"
    for control in wiring.layout.controls:
        for outlet in control.outlets:
            back = (outlet.id, outlet.back.value, control.id)
            if outlet.back is Supply.NEUTRAL and not nx.has_path(graph, back, _feed(Supply.NEUTRAL)):
                yield f"the neutral of {outlet.id} is missing or switched"
    for signal in wiring.layout.signals:
        nodes = [(device, "signal", "") for device, _ in signal.joins]
        if not all(nx.has_path(graph, nodes[0], node) for node in nodes):
            yield f"{signal.id} is not joined"
    yield from _of_colors(wiring, graph)


def _of_colors(wiring: Wiring, graph: Graph) -> Iterator[str]:
    neutral = nx.node_connected_component(graph, _feed(Supply.NEUTRAL))
    loops = [each for each in wiring.layout.controls if each.switches[0].kind is not Ways.DOUBLE_POLE]
    switched = {(outlet.id, "switched hot", control.id) for control in loops for outlet in control.outlets}
    raceways = {cable.id for cable in wiring.layout.cables if cable.raceway}
    for cable in wiring.layout.cables:
        for conductor in wiring.cables[cable.id].conductors:
            end = (cable.id, conductor.color, cable.ends[0])
            component = nx.node_connected_component(graph, end)
            used, white = len(component) > 2, conductor.color == "white"
            if end in neutral and not white:
                yield f"a neutral in {cable.id} is {conductor.color}"  # 200.6(A)
            if used and white and end not in neutral and not (conductor.reidentified or cable.id in raceways):
                yield f"the white of {cable.id} is no neutral and not marked"  # 200.7(C)
            if conductor.reidentified and (not white or end in neutral or cable.id in raceways):
                yield f"{conductor} is marked in vain"
            if white and component & switched and cable.id not in raceways:
                yield f"the white of {cable.id} returns from a switch to the outlet"  # 200.7(C)(1)


# In every position


def _in_every_position(wiring: Wiring) -> Iterator[str]:
    switches = tuple(wiring.layout.switches)
    at_rest = graph_of(wiring)
    first: dict[str, bool] = {}
    seen_live: set[str] = set()
    for positions in product((0, 1), repeat=len(switches)):
        graph = at_rest.copy()
        for switch, position in zip(switches, positions, strict=True):
            for one, other in CLOSED[switch.kind][position]:
                graph.add_edge((switch.id, one, ""), (switch.id, other, ""), contact=switch.id)
        yield from _shorts(graph, positions)
        at = {switch.id: position for switch, position in zip(switches, positions, strict=True)}
        for control in wiring.layout.controls:
            parity = bool(sum(at[switch.id] for switch in control.switches) % 2)
            for outlet in control.outlets:
                name = f"{outlet.id} of {control.id}"
                live = _is_live(graph, control, outlet.id, outlet.back)
                if first.setdefault(name, live == parity) != (live == parity):
                    yield f"{name} does not follow its switches in {positions}"
                if live:
                    seen_live.add(name)
                    yield from _unbalanced(graph, control, outlet.id, outlet.back)
    yield from (f"{name} is never live" for name in first if name not in seen_live)


def _shorts(graph: Graph, positions: tuple[int, ...]) -> Iterator[str]:
    for one, other in ((Supply.HOT, Supply.NEUTRAL), (Supply.SECOND_HOT, Supply.NEUTRAL), (Supply.HOT, Supply.SECOND_HOT)):
        if nx.has_path(graph, _feed(one), _feed(other)):
            yield f"{one} and {other} are joined in {positions}"


def _is_live(graph: Graph, control: Control, outlet: str, back: Supply) -> bool:
    terminals = (outlet, "switched hot", control.id), (outlet, back.value, control.id)
    return all(
        node in graph and nx.has_path(graph, node, _feed(supply))
        for node, supply in zip(terminals, (control.hot, back), strict=True)
    )


def _unbalanced(graph: Graph, control: Control, outlet: str, back: Supply) -> Iterator[str]:
    """300.3(B): what goes out by a cable comes back by it. A neutral that goes back through a contact is switched, 404.2(B)."""
    out = nx.shortest_path(graph, _feed(control.hot), (outlet, "switched hot", control.id))
    home = nx.shortest_path(graph, (outlet, back.value, control.id), _feed(back))
    sums: Counter[str] = Counter()
    for path in (out, home):
        for here, there in nx.utils.pairwise(path):
            edge = graph.edges[here, there]
            if "cable" in edge:
                sums[edge["cable"]] += 1 if edge["leaves"] == here else -1
            if path is home and back is Supply.NEUTRAL and "contact" in edge:
                yield f"the neutral of {outlet} is switched by {edge['contact']}"
    yield from (f"the current of {outlet} does not return by cable {cable}" for cable, net in sums.items() if net)
