"""A wall's elevation read back and compared with the plan: boxes by distance and height, studs by spacing, drill lines by routes."""

import copy
import math
from itertools import pairwise

import pytest

from nailplate.sheets.drawing import PAPERS, Stamp, wall_sheet
from nailplate.survey import Survey
from nailplate.wire import read_plan_value
from sheets.houses import house, place_of, plan_of, walls
from sheets.reading_svg import SVG, anchors, overlaps, parsed, texts
from sheets.test_level_drawing import scale_of

STAMP = Stamp("plan", "2023")


def drawn(name: str, wall: str) -> str:
    plan = plan_of(name)
    return wall_sheet(Survey(plan), plan.walls[wall], PAPERS["letter"], STAMP)


@pytest.mark.parametrize(("name", "wall"), walls())
def test_every_box_is_at_its_distance_and_height(name: str, wall: str) -> None:
    value, svg = house(name), drawn(name, wall)
    points, found = scale_of(svg), anchors(svg, "boxes")
    wanted = {key: box["at"] for key, box in value["boxes"].items() if box["at"].get("wall") == wall}
    assert found.keys() == wanted.keys()
    sides = [each["side"] for each in wanted.values()]
    seen_from_left = 2 * sides.count("left") >= len(sides) if _same_side(value, wall) is None else _same_side(value, wall)
    way = -1 if seen_from_left else 1  # from who stands on the left side, the from end is at the right
    moved = [(x - way * wanted[key]["along"] * points, y + wanted[key]["height"] * points) for key, (x, y) in found.items()]
    for axis in (0, 1):
        ways = [each[axis] for each in moved] or [0.0]
        assert max(ways) - min(ways) < 0.5


def _same_side(value: dict, wall: str) -> bool | None:  # type: ignore[type-arg]
    """Whether most of what is on the wall, panels and devices without a box among it, is on its left side."""
    parts = [*value["panels"].values(), *value["boxes"].values(), *(d for d in value["devices"].values() if "box" not in d)]
    sides = [at["side"] for at in (place_of(value, part) for part in parts) if at is not None and at.get("wall") == wall]
    return 2 * sides.count("left") >= len(sides) if sides else None


@pytest.mark.parametrize(("name", "wall"), walls())
def test_no_lettering_lies_over_other_lettering(name: str, wall: str) -> None:
    assert overlaps(drawn(name, wall)) == []


@pytest.mark.parametrize(
    ("name", "wall"), [("tamarack-wren", "south"), ("tamarack-osprey", "north"), ("tamarack-heron", "east")]
)
def test_studs_stand_at_their_spacing_and_are_said_to_be_assumed(name: str, wall: str) -> None:
    svg, drawn_wall = drawn(name, wall), house(name)["walls"][wall]
    points = scale_of(svg)
    shapes = [each for each in parsed(svg).iter(f"{SVG}rect") if each.get("class") == "np-stud"]
    tall = [each for each in shapes if float(each.attrib["width"]) < 2 * points]
    places = sorted(
        {round(float(each.attrib["x"]) + float(each.attrib["width"]) / 2, 1) for each in tall if float(each.attrib["x"]) > 5}
    )
    long = math.dist(drawn_wall["from"], drawn_wall["to"])
    steps = [round((other - one) / points, 1) for one, other in pairwise(places)]
    assert steps.count(16.0) >= int(long // 16) - 3
    said = " ".join(each.said for each in texts(parsed(svg)))
    assert "Stud places assumed from the corner" in said.replace("\n", " ")


def test_stated_studs_are_drawn_where_they_are_stated() -> None:
    value = copy.deepcopy(house("tamarack-wren"))
    value["walls"]["bath-wall"]["framing"] |= {"first_stud": 12, "studs": [18]}
    plan = read_plan_value(value)
    svg = wall_sheet(Survey(plan), plan.walls["bath-wall"], PAPERS["letter"], STAMP)
    points, frame = scale_of(svg), [each for each in parsed(svg).iter(f"{SVG}rect") if each.get("class") == "np-stud"]
    tall = [
        each for each in frame if float(each.attrib["width"]) < 2 * points and float(each.attrib["x"]) > 5
    ]  # 5: the legend's
    centers = sorted({round(float(each.attrib["x"]) + float(each.attrib["width"]) / 2, 1) for each in tall})
    steps = [(other - one) / points for one, other in pairwise(centers)]
    assert steps[-3:] == pytest.approx(
        [10, 6, 11.25], abs=0.1
    )  # seen from the left side, 28, 18, 12 and the end stud, past the door
    said = " ".join(each.said for each in texts(parsed(svg)))
    assert "Studs stand as the plan states them" in said.replace("\n", " ")


def test_a_wall_without_stated_spacing_has_no_studs_and_says_so() -> None:
    svg = drawn("tamarack-wren", "loft-guard")
    assert 'np-stud"' not in svg
    assert "does not state the stud spacing" in " ".join(each.said for each in texts(parsed(svg)))


def test_heights_distances_and_drill_lines_are_told_in_figures() -> None:
    """Wren, front wall from inside: the counter box is 134.5 in from the wall's from end at x 2.5, so at 137; bath wall's face is at 69.5."""
    said = [each.said for each in texts(parsed(drawn("tamarack-wren", "south")))]
    # seen from inside the from end (west) is at the right: the corner at the left is the east wall's face, x = 331
    assert '8\'-6" over, 44" up' not in said
    assert f'{_feet(331 - 137)} over, 44" up' in said
    assert any(each.startswith('drill 41"') for each in said)


def _feet(inches: int) -> str:
    return f"{inches // 12}'-{inches % 12}\""
