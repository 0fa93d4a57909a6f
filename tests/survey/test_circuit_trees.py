"""Circuit trees: what is fed and in which order, what stands apart, rings, circuits that cables carry, and lengths."""

import json
import sys
from collections.abc import Callable, Mapping
from types import FrameType
from typing import Any

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nailplate.plan import BoxEnd, DeviceEnd, UnknownFact
from nailplate.plan import Cable as PlanCable
from nailplate.survey import Survey
from nailplate.survey.wiring.box_circuits import circuits_in_box
from nailplate.survey.wiring.cable_circuits import CarriedBy, cables_carrying, carried
from nailplate.survey.wiring.cable_lengths import CableLength, LengthFrom, cable_length, lengths_from_panel
from nailplate.survey.wiring.circuit_changes import changes_of, stands_unfed
from nailplate.survey.wiring.circuit_trees import CircuitTree, circuit_tree, feed_path, island_of, loop_closed_by
from nailplate.survey.wiring.multiwire import pairs_of, ties_of
from nailplate.survey.wiring.wiring_nodes import Node, NodeKind
from nailplate.units import Inches
from nailplate.wire import read_plan

BOX, DEVICE, PANEL = NodeKind.BOX, NodeKind.DEVICE, NodeKind.PANEL
Cable = tuple[str, str] | tuple[str, str, str | None]


def end(name: str) -> dict[str, str]:
    kind = {"p": "panel", "q": "panel", "f": "device"}.get(name[0], "box")
    return {kind: name}


def drawn(*joined: Cable, outlets: Mapping[str, str] | None = None, **maps: Any) -> Survey:
    """A plan of cables between named ends (p, q: panels; f…: fans without a box), on circuit c unless a third word says other."""
    ends = {name for each in joined for name in each[:2]}
    receptacles = {f"r-{box}": {"kind": "receptacle", "box": box, "circuit": on} for box, on in (outlets or {}).items()}
    fans = {name: {"kind": "exhaust_fan", "circuit": "c"} for name in sorted(ends) if name[0] == "f"}
    boxes: dict[str, Any] = {name: {} for name in sorted(ends | set(outlets or {})) if name[0] not in "pqf"}
    whole: dict[str, Any] = {
        "plan_format": 1,
        "name": "wiring",
        "basis": {"edition": "2023"},
        "panels": {"p": {"kind": "load_center"}, "q": {"kind": "subpanel"}},
        "circuits": {"c": {"panel": "p"}, "d": {"panel": "p"}},
        "boxes": boxes,
        "devices": {**receptacles, **fans},
        "cables": {f"{number}": _cable(each) for number, each in enumerate(joined)},
    }
    for name, parts in maps.items():
        whole[name] = {**whole.get(name, {}), **parts}
    return Survey(read_plan(json.dumps(whole).encode()))


def _cable(each: Cable) -> dict[str, Any]:
    circuit = each[2] if len(each) == 3 else "c"
    return {"ends": [end(each[0]), end(each[1])], **({"circuit": circuit} if circuit else {})}


def tree_of(survey: Survey, circuit: str = "c") -> CircuitTree:
    return circuit_tree(survey, survey.plan.circuits[circuit])


def ids(nodes: Any) -> list[str]:
    return [node.id for node in nodes]


# Feeding


def test_steps_follow_the_cables_from_the_panel() -> None:
    tree = tree_of(drawn(("p", "a"), ("a", "b"), ("a", "e"), ("e", "f1")))
    assert ids(tree.steps) == ["p", "a", "b", "e", "f1"]
    assert [step.depth for step in tree.steps.values()] == [0, 1, 2, 2, 3]
    assert ids(step.node for step in tree.below[Node(BOX, "a")]) == ["b", "e"]
    assert ids(step.node for step in tree.path_to(Node(DEVICE, "f1"))) == ["p", "a", "e", "f1"]
    assert [each.id for each in tree.home_runs] == ["0"]
    assert tree.islands == ()


