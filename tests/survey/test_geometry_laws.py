"""Laws of the drawing: how a plan is laid on the paper, and in what unit, changes no outcome of any rule about places on walls.

Plans go through the door as a client's would; hypothesis makes up the rooms, counters, halls, dividers and receptacles. Shapely says
independently what the figures of a counter and of an island are.
"""

import copy
import math
from collections.abc import Callable
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from rules.judging import answers, document, loaded, packs, patched, told

Json = dict[str, Any]
Place = tuple[float, float]
Move = Callable[[Place], Place]

THICK, FACE = 4.5, 2.25
RULES = ("wall-space", "wall-counter", "island-peninsula", "hall-receptacle", "room-divider")
YEARS = st.sampled_from(["2017", "2020", "2023", "2026"])
laws = settings(max_examples=20, deadline=None)


def rectangle(x0: float, y0: float, x1: float, y1: float) -> list[list[float]]:
    return [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]


def receptacle(wall: str, along: float, height: float, side: str = "left") -> Json:
    at = {"wall": wall, "along": along, "height": height, "side": side}
    return {"kind": "receptacle", "at": at, "rating": 20, "voltage": 125}


@st.composite
def houses(draw: st.DrawFn) -> Json:
    """A kitchen with a counter around a corner, a sink in it, an island, and beside it a living room and a hall."""
    width, depth = float(draw(st.integers(150, 260))), float(draw(st.integers(130, 220)))
    corners = rectangle(-FACE, -FACE, width + 200 + FACE, depth + FACE)
    walls: Json = {
        name: {"level": "m", "from": corners[n], "to": corners[(n + 1) % 4], "thickness": THICK, "kind": "exterior"}
        for n, name in enumerate("senw")
    }
    split = width + 100
    walls["p"] = {"level": "m", "from": [split, -FACE], "to": [split, depth + FACE], "thickness": THICK, "kind": "interior"}
    walls["h"] = {"level": "m", "from": [width + 40, 30], "to": [width + 40, 30 + draw(st.integers(20, 90))], "thickness": THICK,
                  "kind": draw(st.sampled_from(["half", "railing"])), "height": 36}  # fmt: skip
    rooms = {
        "k": {"level": "m", "uses": ["kitchen"], "outline": rectangle(0, 0, width, depth)},
        "l": {"level": "m", "uses": ["living"], "outline": rectangle(width, 0, split - FACE, depth)},
        "t": {"level": "m", "uses": ["hallway"], "outline": rectangle(split + FACE, 0, width + 200, depth)},
    }
    long = float(draw(st.integers(40, int(width) - 20)))
    counters = {
        "c": {"room": "k", "kind": "wall", "back": [[0, 90], [0, 0], [long, 0]], "facing": "left", "depth": 25, "height": 36,
              "has_top": True},
        "i": {"room": "k", "kind": "island", "outline": rectangle(60, 60, 60 + draw(st.integers(20, 80)), 100), "height": 36,
              "backsplash": 0, "overhang": 0, "provision": draw(st.sampled_from(["none", "raceway"]))},
    }  # fmt: skip
    sink = float(draw(st.integers(26, 60)))
    fixtures = {"s": {"room": "k", "kind": "kitchen_sink", "counter": "c", "in_corner": False,
                      "outline": rectangle(sink, draw(st.integers(2, 14)), sink + 25, 24)}}  # fmt: skip
    openings = {"d": {"wall": "n", "along": FACE + 250 - draw(st.integers(0, 60)), "width": 36, "kind": "door"}}
    devices = {f"s{n}": receptacle("s", FACE + along, 44) for n, along in enumerate(draw(places(long)))}
    # none where the wall between living room and hall stands: it would be in no room, or in either by a rounding
    beside = places(150).map(lambda found: [along for along in found if abs(along - 100) > 2 * FACE])
    devices |= {f"n{n}": receptacle("n", FACE + along, 16) for n, along in enumerate(draw(beside))}
    devices |= {f"p{n}": receptacle("p", FACE + along, 16, "right") for n, along in enumerate(draw(places(100)))}
    devices |= {
        f"h{n}": receptacle("h", along, 16, draw(st.sampled_from(["left", "right"])))
        for n, along in enumerate(draw(places(20)))
    }
    if draw(st.booleans()):
        at = {"room": "k", "point": [70, 80], "height": 36}
        devices["i"] = {
            "kind": "receptacle",
            "mount": "countertop",
            "listing": "countertop",
            "at": at,
            "rating": 20,
            "voltage": 125,
        }
    return {"levels": {"m": {"kind": "storey"}}, "walls": walls, "rooms": rooms, "openings": openings, "counters": counters,
            "fixtures": fixtures, "devices": devices}  # fmt: skip


