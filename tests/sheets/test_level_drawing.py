"""A level's drawing read back by a program that knows nothing of how it was drawn, and compared with the plan's own JSON."""

import re
import time
import xml.etree.ElementTree as ET
from collections import Counter

import pytest

from nailplate.catalog import catalog
from nailplate.plan.document import in_order
from nailplate.review import check
from nailplate.sheets.drawing import PAPERS, Stamp, level_sheet
from nailplate.survey import Survey
from sheets.houses import HOUSES, Point, house, levels, place_of, plan_of, stands
from sheets.reading_svg import SVG, anchors, layer, overlaps, parsed, texts

STAMP = Stamp("plan", "2023", "sha256:" + "0" * 64, (("nailplate", "0.1.0"),), "2026-12-01")


def drawn(name: str, level: str, paper: str = "letter") -> str:
    plan = plan_of(name)
    return level_sheet(Survey(plan), plan.levels[level], PAPERS[paper], STAMP)


def expected(name: str, level: str, kind: str) -> dict[str, Point]:
    value = house(name)
    found = {}
    for key, part in value[kind].items():
        at = place_of(value, part)
        if at is not None and stands(value, at)[0] == level:
            found[key] = stands(value, at)[1]
    return found


def scale_of(svg: str) -> float:
    """Points on paper for an inch of the house, as the title block states it."""
    said = " ".join(each.said for each in texts(parsed(svg)))
    part, over = re.search(r"Scale (\d+)(?:/(\d+))?\" = 1'-0\"", said).groups()  # type: ignore[union-attr]
    return int(part) / int(over or 1) * 72 / 12


@pytest.mark.parametrize("paper", list(PAPERS))
@pytest.mark.parametrize(("name", "level"), levels())
def test_every_box_and_device_is_at_its_place(name: str, level: str, paper: str) -> None:
    svg = drawn(name, level, paper)
    points = scale_of(svg)
    moved = []
    for kind in ("boxes", "devices", "panels"):
        wanted, found = expected(name, level, kind), anchors(svg, kind)
        assert set(found) >= set(wanted)
        moved += [(found[key][0] - x * points, found[key][1] + y * points) for key, (x, y) in wanted.items()]
    for axis in (0, 1):  # x to the right and y up in the plan, down on the sheet
        ways = [each[axis] for each in moved] or [0.0]
        assert max(ways) - min(ways) < 0.5


@pytest.mark.parametrize(("name", "level"), levels())
def test_rooms_lie_where_their_outlines_do(name: str, level: str) -> None:
    svg = drawn(name, level)
    points = scale_of(svg)
    rooms = [each for each in in_order(house(name)["rooms"]).values() if each["level"] == level]
    shapes = [] if layer(svg, "rooms") is None else list(layer(svg, "rooms"))  # type: ignore[arg-type]
    assert len(shapes) == len(rooms)
    for room, shape in zip(rooms, shapes, strict=True):
        corners = [tuple(map(float, each.split(","))) for each in shape.attrib["points"].split()]
        offsets = [(x - a * points, y + b * points) for (x, y), (a, b) in zip(corners, room["outline"], strict=True)]
        assert max(x for x, _ in offsets) - min(x for x, _ in offsets) < 0.5
        assert max(y for _, y in offsets) - min(y for _, y in offsets) < 0.5


@pytest.mark.parametrize("name", HOUSES)
def test_symbols_are_as_many_as_the_plan_holds(name: str) -> None:
    value = house(name)
    counted: Counter[str] = Counter()
    for level in value["levels"]:
        svg = drawn(name, level)
        for kind in ("devices", "boxes", "panels"):
            counted[kind] += len(anchors(svg, kind))
    assert counted["devices"] == len([each for each in value["devices"].values() if place_of(value, each)])
    assert counted["boxes"] == len(value["boxes"])
    assert counted["panels"] == len(value["panels"])