def test_path_of_a_device_goes_through_every_box_on_its_line_side() -> None:
    survey = drawn(("p", "a"), ("a", "b"), ("b", "e"), outlets={"e": "c", "a": "c"})
    path = feed_path(survey, survey.plan.devices["r-e"])
    assert ids(step.node for step in path) == ["p", "a", "b", "e"]
    assert [step.cable.id for step in path if step.cable] == ["0", "1", "2"]


def test_path_of_a_device_without_a_circuit_asks_for_it_unless_one_is_named() -> None:
    survey = drawn(("p", "a"), devices={"w": {"kind": "switch", "box": "a"}})
    with pytest.raises(UnknownFact):
        feed_path(survey, survey.plan.devices["w"])
    named = feed_path(survey, survey.plan.devices["w"], survey.plan.circuits["c"])
    assert ids(step.node for step in named) == ["p", "a"]


@pytest.mark.parametrize("circuit", [{"panel": "p"}, {}])
def test_panel_is_the_stated_one_or_the_only_one_that_cables_come_from(circuit: dict[str, str]) -> None:
    assert tree_of(drawn(("p", "a"), circuits={"c": circuit})).panel == Node(PANEL, "p")


def test_two_panels_leave_it_open_which_is_the_circuit_s_own() -> None:
    tree = tree_of(drawn(("p", "a"), ("q", "a"), circuits={"c": {}}))
    assert tree.panel is None
    assert tree.steps == {}
    assert len(tree.islands) == 1


def test_home_run_from_another_panel_feeds_nothing() -> None:
    tree = tree_of(drawn(("q", "a"), outlets={"a": "c"}))
    assert (tree.home_runs, ids(tree.unfed)) == ((), ["r-a"])


# What stands apart


def test_pieces_without_a_cable_to_the_panel_are_islands() -> None:
    survey = drawn(("p", "a"), ("b", "e"), outlets={"a": "c", "e": "c", "g": "c"})
    tree = tree_of(survey)
    assert [ids(island.nodes) for island in tree.islands] == [["b", "e"], ["g"]]
    assert [ids(island.devices) for island in tree.islands] == [["r-e"], ["r-g"]]
    assert island_of(survey, tree.circuit, survey.plan.cables["1"]) is tree.islands[0]
    assert island_of(survey, tree.circuit, survey.plan.cables["0"]) is None
    assert stands_unfed(survey, Node(BOX, "b"))
    assert not stands_unfed(survey, Node(BOX, "a"))


def test_boxes_at_the_end_of_a_branch_with_nothing_of_the_circuit_are_dead_ends() -> None:
    tree = tree_of(drawn(("p", "a"), ("a", "b"), ("a", "e"), outlets={"a": "c", "b": "c", "e": "d"}))
    assert ids(tree.dead_ends) == ["e"]


def test_low_voltage_cables_and_cords_join_nothing() -> None:
    cables = {"0": {**_cable(("p", "a")), "low_voltage": True}, "1": {**_cable(("p", "b")), "type": "cord"}}
    survey = drawn(("p", "a"), ("p", "b"), cables=cables)
    assert tree_of(survey).cables == ()


# Rings


def test_ring_is_told_with_the_cable_that_closes_it() -> None:
    survey = drawn(("p", "a"), ("a", "b"), ("b", "e"), ("e", "g"), ("g", "a"), outlets={"g": "c"})
    [loop] = tree_of(survey).loops
    assert loop.closing.id == "3"
    assert sorted(each.id for each in loop.ring) == ["1", "2", "3", "4"]
    assert set(ids(loop.nodes)) == {"a", "b", "e", "g"}
    assert loop_closed_by(survey, survey.plan.circuits["c"], loop.closing) is loop


@pytest.mark.parametrize(
    ("joined", "rings"),
    [
        pytest.param((("p", "a"), ("p", "b")), 0, id="two home runs apart"),
        pytest.param((("p", "a"), ("p", "b"), ("a", "b")), 1, id="two home runs joined"),
        pytest.param((("p", "a"), ("a", "b"), ("a", "b")), 1, id="two cables side by side"),
        pytest.param((("a", "b"), ("b", "e"), ("e", "a")), 1, id="a ring that no panel feeds"),
    ],
)
def test_rings_are_counted(joined: tuple[Cable, ...], rings: int) -> None:
    assert len(tree_of(drawn(*joined)).loops) == rings


