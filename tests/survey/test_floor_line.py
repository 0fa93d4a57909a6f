"""Floor lines and wall spaces: cases argued in print, each with its address, and the laws that hold for any plan.

Plans here go through the door as a client's would; a law is tried on rooms, doors and receptacles that hypothesis makes up.
"""

import copy
import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nailplate import codes
from nailplate.codes import EDITIONS
from nailplate.plan import Plan
from nailplate.survey import Survey
from nailplate.survey.receptacles.shortages import cases, judged_spaces
from nailplate.survey.space.floor_line import Surface, floor_line
from nailplate.survey.space.wall_spaces import Reading, wall_spaces
from rules.judging import answers, document, loaded, packs, told

Json = dict[str, Any]
Place = tuple[float, float]
Move = Callable[[Place], Place]

THICK = 4.5
FACE = THICK / 2
"""A wall's centre line to its face; walls of a rectangle are drawn from the corners of their centre lines."""
EVERY_EDITION = pytest.mark.parametrize("year", EDITIONS)
LIMITS = codes.edition("2023").spacing.wall


def rectangle(x0: float, y0: float, x1: float, y1: float) -> list[list[float]]:
    return [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]


def walls_around(width: float, depth: float) -> Json:
    corners = rectangle(-FACE, -FACE, width + FACE, depth + FACE)
    return {
        name: {"level": "m", "from": corners[n], "to": corners[(n + 1) % 4], "thickness": THICK, "kind": "exterior"}
        for n, name in enumerate(("s", "e", "n", "w"))
    }


def door(wall: str, from_corner: float, width: float, kind: str = "door", **more: object) -> Json:
    return {"wall": wall, "along": FACE + from_corner, "width": width, "kind": kind, **more}


def receptacle(wall: str, from_corner: float, side: str = "left") -> Json:
    at = {"wall": wall, "along": FACE + from_corner, "height": 16, "side": side}
    return {"kind": "receptacle", "at": at, "rating": 15, "voltage": 125}


def house(width: float, depth: float, openings: Json, devices: Json, use: str = "bedroom") -> Json:
    rooms = {"r": {"level": "m", "uses": [use], "outline": rectangle(0, 0, width, depth)}}
    levels = {"m": {"kind": "storey"}}
    return {"levels": levels, "walls": walls_around(width, depth), "rooms": rooms, "openings": openings, "devices": devices}


def between_doorways(length: float, devices: Json) -> Json:
    """One wall between two doorways: all the other walls are open over their whole length."""
    openings = {"e": door("e", 0, 36, "cased"), "n": door("n", 0, length, "cased"), "w": door("w", 0, 36, "cased")}
    return house(length, 36, openings, devices)


def said(plan: Json, rule: str = "wall-space", year: str = "2023") -> list[Json]:
    whole = loaded(document({"edition": f"nec-{year}", "plan": plan}))
    return [told(at, outcome) for at, outcome in answers(packs().rules[rule], whole)]


def outcomes(plan: Json, rule: str = "wall-space", year: str = "2023") -> list[tuple[str, str, float | None]]:
    """Outcomes with their figures, in no order: places are told by other walls when a plan is drawn otherwise."""
    found = (
        (each["at"], each["outcome"], round(float(each["measured"].split()[0]), 3) if "measured" in each else None)
        for each in said(plan, rule, year)
    )
    return sorted(found, key=str)


def surveyed(plan: Json) -> Survey:
    whole: Plan = loaded(document({"edition": "nec-2023", "plan": plan}))
    return Survey(whole)


def lengths(plan: Json) -> list[float]:
    return sorted(round(space.length, 3) for space in wall_spaces(surveyed(plan), "m", tops_break=False, reading=Reading()))


# Worked cases


# https://forums.mikeholt.com/threads/32172: a wall of 11 ft 10 in with a doorway at each end; one near the middle is enough,
# one 2 ft from an end is not
@EVERY_EDITION
def test_a_wall_between_two_doorways(year: str) -> None:
    assert lengths(between_doorways(142, {})) == [142]
    for along in (70, 71, 72):
        assert outcomes(between_doorways(142, {"a": receptacle("s", along)}), year=year)[0][1] == "pass"
    assert outcomes(between_doorways(142, {"a": receptacle("s", 24)}), year=year) == [("/rooms/r", "violation", 118)]