def places(length: float) -> st.SearchStrategy[list[int]]:
    return st.lists(st.integers(2, int(length) - 2), max_size=3, unique=True)


def said(plan: Json, year: str, rules: tuple[str, ...] = RULES) -> list[tuple[str, str, str, float | None]]:
    """Outcomes by rule, place and figure, in no order: facets name walls, which a plan drawn otherwise may have others of."""
    whole = loaded(document({"edition": f"nec-{year}", "plan": plan}))
    found = []
    for rule in rules:
        for at, outcome in answers(packs().rules[rule], whole):
            each = told(at, outcome)
            figure = round(float(each["measured"].split()[0]), 3) if "measured" in each else None
            found.append((rule, at, str(each["outcome"]), figure))
    return sorted(found, key=str)


def moved(plan: Json, move: Move, *, mirrored: bool = False) -> Json:
    """The plan with all its points moved; a mirror swaps left and right."""
    result = copy.deepcopy(plan)
    for wall in result["walls"].values():
        wall["from"], wall["to"] = list(move(tuple(wall["from"]))), list(move(tuple(wall["to"])))
    for part in (*result["rooms"].values(), *result["counters"].values(), *result["fixtures"].values()):
        for name in ("outline", "back"):
            if name in part:
                part[name] = [list(move((x, y))) for x, y in part[name]]
    swap = {"left": "right", "right": "left"} if mirrored else {"left": "left", "right": "right"}
    for counter in result["counters"].values():
        if "facing" in counter:
            counter["facing"] = swap[counter["facing"]]
    for place in (device["at"] for device in result["devices"].values()):
        if "point" in place:
            place["point"] = list(move(tuple(place["point"])))
        elif "side" in place:
            place["side"] = swap[place["side"]]
    return result


def turned(degrees: float) -> Move:
    cosine, sine = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return lambda point: (point[0] * cosine - point[1] * sine, point[0] * sine + point[1] * cosine)


@laws
@given(plan=houses(), year=YEARS, x=st.integers(-5000, 5000), y=st.integers(-5000, 5000), degrees=st.integers(0, 359))
def test_moving_turning_and_mirroring_change_no_outcome(plan: Json, year: str, x: int, y: int, degrees: int) -> None:
    wanted = said(plan, year)
    assert said(moved(plan, lambda point: (point[0] + x, point[1] + y)), year) == wanted
    assert said(moved(plan, turned(degrees)), year) == wanted
    assert said(moved(plan, lambda point: (-point[0], point[1]), mirrored=True), year) == wanted


LENGTHS = frozenset(
    {"from", "to", "thickness", "outline", "back", "depth", "height", "overhang", "backsplash", "along", "width", "point"}
)


def in_unit(value: object, factor: float, key: str = "") -> object:
    """The document with every bare length multiplied."""
    if isinstance(value, dict):
        return {name: in_unit(each, factor, name) for name, each in value.items()}
    if isinstance(value, list):
        return [in_unit(each, factor, key) for each in value]
    return value * factor if isinstance(value, int | float) and not isinstance(value, bool) and key in LENGTHS else value


@laws
@given(plan=houses(), year=YEARS, unit=st.sampled_from([("mm", 25.4), ("cm", 2.54), ("ft", 1 / 12), ("m", 0.0254)]))
def test_the_unit_of_the_drawing_changes_no_outcome(plan: Json, year: str, unit: tuple[str, float]) -> None:
    name, factor = unit
    other = in_unit(plan, factor)
    assert isinstance(other, dict)
    assert said({**other, "units": {"length": name}}, year) == said(plan, year)


@laws
@given(plan=houses(), year=YEARS, part=st.floats(0.1, 0.9))
def test_a_wall_drawn_in_two_pieces_changes_no_outcome(plan: Json, year: str, part: float) -> None:
    result = copy.deepcopy(plan)
    wall = result["walls"]["s"]
    (ax, ay), (bx, _) = wall["from"], wall["to"]
    cut = round((bx - ax) * part) + 0.25
    result["walls"]["s2"] = {**wall, "from": [ax + cut, ay]}
    wall["to"] = [ax + cut, ay]
    for device in result["devices"].values():
        if device["at"].get("wall") == "s" and device["at"]["along"] >= cut:
            device["at"] |= {"wall": "s2", "along": device["at"]["along"] - cut}
    assert said(result, year) == said(plan, year)


