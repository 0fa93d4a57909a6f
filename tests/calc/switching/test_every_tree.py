"""Laws of the solver, over trees of up to 8 boxes, several controls, and up to 4 switches to a control."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import permutations, product

import networkx as nx
from hypothesis import assume, given, settings

from calc.switching.checker import complaints
from calc.switching.layouts import layouts
from nailplate.calc.switching import Control, Layout, NotWorkedOut, Role, Supply, Switch, Wiring, solve, truth_table
from nailplate.plan.words import Ways


def solved(layout: Layout) -> Wiring:
    wiring = solve(layout)
    assert not isinstance(wiring, NotWorkedOut)
    return wiring


@settings(max_examples=150, deadline=None)
@given(layouts())
def test_every_wiring_works_in_every_position(layout: Layout) -> None:
    assert complaints(solved(layout)) == []


@settings(max_examples=100, deadline=None)
@given(layouts())
def test_no_cable_carries_more_than_it_has_unless_it_is_said_to_be_short(layout: Layout) -> None:
    wiring = solved(layout)
    short = {each.cable for each in wiring.shortages}
    for cable in layout.cables:
        planned = wiring.cables[cable.id]
        assert len(planned.carried) >= planned.needs
        if cable.insulated is not None:
            assert (cable.id in short) == (planned.needs > cable.insulated)
            assert cable.id in short or len(planned.conductors) == cable.insulated


@settings(max_examples=150, deadline=None)
@given(layouts())
def test_cables_that_would_do_leave_nothing_short(layout: Layout) -> None:
    wiring = solved(layout)
    larger = tuple(
        replace(cable, insulated=max(cable.insulated, wiring.cables[cable.id].needs)) if cable.insulated is not None else cable
        for cable in layout.cables
    )
    again = solved(replace(layout, cables=larger))
    assert again.shortages == ()


@settings(max_examples=40, deadline=None)
@given(layouts())
def test_its_own_table_says_what_the_checker_says(layout: Layout) -> None:
    wiring = solved(layout)
    rows = truth_table(wiring)
    switches = tuple(layout.switches)
    outlets = [control for control in layout.controls for _ in control.outlets]
    assert len(rows) == 2 ** len(switches)
    for row in rows:
        assert not row.shorted
        at = dict(zip((switch.id for switch in switches), row.positions, strict=True))
        for control, live in zip(outlets, row.live, strict=True):
            odd = sum(at[switch.id] for switch in control.switches) % 2
            assert live == (bool(odd) if len(control.switches) == 1 else not odd)


@settings(max_examples=40, deadline=None)
@given(layouts())
def test_the_same_layout_gives_the_same_wiring(layout: Layout) -> None:
    assert solved(layout) == solved(layout)


# Least copper, by trying every order


def _orders(control: Control) -> list[tuple[Switch, ...]]:
    found = []
    for order in permutations(control.switches):
        ends = {order[0].kind, order[-1].kind}
        if len(order) == 1 or ends == {Ways.THREE_WAY}:
            found.append(order)
    return found


def _conductors_of_order(layout: Layout, orders: tuple[tuple[Switch, ...], ...]) -> dict[str, int]:
    """How many conductors each cable carries with these orders, by the plainest reckoning: nets over shortest paths."""
    graph = nx.Graph()
    graph.add_nodes_from(layout.boxes)
    for cable in layout.cables:
        graph.add_edge(*cable.ends, id=cable.id)
    nets = [*_control_nets(layout, orders), *_supply_nets(layout, orders)]
    nets += [[box for _, box in signal.joins] for signal in layout.signals]
    found = {cable.id: 0 for cable in layout.cables}
    for boxes in nets:
        used = {graph.edges[step]["id"] for box in boxes for step in nx.utils.pairwise(nx.shortest_path(graph, boxes[0], box))}
        for cable_id in used:
            found[cable_id] += 1
    return found


def _opens_both(control: Control) -> bool:
    return control.switches[0].kind is Ways.DOUBLE_POLE and control.outlets[0].back is Supply.SECOND_HOT


def _control_nets(layout: Layout, orders: tuple[tuple[Switch, ...], ...]) -> Iterator[list[str]]:
    for control, order in zip(layout.controls, orders, strict=True):
        for _ in range(1 + _opens_both(control)):
            yield [order[-1].box, *(outlet.box for outlet in control.outlets)]
        for one, other in nx.utils.pairwise(order):
            yield from ([one.box, other.box] for _ in range(2))


def _supply_nets(layout: Layout, orders: tuple[tuple[Switch, ...], ...]) -> Iterator[list[str]]:
    boxes: dict[Supply, list[str]] = {supply: [] for supply in Supply}
    boxes[Supply.NEUTRAL] += layout.neutral_at
    for load in layout.loads:
        for supply in load.needs:
            boxes[supply].append(load.box)
    for control, order in zip(layout.controls, orders, strict=True):
        boxes[control.hot].append(order[0].box)
        back = [order[0].box] if _opens_both(control) else [outlet.box for outlet in control.outlets]
        boxes[control.outlets[0].back] += back
    return ([layout.feed, *each] for each in boxes.values() if each)


def _cost(layout: Layout, needs: dict[str, int]) -> tuple[int, float]:
    short = sum(max(0, needs[cable.id] - cable.insulated) for cable in layout.cables if cable.insulated is not None)
    return short, sum(needs[cable.id] * cable.length for cable in layout.cables)


@settings(max_examples=150, deadline=None)
@given(layouts(counted=False))
def test_no_order_of_switches_needs_less_copper(layout: Layout) -> None:
    needs = {name: cable.needs for name, cable in solved(layout).cables.items()}
    every = [_conductors_of_order(layout, orders) for orders in product(*(_orders(each) for each in layout.controls))]
    assert needs in every
    assert _cost(layout, needs) == min(_cost(layout, each) for each in every)


@settings(max_examples=150, deadline=None)
@given(layouts())
def test_no_order_of_switches_leaves_fewer_conductors_short(layout: Layout) -> None:
    needs = {name: cable.needs for name, cable in solved(layout).cables.items()}
    every = [_conductors_of_order(layout, orders) for orders in product(*(_orders(each) for each in layout.controls))]
    assert needs in every
    assert _cost(layout, needs)[0] == min(_cost(layout, each)[0] for each in every)


@settings(max_examples=40, deadline=None)
@given(layouts())
def test_a_wished_neutral_comes_wherever_a_conductor_is_to_spare(layout: Layout) -> None:
    wiring = solved(layout)
    assume(layout.neutral_wished and any(joint.net.role is Role.NEUTRAL for joint in wiring.joints))
    graph = nx.Graph()
    graph.add_nodes_from(layout.boxes)
    for cable in layout.cables:
        graph.add_edge(*cable.ends, cable=cable)
    for box in layout.neutral_wished:
        way = nx.shortest_path(graph, layout.feed, box)
        planned = [wiring.cables[graph.edges[step]["cable"].id] for step in nx.utils.pairwise(way)]
        has = [any(net.role is Role.NEUTRAL for net in each.carried) for each in planned]
        drawn = [graph.edges[step]["cable"] for step in nx.utils.pairwise(way)]
        room = [
            need or (not cable.white_marked and (cable.insulated is None or cable.insulated > each.needs))
            for need, cable, each in zip(has, drawn, planned, strict=True)
        ]
        assert all(has) or not all(room)
