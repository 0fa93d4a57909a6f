"""Faults of the drawing: what cannot be true of one house, and what only looks like it."""

import json
from typing import Any

import pytest

from nailplate.plan import PlanRefused
from nailplate.wire import read_plan, read_plan_value

HOUSE: dict[str, Any] = {
    "plan_format": 1,
    "name": "small",
    "basis": {"edition": "2023"},
    "levels": {"m": {"kind": "storey"}, "l": {"kind": "loft"}},
    "walls": {"w": {"level": "m", "kind": "exterior", "from": [0, 0], "to": [120, 0]}},
    "rooms": {"r": {"level": "m", "uses": ["den"]}},
    "panels": {"p": {"kind": "load_center"}},
    "boxes": {"a": {}, "b": {}},
}


def box(width: float, depth: float) -> dict[str, Any]:
    """Outside walls all around a rectangle."""
    corners = [[0, 0], [width, 0], [width, depth], [0, depth]]
    kind = {"level": "m", "kind": "exterior"}
    return {"walls": {f"w{n}": {**kind, "from": corners[n], "to": corners[(n + 1) % 4]} for n in range(4)}}


def opening(along: float, kind: str = "door", **more: Any) -> dict[str, Any]:
    return {"wall": "w", "along": along, "width": 32, "kind": kind, **more}


def room(*outline: tuple[float, float]) -> dict[str, Any]:
    return {"rooms": {"r": {"level": "m", "uses": ["den"], "outline": [list(point) for point in outline]}}}


def route(**segment: Any) -> dict[str, Any]:
    """A cable whose route is one stretch."""
    return cable({"box": "a"}, {"box": "b"}, route=[segment])


def cable(one: dict[str, str], other: dict[str, str], **more: Any) -> dict[str, Any]:
    return {"cables": {"k": {"ends": [one, other], **more}}}