# https://www.ecmag.com/section/codes-standards/article-210-branch-circuits: a half wall 7 ft long between two rooms; one on each
# side, within 6 ft of its free end
@EVERY_EDITION
def test_a_half_wall_between_two_rooms(year: str) -> None:
    plan = house(200, 200, {name: door(name, 0, 200, "cased") for name in "senw"}, {})
    plan["walls"]["half"] = {"level": "m", "from": [100, 0], "to": [100, 84], "thickness": THICK, "kind": "half", "height": 36}
    left, right = 100 - FACE, 100 + FACE
    plan["rooms"] = {
        "r": {"level": "m", "uses": ["living"], "outline": [[0, 0], [left, 0], [left, 84], [left, 200], [0, 200]]},
        "k": {
            "level": "m",
            "uses": ["dining"],
            "outline": [[right, 0], [200, 0], [200, 200], [left, 200], [left, 84], [right, 84]],
        },
    }

    def with_receptacles(**along: float) -> Json:
        devices = {side: receptacle("half", place - FACE, side) for side, place in along.items()}
        return {**plan, "devices": devices}

    assert [outcome for _, outcome, _ in outcomes(with_receptacles(left=12, right=12), year=year)] == ["pass", "pass"]
    assert ("/rooms/r", "violation", 73) in outcomes(with_receptacles(left=11, right=12), year=year)
    assert ("/rooms/r", "violation", 84) in outcomes(with_receptacles(left=0, right=12), year=year)
    assert [outcome for _, outcome, _ in outcomes(with_receptacles(left=12), year=year)] == ["violation", "pass"]


# https://forums.mikeholt.com/threads/2587744: a 2 ft wall between two doors, receptacles on the far sides of both; it needs its own
@EVERY_EDITION
def test_two_feet_between_two_doors(year: str) -> None:
    openings = {"one": door("s", 60, 36), "two": door("s", 120, 36)}
    round_about = {"a": receptacle("s", 54), "b": receptacle("s", 162), "c": receptacle("e", 80), "d": receptacle("w", 40)}
    around = {**round_about, "f": receptacle("n", 50), "g": receptacle("n", 170)}
    plan = house(216, 110, openings, around)
    assert 24 in lengths(plan)
    assert [each for each in outcomes(plan, year=year) if each[1] == "violation"] == [("/rooms/r", "violation", 24)]
    plan["devices"]["own"] = receptacle("s", 108)
    assert [each for each in outcomes(plan, year=year) if each[1] == "violation"] == []


# http://ecmweb.com/print/qampa/code-qa-81?page=3: two basins, one receptacle between them is enough within 3 ft of both edges
@EVERY_EDITION
@pytest.mark.parametrize(("away", "second"), [(36, "pass"), (37, "violation")])
def test_one_receptacle_between_two_basins(year: str, away: float, second: str) -> None:
    plan = house(160, 90, {}, {"a": {**receptacle("s", 60), "rating": 20}}, use="bathroom")
    plan["devices"]["a"]["at"]["height"] = 42
    plan["fixtures"] = {
        "one": {"room": "r", "kind": "basin", "height": 34, "outline": rectangle(20, 0, 40, 18)},
        "two": {"room": "r", "kind": "basin", "height": 34, "outline": rectangle(60 + away, 0, 80 + away, 18)},
    }
    found = outcomes(plan, "bath-receptacle", year)
    assert found == [("/fixtures/one", "pass", 20), ("/fixtures/two", second, away)]


# https://performresidentialelecinspec.passetra.com/question/what-is-the-minimum-number-e5d3180582c675d4 asks for the least number
# in a bedroom of 12 by 12 ft and gives three. With one door of 3 ft the wall space is 45 ft and three reach 36 ft of it at most:
# the key does not follow from the rule.
@pytest.mark.parametrize("first", [0, 36, 72, 100, 144, 288, 400])
def test_three_receptacles_never_serve_a_bedroom_of_twelve_by_twelve(first: float) -> None:
    plan = house(144, 144, {"d": door("s", 54, 36)}, {})
    assert lengths(plan) == [540]
    places = [(first + step * 144) % 540 for step in range(3)]
    plan["devices"] = {f"d{n}": receptacle(*_on_bedroom_wall(place)) for n, place in enumerate(places)}
    assert outcomes(plan)[0][1] == "violation"
    four = [72 + step * 132 for step in range(4)]
    plan["devices"] = {f"d{n}": receptacle(*_on_bedroom_wall(place)) for n, place in enumerate(four)}
    assert outcomes(plan) == [("/rooms/r", "pass", 72)]


