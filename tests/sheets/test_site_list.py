"""The site list: figures that follow from walls and framing alone, and from boxes and cables as far as they are drawn."""

import json
from typing import Any

import pytest

from nailplate.catalog import catalog
from nailplate.codes import edition
from nailplate.plan import Plan
from nailplate.review import check
from nailplate.rulekit import Job
from nailplate.sheets import SiteItem, site_list_of
from nailplate.survey import Survey
from nailplate.wire import read_plan

WALL = {"level": "m", "from": [0, 100], "to": [200, 100], "thickness": 4.5, "kind": "exterior"}
BOX = {"at": {"wall": "n", "along": 40, "height": 16, "side": "right"}}
PANEL_END = {"panel": "p"}


def read(**maps: Any) -> Plan:
    plan = {"plan_format": 1, "name": "p", "basis": {"edition": "2023"}, "levels": {"m": {"kind": "storey"}}, **maps}
    return read_plan(json.dumps(plan).encode())


def items(year: str = "2023", **maps: Any) -> dict[str, list[SiteItem]]:
    plan = read(**maps)
    found: dict[str, list[SiteItem]] = {}
    for item in site_list_of(Job(plan, Survey(plan, edition(year)), edition(year))).items:
        found.setdefault(item.topic, []).append(item)
    return found


def walled(member: str, *, kind: str = "exterior", bearing: bool = True, **more: Any) -> dict[str, Any]:
    framing = {"member": member, "spacing": 16, "material": "wood", "bearing": bearing}
    return {"walls": {"n": {**WALL, "kind": kind, "framing": framing}}, "boxes": {"a": BOX}, **more}


def figures(item: SiteItem) -> dict[str, float]:
    return {figure.what: figure.value.value for figure in item.figures}


# Worked by hand from 1-1/4 in to both faces, and from 40 % and 60 % of the actual depth (WAC 296-150C-1000; studylib.net/doc/13373209).
@pytest.mark.parametrize(
    ("member", "kind", "unplated", "plated"),
    [
        ("2x3", "exterior", 0.0, 1.0),
        ("2x4", "exterior", 1.0, 1.4),
        ("2x4", "interior", 1.0, 2.1),
        ("2x6", "exterior", 2.2, 2.2),
        ("2x6", "interior", 3.0, 3.3),
    ],
)
def test_largest_holes_follow_from_the_framing_alone(member: str, kind: str, unplated: float, plated: float) -> None:
    [item] = items(**walled(member, kind=kind, bearing=kind == "exterior"))["holes"]
    assert figures(item)["largest hole without plates"] == pytest.approx(unplated)
    assert figures(item)["largest hole with plates"] == pytest.approx(plated)


def test_center_tolerance_of_a_usual_hole_is_told() -> None:
    [item] = items(**walled("2x4"))["holes"]
    assert "3/4 in hole may be 1/8 in out of center" in item.do
    assert item.section == "NEC 300.4(A); IRC R602.6"


def test_limits_are_rounded_to_the_safe_side() -> None:
    [item] = items(**walled("2x4", kind="interior", bearing=False))["holes"]
    assert "with plates 2 1/16 in" in item.do  # of 2.1; 2-1/8 would be past it


def test_2026_cites_its_own_section() -> None:
    [item] = items("2026", **walled("2x4"))["side_by_side"]
    assert item.section == "NEC 300.6(D)"


def test_bay_of_a_2x3_has_no_place_for_cable_and_every_hole_is_plated() -> None:
    found = items(**walled("2x3"))
    assert "plates on both faces" in found["holes"][0].do
    assert "side_by_side" not in found


def test_cables_that_fit_side_by_side_and_in_a_hole() -> None:
    [item] = items(**walled("2x6"))["side_by_side"]
    assert figures(item)["14-2 cables side by side"] == 8
    assert figures(item)["12-2 cables side by side"] == 7
    assert figures(item)["12-2 cables in a 3/4 in hole, by size"] == 3


def test_walls_of_one_framing_are_one_item() -> None:
    plan = walled("2x4")
    plan["walls"]["s"] = {**plan["walls"]["n"], "from": [0, 0], "to": [200, 0]}
    plan["boxes"]["b"] = {"at": {"wall": "s", "along": 40, "height": 16, "side": "left"}}
    [item] = items(**plan)["holes"]
    assert (item.at, item.where) == (("/walls/n", "/walls/s"), ("wall 'n'", "wall 's'"))