@pytest.mark.parametrize(("name", "level"), levels())
def test_symbols_are_of_the_devices_kind_and_the_legend_lists_them_and_no_others(name: str, level: str) -> None:
    svg = drawn(name, level, "tabloid")
    groups = list(parsed(svg).iter(f"{SVG}g"))
    used = {each.attrib["data-symbol"]: each.attrib["data-part"] for each in groups if "data-symbol" in each.attrib}
    listed = {each.attrib["data-sign"] for each in groups if "data-sign" in each.attrib}
    lines = {"home-run", "switch-leg", "cable", "cable-free", "riser"}
    assert listed - lines == used.keys()
    for sign, shown in (("switch-leg", "switch-legs"), ("home-run", "home-runs")):
        assert (sign in listed) == (layer(svg, shown) is not None)
    for symbol, part in used.items():
        kind, key = part.split("/")[1:3]
        if kind == "devices":
            assert symbol.split("-")[0] in house(name)["devices"][key]["kind"].replace("_", "-")


@pytest.mark.parametrize("paper", list(PAPERS))
@pytest.mark.parametrize(("name", "level"), levels())
def test_no_lettering_lies_over_other_lettering(name: str, level: str, paper: str) -> None:
    assert overlaps(drawn(name, level, paper)) == []


@pytest.mark.parametrize(("name", "level"), levels())
def test_lettering_stays_on_the_paper(name: str, level: str) -> None:
    for box in texts(parsed(drawn(name, level))):
        assert 0 < box.left < box.right < 11 * 72, box
        assert 0 < box.top < box.bottom < 8.5 * 72, box


@pytest.mark.parametrize("name", HOUSES)
def test_every_device_with_a_circuit_has_its_tag_and_every_home_run_its_arrow(name: str) -> None:
    value = house(name)
    arrows: set[str] = set()
    for level in value["levels"]:
        svg = drawn(name, level, "tabloid")
        shown = layer(svg, "home-runs")
        arrows |= {each.attrib["data-part"].split("/")[2] for each in shown} if shown is not None else set()
        said = Counter(each.said for each in texts(parsed(svg)))
        for key in expected(name, level, "devices"):
            circuit = value["circuits"].get(value["devices"][key].get("circuit", ""))
            if circuit is not None:
                assert any(
                    each.endswith(",".join(map(str, circuit["position"])))
                    or each.startswith(",".join(map(str, circuit["position"])))
                    for each in said
                ), key
    ends = {key: [next(iter(each)) for each in cable["ends"]] for key, cable in value["cables"].items()}
    circuits = {key: cable.get("circuit") for key, cable in value["cables"].items()}
    assert arrows == {key for key, kinds in ends.items() if "panel" in kinds and kinds.count("panel") == 1 and circuits[key]}


@pytest.mark.parametrize("name", HOUSES)
def test_a_switch_leg_leaves_every_switch_toward_its_outlets(name: str) -> None:
    value = house(name)
    main = drawn(name, "main")
    shown = layer(main, "switch-legs")
    assert shown is not None
    legs = {each.attrib["data-part"].split("/")[2]: each for each in shown}
    here = expected(name, "main", "devices")
    for key, control in value["controls"].items():
        both = [device for device in {*control["switches"], *control["outlets"]} if device in here]
        if {*control["switches"]} & here.keys() and {*control["outlets"]} & here.keys():
            assert len(legs[key].findall(f"{SVG}path")) >= len(both) - 1


def test_the_largest_house_is_drawn_in_well_under_the_time_of_a_check() -> None:
    plan = plan_of("tamarack-osprey")
    check(plan, catalog())
    drawn("tamarack-osprey", "main")
    drawing = min(_timed(lambda: drawn("tamarack-osprey", "main")) for _ in range(5))
    checking = min(_timed(lambda: check(plan, catalog())) for _ in range(5))
    assert drawing < checking * 0.6


def _timed(work: "object") -> float:
    began = time.process_time()
    work()  # type: ignore[operator]
    return time.process_time() - began


def test_a_drawing_is_the_same_every_time() -> None:
    assert drawn("tamarack-heron", "main") == drawn("tamarack-heron", "main")


def test_a_sheet_says_whose_it_is_and_what_it_is_not() -> None:
    svg = drawn("tamarack-wren", "main")
    said = " ".join("".join(each.itertext()) for each in parsed(svg).iter(f"{SVG}text"))
    for words in (
        "NEC 2023",
        "nailplate 0.1.0",
        "issued 2026-12-01",
        "Not for construction",
        "Verify every dimension",
        "licensed electrician",
    ):
        assert words in said
    assert re.search(r"sha256:0+", said)
    root: ET.Element = parsed(svg)
    assert (root.attrib["width"], root.attrib["height"], root.attrib["viewBox"]) == ("11in", "8.5in", "0 0 792 612")