def _on_bedroom_wall(place: float) -> tuple[str, float]:
    """A place counted from the door's right edge, counter-clockwise around the room."""
    around = (place + 90) % 576
    return ("s", "e", "n", "w")[int(around // 144)], around % 144


# Laws

widths = st.integers(min_value=60, max_value=400).map(float)


@st.composite
def plans(draw: st.DrawFn) -> Json:
    """A rectangular room with some openings, a fireplace perhaps, and some receptacles on whole inches."""
    width, depth = draw(widths), draw(widths)
    sides = {"s": width, "e": depth, "n": width, "w": depth}
    openings, devices = {}, {}
    for name, length in sides.items():
        kind = draw(st.sampled_from(["none", "door", "window", "sliding_door", "fixed_glass"]))
        if kind != "none":
            start = draw(st.integers(min_value=0, max_value=int(length) - 40))
            more: Json = (
                {"panels": draw(st.sampled_from([["fixed", "sliding"], ["sliding", "fixed"]]))} if "slid" in kind else {}
            )
            openings[f"o{name}"] = door(name, start, 36, kind, **more, **({"sill": 30} if kind == "window" else {}))
        for number in range(draw(st.integers(min_value=0, max_value=2))):
            devices[f"d{name}{number}"] = receptacle(name, draw(st.integers(min_value=0, max_value=int(length))))
    plan = house(width, depth, openings, devices)
    if draw(st.booleans()):
        plan["fixtures"] = {"f": {"room": "r", "kind": "fireplace", "outline": rectangle(10, 0, 50, 20)}}
    return plan


def moved(plan: Json, move: Move, *, mirrored: bool = False) -> Json:
    """The plan with all its points moved; a mirror swaps the sides of walls."""
    result = copy.deepcopy(plan)
    for wall in result["walls"].values():
        wall["from"], wall["to"] = list(move(tuple(wall["from"]))), list(move(tuple(wall["to"])))
    for part in (*result["rooms"].values(), *result.get("fixtures", {}).values()):
        part["outline"] = [list(move((x, y))) for x, y in part["outline"]]
    for device in result["devices"].values():
        if mirrored:
            device["at"]["side"] = {"left": "right", "right": "left"}[device["at"]["side"]]
    return result


def turned(degrees: float) -> Move:
    cosine, sine = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return lambda point: (point[0] * cosine - point[1] * sine, point[0] * sine + point[1] * cosine)


@settings(max_examples=40, deadline=None)
@given(plan=plans(), shift=st.tuples(st.integers(-5000, 5000), st.integers(-5000, 5000)), degrees=st.integers(0, 359))
def test_moving_turning_and_mirroring_change_no_outcome(plan: Json, shift: tuple[int, int], degrees: int) -> None:
    wanted = outcomes(plan)
    assert outcomes(moved(plan, lambda point: (point[0] + shift[0], point[1] + shift[1]))) == wanted
    assert outcomes(moved(plan, turned(degrees))) == wanted
    assert outcomes(moved(plan, lambda point: (-point[0], point[1]), mirrored=True)) == wanted


@settings(max_examples=40, deadline=None)
@given(plan=plans(), wall=st.sampled_from("senw"), part=st.floats(min_value=0.1, max_value=0.9))
def test_a_wall_drawn_in_two_pieces_changes_no_outcome(plan: Json, wall: str, part: float) -> None:
    assert outcomes(split(plan, wall, part)) == outcomes(plan)


def split(plan: Json, name: str, part: float) -> Json:
    """The wall cut in two; it is cut beside an opening rather than through it, and what is past the cut goes to the new wall."""
    result = copy.deepcopy(plan)
    wall = result["walls"][name]
    (ax, ay), (bx, by) = wall["from"], wall["to"]
    length = math.hypot(bx - ax, by - ay)
    cut = round(length * part) + 0.25
    for opening in result["openings"].values():
        if opening["wall"] == name and opening["along"] < cut < opening["along"] + opening["width"]:
            cut = opening["along"]
    cut = max(cut, 1.0)
    middle = [ax + (bx - ax) * cut / length, ay + (by - ay) * cut / length]
    result["walls"][f"{name}2"] = {**wall, "from": middle}
    wall["to"] = middle
    for place in (*result["openings"].values(), *(device["at"] for device in result["devices"].values())):
        if place["wall"] == name and place["along"] >= cut:
            place["wall"], place["along"] = f"{name}2", place["along"] - cut
    return result


def out_of_reach(plan: Json) -> float:
    survey = surveyed(plan)
    (case,) = cases(survey, "m", tops_break=False)
    return sum(
        gap.end - gap.start
        for judged in judged_spaces(survey, "m", tops_break=False, limits=LIMITS, case=case)
        for gap in judged.found.gaps
    )


@settings(max_examples=60, deadline=None)
@given(plan=plans(), wall=st.sampled_from("senw"), along=st.integers(min_value=0, max_value=60))
def test_one_more_receptacle_never_makes_it_worse(plan: Json, wall: str, along: int) -> None:
    more = {**plan, "devices": {**plan["devices"], "more": receptacle(wall, along)}}
    assert out_of_reach(more) <= out_of_reach(plan) + 1e-6
    faults, fewer = ([each for each in outcomes(one) if each[1] == "violation"] for one in (plan, more))
    assert len(fewer) <= len(faults)


@settings(max_examples=60, deadline=None)
@given(plan=plans())
def test_the_stretches_make_up_the_whole_outline(plan: Json) -> None:
    line = floor_line(surveyed(plan), "r", tops_break=False)
    outline = plan["rooms"]["r"]["outline"]
    around = sum(math.dist(one, two) for one, two in zip(outline, [*outline[1:], outline[0]], strict=True))
    assert math.isclose(sum(stretch.length for stretch in line), around)
    assert all(stretch.surface is not Surface.OPEN for stretch in line)


@settings(max_examples=40, deadline=None)
@given(plan=plans(), border=st.floats(min_value=0.15, max_value=0.85))
def test_a_border_between_two_zones_changes_no_wall_space(plan: Json, border: float) -> None:
    """An open plan drawn as two rooms has the wall spaces of the whole."""
    width, depth = (max(point[axis] for point in plan["rooms"]["r"]["outline"]) for axis in (0, 1))
    at = round(width * border) + 0.5
    zones = copy.deepcopy(plan)
    zones.pop("fixtures", None)
    plan.pop("fixtures", None)
    whole = lengths(plan)
    zones["rooms"] = {
        "r": {"level": "m", "uses": ["living"], "outline": rectangle(0, 0, at, depth)},
        "k": {"level": "m", "uses": ["dining"], "outline": rectangle(at, 0, width, depth)},
    }
    assert lengths(zones) == whole
    assert math.isclose(out_of_reach(zones), out_of_reach(plan), abs_tol=1e-6)


# What the drawing says only roughly


@pytest.mark.parametrize("thickness", [4.5, None])
def test_a_wall_is_found_whether_or_not_its_thickness_is_said(thickness: float | None) -> None:
    plan = house(142, 142, {"d": door("s", 50, 36)}, {})
    if thickness is None:
        for wall in plan["walls"].values():
            del wall["thickness"]
    assert lengths(plan) == [4 * 142 - 36]


def test_an_outline_half_an_inch_off_the_walls_face_is_still_on_it() -> None:
    plan = house(142, 142, {"d": door("s", 50, 36)}, {})
    plan["rooms"]["r"]["outline"] = rectangle(0.5, 0.5, 141.5, 141.5)
    assert lengths(plan) == [4 * 141 - 36]


def test_the_mouth_of_a_hall_is_counted_to_the_far_face_of_the_corner() -> None:
    """A wall that meets another at its centre line ends, on the floor line, at that other's far face."""
    plan = house(200, 100, {}, {}, "living")
    del plan["walls"]["s"]
    plan["walls"]["p"] = {"level": "m", "from": [-FACE, -FACE], "to": [100, -FACE], "thickness": THICK, "kind": "interior"}
    plan["walls"]["q"] = {"level": "m", "from": [100, -FACE], "to": [100, -80], "thickness": THICK, "kind": "interior"}
    plan["walls"]["x"] = {
        "level": "m",
        "from": [200 + FACE, -FACE],
        "to": [200 + FACE, -80],
        "thickness": THICK,
        "kind": "exterior",
    }
    plan["rooms"]["h"] = {"level": "m", "uses": ["hallway"], "outline": rectangle(100 + FACE, -80, 200, 0)}
    line = [each for each in floor_line(surveyed(plan), "r", tops_break=False) if each.edge == 0]
    assert [(each.surface, each.start, each.end) for each in line] == [
        (Surface.WALL, 0, 100 + FACE),
        (Surface.OPEN, 100 + FACE, 200),
    ]


def test_the_two_faces_of_a_thin_divider_are_two_wall_spaces() -> None:
    plan = house(200, 200, {name: door(name, 0, 200, "cased") for name in "senw"}, {})
    plan["walls"]["rail"] = {"level": "m", "from": [100, 0], "to": [100, 60], "thickness": 1, "kind": "railing", "height": 36}
    plan["rooms"] = {
        "r": {"level": "m", "uses": ["living"], "outline": [[0, 0], [99.5, 0], [99.5, 60], [99.5, 200], [0, 200]]},
        "k": {
            "level": "m",
            "uses": ["dining"],
            "outline": [[100.5, 0], [200, 0], [200, 200], [99.5, 200], [99.5, 60], [100.5, 60]],
        },
    }
    assert lengths(plan) == [60, 60]
    # An open railing is one line that both rooms use: one floor receptacle beside it serves both
    # (https://www.ecmag.com/section/codes-standards/article-210-branch-circuits).
    at = {"room": "r", "point": [90, 30], "height": 0}
    plan["devices"] = {"a": {"kind": "receptacle", "mount": "floor", "at": at, "rating": 15, "voltage": 125}}
    assert [outcome for _, outcome, _ in outcomes(plan)] == ["pass", "pass"]


# Places that remedies propose


def proposed(plan: Json, rule: str = "wall-space") -> list[tuple[str, float]]:
    """Wall and place along it of each receptacle that the rule's remedies add."""
    whole = loaded(document({"edition": "nec-2023", "plan": plan}))
    found = []
    for _, outcome in answers(packs().rules[rule], whole):
        for operation in (step for remedy in getattr(outcome, "remedies", ()) for step in remedy.patch):
            added = operation.value if "kind" not in operation.value else {"only": operation.value}
            found += [(new["at"]["wall"], float(new["at"]["along"].split()[0])) for new in added.values()]
    return found


@settings(max_examples=40, deadline=None)
@given(plan=plans())
def test_a_proposed_receptacle_has_room_for_its_box(plan: Json) -> None:
    width, depth = (max(point[axis] for point in plan["rooms"]["r"]["outline"]) for axis in (0, 1))
    lengths_of = {"s": width, "n": width, "e": depth, "w": depth}
    for wall, along in proposed(plan):
        assert FACE + 3 - 1e-6 <= along <= FACE + lengths_of[wall] - 3 + 1e-6
        for opening in plan["openings"].values():
            if opening["wall"] == wall and opening["kind"] != "window":
                assert not opening["along"] - 3 + 1e-6 < along < opening["along"] + opening["width"] + 3 - 1e-6


@settings(max_examples=40, deadline=None)
@given(plan=plans())
def test_a_proposal_clears_the_room_with_hardly_more_than_the_least_number(plan: Json) -> None:
    """In a room without receptacles or glass each wall space gets what its length needs, or one more to keep off a corner."""
    plan["devices"] = {}
    plan["openings"] = {name: each for name, each in plan["openings"].items() if each["kind"] in ("door", "window")}
    needed = [math.ceil(length / 144) for length in lengths(plan) if length >= 24]
    places = proposed(plan)
    assert sum(needed) <= len(places) <= sum(needed) + len(needed)
    plan["devices"] = {f"p{n}": {**receptacle(wall, along - FACE)} for n, (wall, along) in enumerate(places)}
    assert {outcome for _, outcome, _ in outcomes(plan)} == {"pass"}


@pytest.mark.parametrize(("width", "depth", "least"), [(144, 144, 4), (60, 298, 5), (200, 120, 5)])
def test_a_room_without_a_door_gets_the_least_number(width: float, depth: float, least: int) -> None:
    assert len(proposed(house(width, depth, {}, {}))) == least == math.ceil(2 * (width + depth) / 144)


def test_a_receptacle_for_a_basin_is_proposed_out_of_the_tubs_zone_and_beside_the_door() -> None:
    plan = house(120, 96, {"d": door("s", 2, 30)}, {}, use="bathroom")
    basin = {"room": "r", "kind": "basin", "height": 34, "outline": rectangle(40, 0, 60, 18)}
    plan["fixtures"] = {"b": basin, "t": {"room": "r", "kind": "tub", "outline": rectangle(88, 0, 120, 60)}}
    ((wall, along),) = proposed(plan, "bath-receptacle")
    assert wall == "s"
    assert 35 <= along - FACE <= 88 - 36
    plan["fixtures"]["t"]["outline"] = rectangle(62, 0, 120, 60)
    assert proposed(plan, "bath-receptacle") == []
