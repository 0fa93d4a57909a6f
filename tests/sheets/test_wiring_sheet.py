"""What the wiring sheet tells to join, against the cables of the example houses walked by plain arithmetic on the JSON."""

from typing import Any

import pytest

from sheets.houses import HOUSES, house
from sheets.tables_read import Row, of_house

Node = tuple[str, str]


def _node(end: dict[str, str], value: dict[str, Any]) -> Node:
    [(kind, id_)] = [item for item in end.items() if item[0] in ("box", "panel", "device")]
    return _of_device(value, id_) if kind == "device" else (kind, id_)


def _of_device(value: dict[str, Any], device: str) -> Node:
    box = value["devices"][device].get("box")
    return ("box", box) if box else ("device", device)


def _fed_through(value: dict[str, Any], circuit: str, here: Node) -> dict[Node, Node]:
    """Each node of a circuit beyond ``here``, as seen from the panel, and its neighbor by which ``here`` leads to it."""
    joined: dict[Node, list[Node]] = {}
    for cable in value["cables"].values():
        if circuit in (cable.get("circuit"), cable.get("second_circuit")):
            one, other = (_node(end, value) for end in cable["ends"])
            joined.setdefault(one, []).append(other)
            joined.setdefault(other, []).append(one)
    found: dict[Node, Node] = {}
    for first in joined[here]:
        reached, left = {first}, [first]
        while left:
            left += (new := [each for each in joined[left.pop()] if each != here and each not in reached])
            reached |= set(new)
        if not any(kind == "panel" for kind, _ in reached):
            found |= dict.fromkeys(reached, first)
    return found


def _joints_at(name: str, node: Node) -> list[Row]:
    pointer = f"/{'boxes' if node[0] == 'box' else 'devices'}/{node[1]}"
    [section] = [each for each in of_house(name, "wiring")["sections"] if each.get("pointer") == pointer]
    [table] = section["tables"]
    heads = [column["head"] for column in table["columns"]]
    return [{head: cell.get("text", "") for head, cell in zip(heads, row, strict=True)} for row in table["rows"]]


def _label(value: dict[str, Any], node: Node) -> str:
    return str(value[{"box": "boxes", "panel": "panels", "device": "devices"}[node[0]]][node[1]]["label"])


def _between() -> list[tuple[str, str, Node]]:
    """Devices between LINE and LOAD, each with a node that only its LOAD side may feed."""
    found = []
    for name in HOUSES:
        value = house(name)
        for key, device in value["devices"].items():
            if "feed_through_source" in device:
                found.append((name, device["feed_through_source"], _of_device(value, key)))
            if device["kind"] == "disconnect":
                beyond = _fed_through(value, device["circuit"], _of_device(value, key))
                found += [(name, key, each) for each in beyond]
    return found


@pytest.mark.parametrize(("name", "between", "fed"), _between())
def test_what_a_device_protects_or_disconnects_is_on_its_load_terminals_alone(name: str, between: str, fed: Node) -> None:
    """210.8 by a device upstream and 440.14: a splice of both cables would leave the one unprotected, the other never disconnected."""
    value = house(name)
    here = _of_device(value, between)
    way = f"to {_label(value, _fed_through(value, value['devices'][between]['circuit'], here)[fed])}"
    joints = [each for each in _joints_at(name, here) if way in each["Conductors"]]
    assert len(joints) >= 2
    for each in joints:
        assert each["Device terminals"].startswith("LOAD ")
        assert "Panel" not in each["Conductors"]
        assert "Load center" not in each["Conductors"]
    others = [each for each in _joints_at(name, here) if each not in joints]
    assert [each["Device terminals"].split()[0] for each in others] == ["LINE"] * len(joints)


def test_the_houses_have_such_devices() -> None:
    assert len(_between()) >= 5


@pytest.mark.parametrize("name", HOUSES)
def test_a_gfci_device_that_protects_nothing_else_is_fed_on_its_line_terminals(name: str) -> None:
    value = house(name)
    sources = {each.get("feed_through_source") for each in value["devices"].values()}
    alone = [key for key, each in value["devices"].items() if each.get("gfci") and key not in sources]
    for key in alone:
        told = [each["Device terminals"] for each in _joints_at(name, _of_device(value, key)) if each["Device terminals"]]
        assert told
        assert all(each.startswith("LINE ") for each in told)


def _told(name: str, box: str, column: str) -> list[str]:
    return [each[column] for each in _joints_at(name, ("box", box))]


def test_two_circuits_that_share_a_neutral_are_told_apart() -> None:
    assert _told("tamarack-osprey", "bed-1-east", "Carries") == ["hot of circuit 24", "hot of circuit 26", "neutral"]
    [hot] = [each for each in _joints_at("tamarack-osprey", ("box", "bed-2-closet")) if each["Carries"] != "neutral"]
    assert hot["Carries"] == "hot of circuit 26"
    assert hot["Device terminals"] == "hot of Back bedroom, side of the closet"


def test_a_half_switched_receptacle_has_one_neutral_and_its_tab_is_told() -> None:
    hot, neutral, switched = _told("tamarack-osprey", "living-south", "Device terminals")
    assert hot == "hot of Living room, front wall, upper half"
    assert neutral == "neutral of Living room, front wall"
    assert switched.endswith("lower half: break off the tab between its hot terminals")


@pytest.mark.parametrize("name", HOUSES)
def test_no_terminal_is_told_twice_in_a_box(name: str) -> None:
    for key in house(name)["boxes"]:
        pointer = f"/boxes/{key}"
        if any(each.get("pointer") == pointer for each in of_house(name, "wiring")["sections"]):
            told = [each for joint in _told(name, key, "Device terminals") for each in joint.split("; ") if each]
            assert len(told) == len(set(told)), key
