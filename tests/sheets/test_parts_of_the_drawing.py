"""Single parts of a drawing against plain geometry: swings, gaps, marks, ghosts, derived routes, and what is said not to be drawn."""

import json
import math
import re
from typing import Any

import pytest

from nailplate.plan import Pointer
from nailplate.sheets.drawing import PAPERS, Findings, Mark, Proposal, Stamp, level_sheet
from nailplate.survey import Survey
from nailplate.wire import read_plan
from sheets.reading_svg import SVG, Point, anchors, layer, parsed, texts
from sheets.test_level_drawing import scale_of

PLAN: dict[str, Any] = {
    "plan_format": 1,
    "name": "p",
    "basis": {"edition": "2023"},
    "levels": {"m": {"kind": "storey", "ceiling": {"height": 96}}},
    "walls": {
        "s": {"level": "m", "kind": "exterior", "from": [0, 0], "to": [200, 0], "thickness": 6},
        "e": {"level": "m", "kind": "exterior", "from": [200, 0], "to": [200, 150], "thickness": 6},
        "n": {"level": "m", "kind": "exterior", "from": [200, 150], "to": [0, 150], "thickness": 6},
        "w": {"level": "m", "kind": "exterior", "from": [0, 150], "to": [0, 0], "thickness": 6},
    },
    "rooms": {"r": {"level": "m", "uses": ["living"], "outline": [[3, 3], [197, 3], [197, 147], [3, 147]]}},
    "panels": {"p": {"kind": "subpanel", "at": {"wall": "e", "along": 75, "height": 60, "side": "left"}}},
    "circuits": {"c": {"panel": "p", "position": [1], "breaker": {"rating": 20, "poles": 1}}},
    "boxes": {
        "one": {"at": {"wall": "s", "along": 30, "height": 16, "side": "left"}},
        "two": {"at": {"wall": "n", "along": 30, "height": 16, "side": "left"}},
    },
    "devices": {
        "r1": {"kind": "receptacle", "box": "one", "circuit": "c"},
        "r2": {"kind": "receptacle", "box": "two", "circuit": "c"},
        "lost": {"kind": "luminaire", "label": "Lamp of no place"},
    },
    "cables": {
        "home": {"type": "NM-B", "ends": [{"panel": "p"}, {"box": "one"}], "circuit": "c"},
        "on": {"type": "NM-B", "ends": [{"box": "one"}, {"box": "two"}], "circuit": "c"},
    },
}

NONE = Findings()


def drawn(findings: Findings = NONE, **more: Any) -> str:
    plan = read_plan(json.dumps({**PLAN, **more}).encode())
    return level_sheet(Survey(plan), plan.levels["m"], PAPERS["letter"], Stamp("p", "2023"), findings)


def on_paper(svg: str, point: Point) -> Point:
    """Where a place of the plan is on the sheet, told by the panel's anchor: it stands at (197, 75)."""
    x, y = anchors(svg, "panels")["p"]
    return (x + (point[0] - 197) * scale_of(svg), y - (point[1] - 75) * scale_of(svg))


@pytest.mark.parametrize(
    ("hinge", "swing", "pivot", "leaf"),
    [
        ("from", "left", (90, 3), (90, 33)),
        ("to", "left", (120, 3), (120, 33)),
        ("from", "right", (90, -3), (90, -33)),
        ("to", "right", (120, -3), (120, -33)),
    ],
)
def test_a_door_swings_as_the_plan_says(hinge: str, swing: str, pivot: Point, leaf: Point) -> None:
    door = {"wall": "s", "along": 90, "width": 30, "kind": "door", "hinge": hinge, "swing": swing}
    svg = drawn(openings={"d": door})
    shown = layer(svg, "openings")
    assert shown is not None
    [line] = [each for each in shown.iter(f"{SVG}line") if each.get("class") == "np-opening"]
    ends = [tuple(float(line.attrib[name]) for name in pair) for pair in (("x1", "y1"), ("x2", "y2"))]
    for found, wanted in zip(ends, (pivot, leaf), strict=True):
        assert math.dist(found, on_paper(svg, wanted)) < 0.5
    [arc] = shown.iter(f"{SVG}path")
    start = tuple(map(float, re.findall(r"M([-0-9.]+) ([-0-9.]+)", arc.attrib["d"])[0]))
    shut = (120 if hinge == "from" else 90, pivot[1])
    assert math.dist(start, on_paper(svg, shut)) < 0.5


def test_a_door_whose_swing_is_not_stated_has_none() -> None:
    svg = drawn(openings={"d": {"wall": "s", "along": 90, "width": 30, "kind": "door"}})
    shown = layer(svg, "openings")
    assert shown is not None
    assert not list(shown.iter(f"{SVG}path"))
    assert [each for each in shown.iter(f"{SVG}line") if each.get("class") == "np-unsaid"]