CABLES = st.lists(
    st.tuples(st.sampled_from("pabeghi"), st.sampled_from("pabeghi")).filter(lambda two: two[0] != two[1]), max_size=14
)


@given(CABLES)
def test_any_drawing_is_divided_as_a_graph_library_divides_it(joined: list[tuple[str, str]]) -> None:
    tree = tree_of(drawn(*joined))
    graph = nx.MultiGraph(joined)
    graph.add_node("p")
    assert set(ids(tree.steps)) == nx.node_connected_component(graph, "p")
    assert len(tree.islands) == nx.number_connected_components(graph) - 1
    assert len(tree.loops) == graph.number_of_edges() - graph.number_of_nodes() + nx.number_connected_components(graph)
    assert {node.id: step.depth for node, step in tree.steps.items()} == nx.single_source_shortest_path_length(graph, "p")
    for loop in tree.loops:
        ring = nx.MultiGraph(_ends(each) for each in loop.ring)
        assert nx.is_connected(ring)
        assert {degree for _, degree in ring.degree} == {2}


def _ends(cable: PlanCable) -> tuple[str, str]:
    one, other = (
        each.box if isinstance(each, BoxEnd) else each.panel for each in cable.ends if not isinstance(each, DeviceEnd)
    )
    return one, other


# Which circuit a cable carries


@pytest.mark.parametrize(
    ("joined", "outlets", "by", "circuits"),
    [
        pytest.param((("p", "a", None),), {"a": "c"}, CarriedBy.INFERRED, ("c",), id="from the device it feeds"),
        pytest.param((("p", "a", None), ("a", "b", None)), {"b": "d"}, CarriedBy.INFERRED, ("d",), id="through an empty box"),
        pytest.param((("p", "a", None), ("a", "b", "d")), {}, CarriedBy.INFERRED, ("d",), id="from the next cable"),
        pytest.param((("p", "a", None), ("p", "b", "d")), {}, CarriedBy.OPEN, (), id="a panel joins nothing"),
        pytest.param((("p", "a", None), ("a", "b", "d")), {"a": "c"}, CarriedBy.OPEN, ("c", "d"), id="two circuits around it"),
        pytest.param((("p", "a", "c"),), {"a": "d"}, CarriedBy.STATED, ("c",), id="as stated, whatever is around it"),
    ],
)
def test_circuit_of_a_cable(
    joined: tuple[Cable, ...], outlets: dict[str, str], by: CarriedBy, circuits: tuple[str, ...]
) -> None:
    survey = drawn(*joined, outlets=outlets)
    found = carried(survey, survey.plan.cables["0"])
    assert (found.by, found.circuits) == (by, circuits)
    assert (survey.plan.cables["0"] in cables_carrying(survey, "c")) == ("c" in found.known)


def test_cable_leaves_its_circuit_where_everything_else_is_on_another() -> None:
    survey = drawn(("p", "a"), ("a", "b", "d"), ("b", "e"), outlets={"a": "c", "e": "c"})
    assert [(change.node.id, change.others) for change in changes_of(survey, survey.plan.cables["1"])] == [
        ("a", ("c",)),
        ("b", ("c",)),
    ]
    assert changes_of(survey, survey.plan.cables["0"]) == ()


def test_switch_that_says_no_circuit_may_be_on_any() -> None:
    survey = drawn(("p", "a"), ("a", "b", "d"), ("b", "e"), devices={"w": {"kind": "switch", "box": "b"}})
    assert [change.node.id for change in changes_of(survey, survey.plan.cables["1"])] == ["a"]


def test_box_holds_the_circuits_of_its_cables() -> None:
    survey = drawn(("p", "a"), ("p", "a", "d"), ("a", "b"), ("p", "b", None), outlets={"a": "c", "e": "d"}, boxes={"e": {}})
    held = {box: circuits_in_box(survey, survey.plan.boxes[box]) for box in "abe"}
    assert held["a"].circuits == ("c",)  # the cable of d ends among nothing of its own
    assert held["b"].circuits == ("c",)
    assert held["e"].circuits == ("d",)


# Multiwire