@laws
@given(plan=houses(), year=YEARS, wall=st.sampled_from("snpw"), along=st.integers(5, 120), height=st.sampled_from([16, 44]))
def test_one_more_receptacle_makes_nothing_worse(plan: Json, year: str, wall: str, along: int, height: int) -> None:
    side = "right" if wall == "p" else "left"
    more = {**plan, "devices": {**plan["devices"], "more": receptacle(wall, along, height, side)}}
    before, after = ([each for each in said(one, year) if each[2] != "pass"] for one in (plan, more))
    for rule in RULES:
        assert sum(each[0] == rule for each in after) <= sum(each[0] == rule for each in before)


@laws
@given(plan=houses(), year=YEARS)
def test_remedies_clear_what_they_are_for_and_bring_nothing_new(plan: Json, year: str) -> None:
    """Over all these rules together, each remedy by itself and one after another until none is left."""
    basis = document({"edition": f"nec-{year}", "plan": plan})
    for _ in range(12):
        found = [(rule, each) for rule in RULES for each in answers(packs().rules[rule], loaded(basis))]
        patch = next((one.patch for _, (_, outcome) in found for one in getattr(outcome, "remedies", ()) if one.patch), None)
        if patch is None:
            break
        after = patched(basis, patch)
        then = [(rule, each) for rule in RULES for each in answers(packs().rules[rule], loaded(after))]
        assert open_of(then) < open_of(found)
        basis = after
    else:
        pytest.fail("remedies lead to no end")


def open_of(found: list[Any]) -> set[tuple[str, str, str]]:
    return {
        (rule, at, outcome.facet) for rule, (at, outcome) in found if told(at, outcome)["outcome"] in ("violation", "judgement")
    }


# Against shapely


@laws
@given(plan=houses(), year=YEARS)
def test_counters_are_short_just_where_shapely_says_so(plan: Json, year: str) -> None:
    """The back line without the sink's shadow, in pieces; each point of a piece of 12 in or more within 24 in along it."""
    line = shapely.LineString(plan["counters"]["c"]["back"])
    sink = shapely.Polygon(plan["fixtures"]["s"]["outline"])
    left, bottom, right, _ = sink.bounds
    shadows = []
    if bottom < 12:
        shadows.append((line.project(shapely.Point(left, 0)), line.project(shapely.Point(right, 0))))
    pieces = [each for each in cut(line.length, shadows) if each[1] - each[0] >= 12]
    stands = [
        line.project(shapely.Point(device["at"]["along"] - FACE, 0))
        for name, device in plan["devices"].items()
        if name[0] == "s"
    ]
    short = 0
    for start, end in pieces:
        reached = shapely.union_all([shapely.LineString([(at - 24, 0), (at + 24, 0)]) for at in stands if start <= at <= end])
        short += shapely.LineString([(start, 0), (end, 0)]).difference(reached).length > 1e-6
    assert sum(each[2] == "violation" for each in said(plan, year, ("wall-counter",))) == short


def cut(length: float, shadows: list[tuple[float, float]]) -> list[tuple[float, float]]:
    whole = shapely.LineString([(0, 0), (length, 0)])
    rest = whole.difference(shapely.union_all([shapely.LineString([(a, 0), (b, 0)]) for a, b in shadows]))
    return [(part.bounds[0], part.bounds[2]) for part in getattr(rest, "geoms", [rest]) if part.length > 1e-6]


@laws
@given(plan=houses())
def test_islands_need_what_their_area_in_shapely_asks_for(plan: Json) -> None:
    top = shapely.Polygon(plan["counters"]["i"]["outline"])
    needed = 1 + max(0, math.ceil(top.area / 144 / 18 - 0.5 - 1e-9))
    have = sum(name == "i" and top.covers(shapely.Point(each["at"]["point"])) for name, each in plan["devices"].items())
    ((_, _, outcome, figure),) = [each for each in said(plan, "2020", ("island-peninsula",)) if each[1] == "/counters/i"]
    assert outcome == ("pass" if have >= needed else "violation")
    assert figure == have