def test_walls_stop_at_openings_and_close_their_corners() -> None:
    svg = drawn(openings={"d": {"wall": "s", "along": 90, "width": 30, "kind": "cased"}})
    shapes = [each for each in parsed(svg).iter(f"{SVG}polygon") if each.get("class") == "np-wall"]
    assert len(shapes) == 5  # four walls, one of them in two pieces
    corners = [tuple(map(float, each.split(","))) for shape in shapes for each in shape.attrib["points"].split()]
    for outer in ((-3, -3), (203, -3), (203, 153), (-3, 153)):
        assert min(math.dist(on_paper(svg, outer), each) for each in corners) < 0.5
    gap = [on_paper(svg, (90, 3)), on_paper(svg, (120, 3))]
    for edge in gap:
        assert min(math.dist(edge, each) for each in corners) < 0.5


def test_severity_is_told_by_shape_and_word_and_an_open_finding_by_its_outline() -> None:
    marks = [
        Mark(1, "danger", open=False, words="w", pointers=(Pointer("/devices/r1"),)),
        Mark(2, "code", open=True, words="w", pointers=(Pointer("/devices/r2"),)),
        Mark(3, "advice", open=False, words="w", pointers=(Pointer("/panels/p"),)),
        Mark(4, "advice", open=False, words="w", pointers=(Pointer("/devices/lost"), Pointer("/rooms/r"))),
    ]
    svg = drawn(Findings(marks))
    shown = {
        each.attrib["data-findings"]: each
        for each in parsed(svg).iter(f"{SVG}g")
        if "np-mark" in each.get("class", "").split() and "data-findings" in each.attrib
    }
    assert shown.keys() == {"1", "2", "3", "4"}
    said = {number: " ".join(text.said for text in texts(mark)) for number, mark in shown.items()}
    assert said == {"1": "1 Danger", "2": "2 Code ?", "3": "3 Advice", "4": "4 Advice"}
    shapes = {number: next(mark.iter(f"{SVG}path")).attrib["d"] for number, mark in shown.items()}
    assert shapes["1"].count("L") == 7  # eight corners
    assert shapes["2"].count("A") == 0
    assert shapes["2"].count("H") == 2  # four
    assert shapes["3"].count("A") == 2  # round ends
    assert "np-mark-open" in shown["2"].attrib["class"]
    margin = next(each for each in parsed(svg).iter(f"{SVG}g") if each.get("class") == "np-margin")
    rows = [each.said for each in texts(margin)]
    assert {"Danger: w", "Code ?: w", "Advice: w"} <= set(rows)


def test_a_proposed_device_is_a_ghost_at_its_place_in_any_unit() -> None:
    at = {"wall": "n", "along": "8 ft 4 in", "height": "16 in", "side": "left"}
    svg = drawn(Findings(proposals=[Proposal(7, {"kind": "receptacle", "at": at})]))
    [ghost] = [each for each in parsed(svg).iter(f"{SVG}g") if each.get("class") == "np-proposed"]
    dot = next(ghost.iter(f"{SVG}circle"))
    assert math.dist((float(dot.attrib["cx"]), float(dot.attrib["cy"])), on_paper(svg, (100, 147))) < 0.5
    assert "proposed receptacle, 7" in [each.said for each in texts(parsed(svg))]
    assert not layer(drawn(Findings(proposals=[Proposal(7, {"kind": "receptacle", "at": {"wall": "nowhere"}})])), "proposed")


def test_a_route_that_is_not_drawn_is_worked_out_and_told_apart() -> None:
    svg = drawn()
    cables = layer(svg, "cables")
    assert cables is not None
    assert {each.attrib["data-part"] for each in cables} == {"/cables/home", "/cables/on"}
    assert all("worked out" in each.findtext(f"{SVG}title", "") for each in cables)
    assert "Cable, route" in " ".join(each.said for each in texts(parsed(svg)))


def test_what_cannot_be_drawn_is_said() -> None:
    rooms = {**PLAN["rooms"], "x": {"level": "m", "uses": ["closet"], "label": "Closet of no outline"}}
    said = " ".join(each.said for each in texts(parsed(drawn(rooms=rooms))))
    assert "Closet of no outline: no outline in the plan" in said
    assert "Lamp of no place" in said
    bare = {key: {k: v for k, v in wall.items() if k != "thickness"} for key, wall in PLAN["walls"].items()}
    assert "thickness not stated" in " ".join(each.said for each in texts(parsed(drawn(walls=bare))))


@pytest.mark.parametrize(("unit", "words"), [("mm", "1:50"), ("m", "1:50"), ("ft", "1'-0\"")])
def test_scale_and_dimensions_are_in_the_plans_own_unit(unit: str, words: str) -> None:
    per = {"mm": 25.4, "m": 0.0254, "ft": 1 / 12}[unit]
    room = {"level": "m", "uses": ["living"], "outline": [[0, 0], [120 * per, 0], [120 * per, 240 * per], [0, 240 * per]]}
    head = {key: PLAN[key] for key in ("plan_format", "name", "basis", "levels")}
    plan = read_plan(
        json.dumps({**head, "levels": {"m": {"kind": "storey"}}, "units": {"length": unit}, "rooms": {"r": room}}).encode()
    )
    svg = level_sheet(Survey(plan), plan.levels["m"], PAPERS["letter"], Stamp("p", "2023"))
    said = " ".join(each.said for each in texts(parsed(svg)))
    assert words in said
    wanted = {"mm": "3048 mm x 6096 mm", "m": "3.048 m x 6.096 m", "ft": "10'-0\" x 20'-0\""}[unit]
    assert wanted in said