def test_halves_that_name_each_other_make_one_pair() -> None:
    circuits = {"c": {"panel": "p", "multiwire": {"partner": "d", "tie": "handle_tie"}}, "d": {"multiwire": {"partner": "c"}}}
    survey = drawn(circuits=circuits)
    [pair] = pairs_of(survey, survey.plan.circuits["d"])
    assert ids(pair.halves) == ["c", "d"]
    assert ties_of(pair) == ("handle_tie",)


# Lengths


def test_length_is_as_pulled_else_as_routed() -> None:
    route = [
        {"how": "bored", "points": [[0, 0], [36, 48]], "heights": [20, 20]},
        {"how": "bored", "points": [[36, 48], [36, 48]], "heights": [20, 100]},
    ]
    cables = {"0": {**_cable(("p", "a")), "length": 240}, "1": {**_cable(("a", "b")), "route": route}}
    survey = drawn(("p", "a"), ("a", "b"), cables=cables)
    assert cable_length(survey, survey.plan.cables["1"]) == CableLength(Inches(140.0), LengthFrom.ROUTE)
    found = lengths_from_panel(survey, survey.plan.circuits["c"])
    assert found[Node(BOX, "a")] == CableLength(Inches(240.0), LengthFrom.STATED)
    assert found[Node(BOX, "b")] == CableLength(Inches(380.0), LengthFrom.ROUTE)


def test_length_between_boxes_free_in_a_room_goes_through_the_floor_at_right_angles() -> None:
    """30 in and 40 in across, 16 in and 48 in down to the floor and 4 in into it each, 12 in of makeup at each end."""
    room = {"level": "main", "uses": ["living"]}
    boxes = {
        name: {"at": {"room": "x", "point": point, "height": height}}
        for name, point, height in (("a", [0, 0], 16), ("b", [30, 40], 48))
    }
    levels = {"main": {"kind": "storey", "ceiling": {"height": 100}}}
    survey = drawn(("a", "b"), boxes=boxes, rooms={"x": room}, levels=levels)
    assert cable_length(survey, survey.plan.cables["0"]) == CableLength(Inches(30 + 40 + 20 + 52 + 24), LengthFrom.DERIVED)


def test_length_of_a_cable_to_nowhere_is_asked_for() -> None:
    survey = drawn(("p", "a"))
    with pytest.raises(UnknownFact):
        cable_length(survey, survey.plan.cables["0"])
    assert isinstance(lengths_from_panel(survey, survey.plan.circuits["c"])[Node(BOX, "a")], UnknownFact)


# Growth


def _work(survey: Survey) -> int:
    """How many calls it takes to know everything of circuit c, a measure of work that no other load on the machine moves."""
    calls = 0

    def counted(frame: FrameType, event: str, arg: object) -> None:
        nonlocal calls
        calls += event in ("call", "c_call")

    sys.setprofile(counted)
    try:
        tree = tree_of(survey)
        for cable in survey.plan.cables.values():
            changes_of(survey, cable)
            island_of(survey, tree.circuit, cable)
            loop_closed_by(survey, tree.circuit, cable)
        lengths_from_panel(survey, tree.circuit)
        for box in survey.plan.boxes.values():
            circuits_in_box(survey, box)
    finally:
        sys.setprofile(None)
    return calls


def _chain(size: int) -> list[Cable]:
    return [("p", "b0"), *((f"b{number}", f"b{number + 1}") for number in range(size))]


def _star(size: int) -> list[Cable]:
    return [("p", "a"), *(("a", f"b{number}") for number in range(size))]


def _pieces(size: int) -> list[Cable]:
    return [("p", "a"), *((f"b{number}", f"e{number}") for number in range(size))]


def _unsaid(size: int) -> list[Cable]:
    return [("p", "b0", None), *((f"b{number}", f"b{number + 1}", None) for number in range(size))]


@pytest.mark.parametrize("shape", [_chain, _star, _pieces, _unsaid])
def test_twice_the_cables_take_twice_the_work(shape: Callable[[int], list[Cable]]) -> None:
    one, two = (drawn(*shape(size), outlets={"b0": "c"}) for size in (150, 300))
    assert _work(two) < 2.2 * _work(one)