def test_cabinet_on_a_wall_is_where_not_to_drill() -> None:
    room = {"k": {"level": "m", "uses": ["kitchen"], "outline": [[0, 0], [200, 0], [200, 97.75], [0, 97.75]]}}
    counter = {"c": {"room": "k", "kind": "wall", "back": [[50, 97.75], [90, 97.75]], "depth": 25, "height": 36}}
    [item] = items(**walled("2x4", rooms=room, counters=counter))["keep_clear"]
    assert figures(item)["cabinet 'c': from, along the wall"] == 50
    assert figures(item)["cabinet 'c': to, along the wall"] == 90
    assert (figures(item)["cabinet 'c': lowest"], figures(item)["cabinet 'c': highest"]) == (30, 36)
    assert item.section is None


def cabled(*route: dict[str, Any], **box: Any) -> dict[str, Any]:
    cable = {"type": "NM-B", "size": "14 AWG", "insulated": 2, "ends": [{"box": "a"}, PANEL_END], "route": list(route)}
    panels = {"p": {"kind": "subpanel", "at": {"wall": "n", "along": 180, "height": 60, "side": "right"}}}
    return {**walled("2x4", cables={"k": cable}, panels=panels), "boxes": {"a": {**BOX, **box}}}


BORED = {"wall": "n", "how": "bored", "points": [[40, 100], [180, 100]], "heights": [30, 30]}
UP = {"wall": "n", "how": "along_member", "points": [[180, 100], [180, 100]], "heights": [30, 150]}


def test_plates_are_counted_where_holes_are_near_an_edge() -> None:
    [item] = items(**cabled({**BORED, "hole": {"diameter": 1.25, "centre_offset": 0}}, UP))["plates"]
    assert figures(item) == {"plates, about": 18}  # 140 in of studs at 16 in: nine, both faces


def test_no_plates_are_asked_for_where_holes_are_small_and_central() -> None:
    assert "plates" not in items(**cabled({**BORED, "hole": {"diameter": 1, "centre_offset": 0}}, UP))


def test_staples_are_counted_along_framing_and_at_both_ends() -> None:
    [item] = items(**cabled(BORED, UP))["supports"]
    assert figures(item) == {"staples, about": 4}  # 120 in along the stud: three spaces of 54 in at the most


@pytest.mark.parametrize(
    ("year", "words"), [("2023", "1 7/8 in inside radius;"), ("2026", "1 7/8 in inside radius, 7/8 in where")]
)
def test_bends_by_edition(year: str, words: str) -> None:
    [item] = items(year, **cabled(BORED, UP))["bends"]
    assert words.replace("7/8 in where", "15/16 in where") in item.do  # 0.88 in is past 7/8


@pytest.mark.parametrize(
    ("box", "first"),
    [
        ({"material": "nonmetallic", "gangs": 1, "clamps": "none"}, 8),
        ({"material": "nonmetallic", "gangs": 2, "clamps": "internal"}, 12),
        ({}, 8),
    ],
)
def test_first_staple_at_a_box(box: dict[str, Any], first: float) -> None:
    [item] = items(**cabled(BORED, UP, **box))["boxes"]
    assert figures(item)["to the first staple, at most"] == first


def test_nothing_drawn_asks_for_nothing() -> None:
    assert items() == {}


def test_a_house_of_many_walls_is_listed_up_to_a_most() -> None:
    walls = {f"w{n}": {**WALL, "from": [0, n * 50], "to": [100 + n, n * 50], "framing": {"member": "2x4"}} for n in range(450)}
    boxes = {f"b{n}": {"at": {"wall": f"w{n}", "along": 40, "height": 16, "side": "left"}} for n in range(450)}
    cables = {f"k{n}": {"type": "NM-B", "size": "14 AWG", "ends": [{"box": f"b{n}"}, PANEL_END]} for n in range(450)}
    plan = read(walls=walls, boxes=boxes, cables=cables, panels={"p": {"kind": "subpanel"}})
    listed = check(plan, catalog()).site_list
    assert listed is not None
    assert len(listed.items) == 400
    assert listed.left_out > 0


def test_boxes_are_to_be_checked_against_a_layout_that_is_not_stated() -> None:
    [item] = items(**walled("2x4"))["studs"]
    assert (item.where, figures(item)) == (("wall 'n'",), {"studs, on center": 16, "clear between studs": 14.5})
    assert item.do.startswith("Check the boxes against the stud layout, 16 in on center")


def test_boxes_that_go_to_the_nearest_stud_are_marked_on_the_plate() -> None:
    told = walled("2x4", boxes={"a": {**BOX, "placing": "nearest_stud"}})
    [item] = items(**told)["studs"]
    assert item.do.startswith("Mark the studs on the floor plate, 16 in on center")


def test_a_stated_layout_leaves_nothing_to_check() -> None:
    told = walled("2x4")
    told["walls"]["n"]["framing"]["first_stud"] = 16
    assert "studs" not in items(**told)