WRONG: list[tuple[str, dict[str, Any], str, str]] = [
    ("outline crossing itself", room((0, 0), (9, 9), (9, 0), (0, 9)), "/rooms/r/outline", "touches itself at [4.5, 4.5]"),
    ("outline without area", room((0, 0), (9, 0), (4, 0)), "/rooms/r/outline", ""),
    ("outline of one point", room((3, 3), (3, 3), (3, 3)), "/rooms/r/outline", "no area"),
    ("outline of two points", room((0, 0), (9, 9)), "/rooms/r/outline", "3"),
    ("a room outside its walls", {**box(120, 96), **room((200, 0), (300, 0), (300, 90), (200, 90))}, "/rooms/r/outline", "15 ft past"),
    ("a room through its wall", {**box(120, 96), **room((3, 3), (140, 3), (140, 90), (3, 90))}, "/rooms/r/outline", "1 ft 8 in past"),
    ("a device beyond its wall", {"devices": {"d": {"kind": "receptacle", "at": {"wall": "w", "along": 133}}}},
     "/devices/d/at/along", "11 ft 1 in along a wall that is 10 ft long"),
    ("a panel beyond its wall", {"panels": {"p": {"kind": "load_center", "at": {"wall": "w", "along": 125}}}},
     "/panels/p/at/along", "10 ft 5 in"),
    ("a counter crossing itself", {"counters": {"c": {"room": "r", "kind": "island", "outline": [[0, 0], [9, 9], [9, 0], [0, 9]]}}},
     "/counters/c/outline", "[4.5, 4.5]"),
    ("wall without length", {"walls": {"w": {"level": "m", "kind": "interior", "from": [5, 5], "to": [5, 5]}}}, "/walls/w/to", ""),
    ("opening wider than its wall", {"openings": {"o": {**opening(0), "width": 121}}}, "/openings/o/width", "10 ft 1 in"),
    ("opening beyond its wall", {"openings": {"o": opening(100)}}, "/openings/o/width", "11 ft along a wall that is 10 ft long"),
    ("sill above the head", {"openings": {"o": opening(10, sill=80, head=40)}}, "/openings/o/head", "6 ft 8 in"),
    ("two doors in one place", {"openings": {"o": opening(10), "q": opening(30)}}, "/openings/q/along", "1 ft"),
    ("a window in a door", {"openings": {"o": opening(10, head=80), "q": opening(20, "window", sill=40)}}, "/openings/q/along", "'o'"),
    ("a box beyond its wall", {"boxes": {"a": {"at": {"wall": "w", "along": 121}}}}, "/boxes/a/at/along", "10 ft 1 in"),
    (
        "an inlet beyond its wall",
        {"supplies": {"s": {"kind": "cord_inlet", "inlet": {"wall": "w", "along": 130}}}},
        "/supplies/s/inlet/along",
        "10 ft 10 in",
    ),
    (
        "a disconnect beyond its wall",
        {"appliances": {"s": {"kind": "heat_pump", "disconnect": {"at": {"wall": "w", "along": 130}}}}},
        "/appliances/s/disconnect/at/along",
        "10 ft 10 in",
    ),
    ("a stair to its own level", {"stairs": {"s": {"lower": "m", "upper": "m", "kind": "ladder"}}}, "/stairs/s/upper", "two levels"),
    ("a cable from a box to itself", cable({"box": "a"}, {"box": "a"}), "/cables/k/ends", "same place"),
    ("a cable from a panel to itself", cable({"panel": "p"}, {"panel": "p"}), "/cables/k/ends", "same place"),
    (
        "heights for other points",
        cable({"box": "a"}, {"box": "b"}, route=[{"how": "bored", "points": [[0, 0], [9, 0]], "heights": [8]}]),
        "/cables/k/route/0/heights",
        "1 heights were found for 2 points",
    ),
    ("a hole larger than its member", route(how="bored", member="2x4", hole={"diameter": 3.75}),
     "/cables/k/route/0/hole/diameter", "3 3/4 in and its member 3 1/2 in"),
    ("a hole larger than the studs of its wall", {"walls": {"w": {**HOUSE["walls"]["w"], "framing": {"member": "2x4"}}},
     **route(how="bored", wall="w", hole={"diameter": 4})}, "/cables/k/route/0/hole/diameter", "3 1/2 in"),
    ("a hole beside its member", route(how="bored", member="2x4", hole={"diameter": 0.5, "centre_offset": 1.8125}),
     "/cables/k/route/0/hole/centre_offset", "1 13/16 in from the middle"),
    ("a notch deeper than its member", route(how="notch", member="2x3", notch_depth=2.75), "/cables/k/route/0/notch_depth", "2 1/2 in"),
    ("a notch and a hole in one place", route(how="notch", notch_depth=0.5, hole={"diameter": 1}),
     "/cables/k/route/0/notch_depth", "one place"),
    ("a negative offset", route(how="bored", hole={"diameter": 1, "centre_offset": -0.5}),
     "/cables/k/route/0/hole/centre_offset", "-1/2 in was found"),
    ("a negative edge distance", route(how="along_member", edge_distance=-1), "/cables/k/route/0/edge_distance", "-1 in was found"),
    ("a route of one point", route(how="bored", points=[[0, 0]]), "/cables/k/route/0/points", "1"),
    ("a stretch that ends where it begins", route(how="bored", points=[[0, 0], [0, 0]], heights=[9, 9]),
     "/cables/k/route/0/points", "ends where it begins"),
    ("supports spaced 0", route(how="bored", supports={"spacing": 0}), "/cables/k/route/0/supports/spacing", "0"),
    ("a circuit that is its own partner", {"circuits": {"c": {"multiwire": {"partner": "c"}}}}, "/circuits/c/multiwire/partner", ""),
    ("a device fed by itself", {"devices": {"d": {"kind": "receptacle", "feed_through_source": "d"}}},
     "/devices/d/feed_through_source", "LOAD side"),
    ("a counter without a back", {"counters": {"c": {"room": "r", "kind": "wall", "back": [[1, 1], [1, 1]]}}}, "/counters/c/back", ""),
]  # fmt: skip


@pytest.mark.parametrize(("more", "pointer", "words"), [case[1:] for case in WRONG], ids=[case[0] for case in WRONG])
def test_what_cannot_be_drawn_is_told_with_its_measure(more: dict[str, Any], pointer: str, words: str) -> None:
    with pytest.raises(PlanRefused) as caught:
        read_plan(json.dumps({**HOUSE, **more}).encode())
    assert [str(fault.pointer) for fault in caught.value.faults] == [pointer]
    assert words in caught.value.faults[0].detail
    assert caught.value.faults[0].code.value in ("bad-geometry", "contradiction", "bad-value")


