"""Names that would be markup, escape a string, turn a line around or steer a terminal are inert; long ones are cut, the whole in a title."""

import json
import re
import xml.etree.ElementTree as ET
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nailplate.plan import Plan, PlanRefused, Pointer
from nailplate.sheets.drawing import PAPERS, Findings, Mark, Proposal, Stamp, level_sheet, wall_sheet
from nailplate.survey import Survey
from nailplate.wire import NotJson, read_plan
from sheets.reading_svg import SVG

HOSTILE = (
    "<script>alert(1)</script>",
    "</text></svg><script>x</script>",
    "]]>",
    "<![CDATA[",
    "&lt;&amp;&#x3c;",
    "\"' onload='alert(1)' x=\"",
    "<!-- ",
    "\u202egnp.exe",
    "\u2066\u2069\u200f",
    "\u001b[2J\u001b]0;owned\u0007",
    "a\u0000b\u0008c\u007f\u0085",
    "line\nline\r\nline\u2028line\u2029",
    "\ufeffbom\ufffe\uffff",
    "🧰👩‍🔧" * 9,
    "é" * 5000,
    "=HYPERLINK(1)",
    "${7*7}{{7*7}}%s",
    "javascript:alert(1)",
)
ALLOWED = {
    "svg", "title", "desc", "style", "g", "rect", "text", "line", "circle", "polygon", "polyline", "path", "a",
}  # fmt: skip
_STEERING = re.compile("[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\ufffe\uffff]")


def plan_named(name: str) -> dict[str, Any]:
    """A plan in which everything that takes a name has this one, and so have its ids as far as ids may."""
    return {
        "plan_format": 1,
        "name": name,
        "basis": {"edition": "2023"},
        "levels": {"m": {"kind": "storey", "label": name, "ceiling": {"height": 96}}},
        "walls": {"w": {"level": "m", "kind": "interior", "from": [0, 0], "to": [200, 0], "thickness": 4, "label": name}},
        "openings": {"o": {"wall": "w", "along": 90, "width": 30, "kind": "door", "label": name}},
        "rooms": {"r": {"level": "m", "uses": ["living"], "outline": [[0, 2], [200, 2], [200, 120], [0, 120]], "label": name}},
        "counters": {
            "c": {"room": "r", "kind": "island", "outline": [[90, 60], [120, 60], [120, 90], [90, 90]], "label": name}
        },
        "panels": {"p": {"kind": "service", "at": {"wall": "w", "along": 150, "height": 60, "side": "left"}, "label": name}},
        "circuits": {"k": {"panel": "p", "label": name}},
        "boxes": {"b": {"at": {"wall": "w", "along": 20, "height": 16, "side": "left"}, "label": name}, "j": {"label": name}},
        "devices": {
            "d": {"kind": "switch", "box": "b", "circuit": "k", "label": name},
            "l": {"kind": "luminaire", "at": {"room": "r", "point": [60, 60], "height": 96}, "label": name},
        },
        "cables": {"x": {"type": "NM-B", "ends": [{"panel": "p"}, {"box": "b"}], "circuit": "k", "label": name}},
        "controls": {"s": {"switches": ["d"], "outlets": ["l"], "label": name}},
    }


def drawings(name: str) -> list[str]:
    plan = _read(name)
    survey, stamp = Survey(plan), Stamp(plan.name, "2023", name, ((name, name),), name, (name,))
    marks = [Mark(1, "danger", open=False, words=name, pointers=(Pointer("/devices/d"),), target="#f1")]
    ghosts = [Proposal(1, {"kind": name, "at": {"wall": "w", "along": "3 ft", "height": 16, "side": "left"}})]
    level = level_sheet(survey, plan.levels["m"], PAPERS["letter"], stamp, Findings(marks, ghosts))
    return [level, wall_sheet(survey, plan.walls["w"], PAPERS["letter"], stamp, marks)]


def _read(name: str) -> Plan:
    """The plan with the name all over it; where the door refuses the name, it comes in by the caller's other words alone."""
    try:
        return read_plan(json.dumps(plan_named(name)).encode())
    except (NotJson, PlanRefused):
        return read_plan(json.dumps(plan_named("plain")).encode())


def assert_inert(svg: str) -> None:
    root = ET.fromstring(svg)
    for element in root.iter():
        assert element.tag.removeprefix(SVG) in ALLOWED
        assert not any(name.startswith("on") or name == "style" for name in element.attrib)
        assert element.get("href", "#").startswith("#")
    assert not _STEERING.search(svg)
    assert svg.count("<style>") == 1
    assert "<script" not in svg
    assert svg.encode()


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_is_inert(name: str) -> None:
    for svg in drawings(name):
        assert_inert(svg)


@settings(max_examples=60, deadline=None)
@given(st.text(min_size=1, max_size=40).filter(str.strip))
def test_any_name_is_inert(name: str) -> None:
    for svg in drawings(name):
        assert_inert(svg)


def test_a_very_long_name_is_cut_and_its_whole_is_in_a_title() -> None:
    name = "Bedroom over the garage with the dormer " * 4 + "and the closet"
    svg = drawings(name)[0]
    said = ["".join(each.itertext()) for each in ET.fromstring(svg).iter(f"{SVG}text")]
    titles = ["".join(each.itertext()) for each in ET.fromstring(svg).iter(f"{SVG}title")]
    assert max(map(len, said)) < 120
    assert any("…" in each for each in said)
    assert any(name.strip() in each for each in titles)