RIGHT: list[tuple[str, dict[str, Any]]] = [
    ("an opening to the very end", {"openings": {"o": opening(88)}}),
    ("an opening in a wall drawn in millimetres", {"openings": {"o": {**opening(0), "along": "2235.2 mm", "width": "812.8 mm"}}}),
    ("a room a foot past its walls", {**box(120, 96), **room((0, 0), (132, 0), (132, 96), (0, 96))}),
    ("a room past walls that are not drawn all around", {
        "walls": {"w": {"level": "m", "kind": "exterior", "from": [0, 0], "to": [120, 0]}}, **room((0, 0), (300, 0), (300, 90), (0, 90)),
    }),
    ("a porch outside the walls", {**box(120, 96), "rooms": {
        "r": {"level": "m", "uses": ["porch"], "outline": [[0, -60], [120, -60], [120, -4], [0, -4]]}}}),
    ("two doors side by side", {"openings": {"o": opening(10), "q": opening(42)}}),
    ("a light over a door", {"openings": {"o": opening(10, head=80), "q": opening(10, "fixed_glass", sill=84, head=96)}}),
    ("a window of unknown height over a door", {"openings": {"o": opening(10), "q": opening(10, "window")}}),
    ("a door of unknown height under a window", {"openings": {"o": opening(10), "q": opening(10, "window", sill=84)}}),
    ("a box half an inch past the corner", {"boxes": {"a": {"at": {"wall": "w", "along": 120.5}}}}),
    ("a hole as wide as its member", route(how="bored", member="2x4", hole={"diameter": 3.5})),
    ("a cable straight up a stud", route(how="along_member", points=[[0, 0], [0, 0]], heights=[9, 44])),
    ("two cables between the same boxes", cable({"box": "a"}, {"box": "b"})),
    ("a box and a panel of one name", {"boxes": {"p": {}}, **cable({"box": "p"}, {"panel": "p"})}),
    ("a control of a receptacle by a receptacle", {
        "devices": {"d": {"kind": "receptacle"}, "e": {"kind": "receptacle"}},
        "controls": {"c": {"switches": ["d"], "outlets": ["e"]}},
    }),
]  # fmt: skip


@pytest.mark.parametrize("more", [case[1] for case in RIGHT], ids=[case[0] for case in RIGHT])
def test_what_can_be_true_is_no_fault(more: dict[str, Any]) -> None:
    assert read_plan(json.dumps({**HOUSE, **more}).encode()).name == "small"


def test_the_drawing_is_looked_at_although_other_parts_are_wrong() -> None:
    document = {**HOUSE, **room((0, 0), (9, 9), (9, 0), (0, 9)), "boxes": {"a": {"gangs": 0}}}
    with pytest.raises(PlanRefused) as caught:
        read_plan(json.dumps(document).encode())
    assert [str(fault.pointer) for fault in caught.value.faults] == ["/rooms/r/outline", "/boxes/a/gangs"]


@pytest.mark.parametrize(
    ("devices", "at", "words"),
    [
        ({"s": {"box": "a", "yoke_with": "s"}}, "/devices/s/yoke_with", "not its own"),
        ({"s": {"box": "a"}, "r": {"box": "b", "yoke_with": "s"}}, "/devices/r/yoke_with", "one yoke is in one box"),
        ({"s": {"yoke_with": "r"}, "r": {"yoke_with": "s"}}, "/devices/s/yoke_with", "stands for the yoke"),
        ({"s": {"kind": "luminaire"}, "r": {"yoke_with": "s"}}, "/devices/r/yoke_with", "wiring devices"),
    ],
)
def test_the_halves_of_a_combination_device_are_on_one_yoke_in_one_box(devices: dict[str, Any], at: str, words: str) -> None:
    drawn = {name: {"kind": "switch", **facts} for name, facts in devices.items()}
    plan = {"plan_format": 1, "name": "yokes", "basis": {"edition": "2023"}, "boxes": {"a": {}, "b": {}}, "devices": drawn}
    with pytest.raises(PlanRefused) as refused:
        read_plan_value(plan)
    assert any(str(fault.pointer) == at and words in fault.detail for fault in refused.value.faults)
