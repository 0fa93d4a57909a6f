"""Routes worked out from the ends of cables: held against the drawn ones of the example houses, networkx, and laws."""

import statistics
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.routes import HOUSES, Compared, compared
from houses import house as whole_house
from nailplate.plan import Cable, Plan
from nailplate.survey import Survey
from nailplate.survey.routing import Route, route_of
from nailplate.survey.routing.ends import stand_of
from nailplate.survey.routing.frames import Frame, frame_of
from nailplate.survey.routing.shortest import nearest
from nailplate.wire import read_plan_value

HEAD: dict[str, Any] = {"plan_format": 1, "name": "small", "basis": {"edition": "2023"}}
BAND = (0.5, 2.0)
BESIDE_THE_BAND = {
    (
        "tamarack-osprey",
        "living-b",
    ): "drawn up over the ceiling and down again; walls that meet join both boxes at the drill line",
}
UNROUTED = {
    ("tamarack-osprey", "heat-pump-whip"): "outdoors",
    ("tamarack-osprey", "lights-living-j"): "outdoors",
    ("tamarack-osprey", "shed-home"): "outdoors",
}
"""What cannot be routed, and the word of its reason: whips, buried cable and raceways outdoors are their author's to draw."""


@pytest.fixture(scope="module")
def every() -> list[tuple[str, Compared]]:
    return [(house, each) for house in HOUSES for each in compared(house)]


def test_derived_lengths_agree_with_drawn_ones(every: list[tuple[str, Compared]]) -> None:
    ratios = {(house, each.cable): each.ratio for house, each in every if each.ratio is not None}
    assert 0.9 <= statistics.median(ratios.values()) <= 1.1
    assert {key for key, ratio in ratios.items() if not BAND[0] <= ratio <= BAND[1]} == set(BESIDE_THE_BAND)


def test_what_is_not_routed_says_why(every: list[tuple[str, Compared]]) -> None:
    unrouted = {(house, each.cable): each.derived.why_not or "" for house, each in every if each.derived.along is None}
    assert unrouted.keys() == UNROUTED.keys()
    assert all(UNROUTED[key] in why for key, why in unrouted.items())


def test_the_route_of_the_author_stands_and_the_other_is_marked(every: list[tuple[str, Compared]]) -> None:
    assert not any(each.drawn.derived for _, each in every)
    assert all(each.derived.derived for _, each in every)


# Small plans


WALLS = {
    "s": {"level": "m", "from": [0, 0], "to": [240, 0], "kind": "exterior", "thickness": 5, "height": 96},
    "e": {"level": "m", "from": [240, 0], "to": [240, 180], "kind": "exterior", "thickness": 5, "height": 96},
    "n": {"level": "m", "from": [240, 180], "to": [0, 180], "kind": "exterior", "thickness": 5, "height": 96},
    "w": {"level": "m", "from": [0, 180], "to": [0, 0], "kind": "exterior", "thickness": 5, "height": 96},
    "p": {"level": "m", "from": [120, 0], "to": [120, 180], "kind": "interior", "thickness": 4.5, "height": 96},
}
ROOMS = {
    "left": {"level": "m", "uses": ["living"], "outline": [[2.5, 2.5], [117.75, 2.5], [117.75, 177.5], [2.5, 177.5]]},
    "right": {"level": "m", "uses": ["bedroom"], "outline": [[122.25, 2.5], [237.5, 2.5], [237.5, 177.5], [122.25, 177.5]]},
}


def house(boxes: Any, cables: Any, openings: Any = None, **more: Any) -> dict[str, Any]:
    level = {"m": {"kind": "storey", "elevation": 0, "ceiling": {"height": 96}}}
    drawn = {"levels": level, "walls": WALLS, "rooms": ROOMS, "openings": openings or {}}
    return {**HEAD, **drawn, "boxes": boxes, "cables": cables, **more}


def on(wall: str, along: float, height: float) -> dict[str, Any]:
    return {"at": {"wall": wall, "along": along, "height": height, "side": "left"}}


def cable(one: str, other: str) -> dict[str, Any]:
    return {"type": "NM-B", "ends": [{"box": one}, {"box": other}]}


def routes(document: dict[str, Any]) -> dict[str, Route]:
    survey = Survey(read_plan_value(document))
    return {name: route_of(survey, each) for name, each in survey.plan.cables.items()}


def course(route: Route) -> list[tuple[float, float, float]]:
    """Every corner of a route, as x, y and height."""
    points = [(x, y, z) for each in route.segments for (x, y), z in zip(each.points, each.heights, strict=True)]
    return [point for index, point in enumerate(points) if index == 0 or point != points[index - 1]]


def test_under_a_window_and_over_a_door() -> None:
    openings = {
        "window": {"wall": "s", "along": 40, "width": 40, "sill": 30, "head": 80, "kind": "window"},
        "door": {"wall": "n", "along": 150, "width": 36, "sill": 0, "head": 82, "kind": "door"},
    }
    boxes = {"a": on("s", 20, 40), "b": on("s", 100, 40), "c": on("n", 140, 44), "d": on("n", 200, 44)}
    found = routes(house(boxes, {"under": cable("a", "b"), "over": cable("c", "d")}, openings))
    assert max(z for x, _, z in course(found["under"]) if 20 < x < 100 or z < 40) < 30
    assert max(z for _, _, z in course(found["over"])) == 100, "over the ceiling: the header's depth is not known"


def test_length_is_route_with_what_the_boxes_take_and_slack_is_told_apart() -> None:
    found = routes(house({"a": on("s", 20, 40), "b": on("s", 100, 40)}, {"k": cable("a", "b")}))["k"]
    assert [float(each or 0) for each in (found.along, found.makeup, found.slack, found.length)] == [80, 20, 12, 100]


def test_a_third_cable_in_a_filled_cavity_takes_a_drill_line_of_its_own() -> None:
    walls = {**WALLS, "s": {**WALLS["s"], "cavity": "spray_foam"}}
    boxes = {f"{side}{number}": on("s", at + number, 44) for side, at in (("a", 4), ("b", 200)) for number in range(3)}
    plan = house(boxes, {f"k{number}": cable(f"a{number}", f"b{number}") for number in range(3)}, walls=walls)
    lines = [min(z for _, _, z in course(each)) for each in routes(plan).values()]
    assert sorted(lines) == [20, 20, 23]


def test_a_ceiling_box_is_reached_overhead_and_an_island_through_the_floor() -> None:
    boxes = {
        "wall": on("p", 90, 48),
        "light": {"at": {"room": "left", "point": [60, 90], "height": 96}},
        "island": {"at": {"room": "left", "point": [60, 60], "height": 30}},
    }
    found = routes(house(boxes, {"up": cable("wall", "light"), "down": cable("wall", "island")}))
    assert max(z for _, _, z in course(found["up"])) == 100
    assert min(z for _, _, z in course(found["down"])) == -6


def test_upstairs_through_the_ceiling_and_nowhere_without_elevation() -> None:
    upper = {"u": {"kind": "storey", "elevation": 106, "ceiling": {"height": 96}}}
    levels = {"m": {"kind": "storey", "elevation": 0, "ceiling": {"height": 96}}, **upper}
    walls = {**WALLS, **{f"u{name}": {**wall, "level": "u"} for name, wall in WALLS.items()}}
    boxes = {"a": on("s", 60, 16), "b": on("us", 60, 16)}
    found = routes(house(boxes, {"k": cable("a", "b")}, levels=levels, walls=walls))["k"]
    assert float(found.along or 0) == 106
    assert [each.level for each in found.segments] == ["m", "u"]
    del levels["u"]["elevation"]
    why = routes(house(boxes, {"k": cable("a", "b")}, levels=levels, walls=walls))["k"].why_not
    assert why == "level 'u' is not joined to the others: its elevation is not stated"


def three_stories(*, middle: dict[str, Any]) -> dict[str, Any]:
    """Boxes on the lowest and the highest of three stories, with these walls on the one between."""
    levels = {
        name: {"kind": "storey", "elevation": 106 * number, "ceiling": {"height": 96}}
        for number, name in enumerate(("m", "n", "u"))
    }
    walls = {**WALLS, **{f"u{name}": {**wall, "level": "u"} for name, wall in WALLS.items()}}
    boxes = {"a": on("s", 60, 16), "b": on("us", 60, 16)}
    between = {f"n{name}": {**wall, "level": "n"} for name, wall in middle.items()}
    return house(boxes, {"k": cable("a", "b")}, levels=levels, walls={**walls, **between})


def test_two_stories_up_through_walls_that_stand_over_each_other() -> None:
    found = routes(three_stories(middle=WALLS))["k"]
    assert float(found.along or 0) == 212
    assert [each.level for each in found.segments] == ["m", "n", "u"]
    assert [each.wall if each.knows("wall") else None for each in found.segments] == ["s", "ns", "us"]


def test_two_stories_up_without_a_wall_between_says_so() -> None:
    why = routes(three_stories(middle={}))["k"].why_not
    assert why == "no wall of level 'n' is drawn that leads on from the level under it to that over it"


def test_stretches_worked_out_take_what_the_defaults_say_of_such_ones() -> None:
    plan = house({"a": on("s", 20, 16), "b": on("s", 90, 16)}, {"k": cable("a", "b")})
    plan["defaults"] = {"segments": {"wall": "n", "member": "2x8", "bored": {"hole": {"diameter": 0.75}}, "plates": "none"}}
    plan["walls"] = {**plan["walls"], "s": {**plan["walls"]["s"], "framing": {"member": "2x6"}}}
    for segment in routes(plan)["k"].segments:
        assert (segment.wall, segment.member.value, segment.plates.value) == ("s", "2x6", "none")
        assert segment.knows("hole") == (segment.how.value == "bored")
        assert segment.where("plates") == "/defaults/segments/plates"


def test_joists_overhead_take_what_the_defaults_say_of_joists() -> None:
    boxes = {"a": on("s", 20, 48), "b": {"at": {"room": "left", "point": [60, 90], "height": 96}}}
    said = {"joist": {"member": "2x10"}, "2x10": {"edge_distance": 3}, "2x4": {"edge_distance": 1.375}, "member": "2x4"}
    found = routes(house(boxes, {"k": cable("a", "b")}, defaults={"segments": said}))["k"].segments
    told = {(each.knows("wall"), each.member.value, each.edge_distance) for each in found}
    assert told == {(True, "2x4", 1.375), (False, "2x10", 3)}


WHY = [
    ({"a": {}, "b": on("s", 9, 9)}, "the plan does not state /boxes/a/at"),
    ({"a": {"at": {"wall": "s", "along": 9}}, "b": on("s", 9, 9)}, "the plan does not state /boxes/a/at/height"),
    ({"a": on("glass", 9, 9), "b": on("s", 9, 9)}, "drawn as glass, with no framing"),
    ({"a": on("far", 9, 9), "b": on("s", 9, 9)}, "no way through walls or overhead is drawn on level 'm'"),
]


@pytest.mark.parametrize(("boxes", "words"), WHY, ids=[each[1] for each in WHY])
def test_no_route_says_what_is_missing(boxes: Any, words: str) -> None:
    apart = {"level": "m", "from": [900, 900], "to": [960, 900], "kind": "interior", "thickness": 4.5, "height": 96}
    walls = {**WALLS, "glass": {**apart, "kind": "glass"}, "far": apart}
    found = routes(house(boxes, {"k": cable("a", "b")}, walls=walls))["k"]
    assert found.derived
    assert found.length is None
    assert words in (found.why_not or "")


# Against networkx


@pytest.mark.parametrize("name", HOUSES)
def test_ways_through_walls_are_those_of_networkx(name: str) -> None:
    survey = Survey(read_plan_value(bare(name)))
    for level in survey.plan.levels:
        frame = frame_of(survey, level, [stand for stand in stands(survey) if stand.level == level])
        boxes = sorted(frame.boxes.values())[:12]
        for start in boxes:
            graph = as_graph(frame, {start})
            known = nx.single_source_dijkstra_path_length(graph, start)
            ways = nearest(frame, {start: 0.0}, dict.fromkeys(frame.tops), len(frame.tops), 1e9)
            assert {way.nodes[-1]: round(way.inches, 6) for way in ways} == {
                node: round(inches, 6) for node, inches in known.items() if node in frame.tops
            }


def as_graph(frame: Frame, ends: set[int]) -> Any:
    """The frame without the boxes that no run passes."""
    graph = nx.Graph()
    graph.add_nodes_from(ends)
    passed = frame.box_nodes() - ends
    for one, links in enumerate(frame.links):
        for other, inches in links:
            if one not in passed and other not in passed:
                before = graph.get_edge_data(one, other)
                graph.add_edge(one, other, weight=min(inches, before["weight"] if before else inches))
    return graph


def stands(survey: Survey) -> Iterator[Any]:
    for each in survey.plan.cables.values():
        yield from (stand_of(survey, each, index) for index in (0, 1))


def bare(name: str) -> Any:
    value = whole_house(name)
    for each in value["cables"].values():
        each.pop("route", None)
    return value


# A derived route never passes an opening


def passes_an_opening(plan: Plan, route: Route) -> str | None:
    """The opening that a route comes through, looked for inch by inch without anything of the router's own."""
    for segment in route.segments:
        points = [(x, y, z) for (x, y), z in zip(segment.points, segment.heights, strict=True)]
        for one, other in pairwise(points):
            length = sum(abs(a - b) for a, b in zip(one, other, strict=True))
            for step in range(1, int(length) + 1):
                x, y, z = (a + (b - a) * step / (int(length) + 1) for a, b in zip(one, other, strict=True))
                for opening in plan.openings.values():
                    wall = plan.walls[opening.wall]
                    if wall.level == segment.level and within(wall, opening, (x, y, z)):
                        return opening.id
    return None


def within(wall: Any, opening: Any, point: tuple[float, float, float]) -> bool:
    (x1, y1), (x2, y2) = wall.start, wall.end
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    along = ((point[0] - x1) * (x2 - x1) + (point[1] - y1) * (y2 - y1)) / length
    off = abs((point[1] - y1) * (x2 - x1) - (point[0] - x1) * (y2 - y1)) / length
    return bool(
        off <= wall.thickness / 2
        and opening.along < along < opening.along + opening.width
        and opening.sill < point[2] < opening.head
    )


def test_no_derived_route_of_the_houses_passes_an_opening() -> None:
    for name in HOUSES:
        survey = Survey(read_plan_value(bare(name)))
        through = {each.id: passes_an_opening(survey.plan, route_of(survey, each)) for each in survey.plan.cables.values()}
        assert not {key: opening for key, opening in through.items() if opening}


LENGTHS = {"s": 240, "e": 180, "n": 240, "w": 180, "p": 180}


@st.composite
def drawn_houses(draw: Any) -> dict[str, Any]:
    """The small house with an opening or two in each wall, and boxes beside, under and over them."""
    openings, free = {}, {}
    for wall, length in LENGTHS.items():
        half = length / 2
        taken = []
        for part in range(draw(st.integers(0, 2))):
            width = draw(st.sampled_from([20, 32, 36, 60]))
            along = part * half + draw(st.floats(6, half - width - 6))
            door = draw(st.booleans())
            sill, head = (0, 82) if door else draw(st.sampled_from([(6, 60), (24, 80), (36, 80), (44, 90), (70, 94)]))
            kind = "door" if door else "window"
            openings[f"{wall}{part}"] = {"wall": wall, "along": along, "width": width, "sill": sill, "head": head, "kind": kind}
            taken.append((along, along + width, sill, head))
        free[wall] = taken
    boxes = {f"b{number}": draw(placed_boxes(free)) for number in range(5)}
    cables = {f"k{number}": cable(f"b{number}", f"b{(number + 1) % 5}") for number in range(5)}
    return house(boxes, cables, openings)


@st.composite
def placed_boxes(draw: Any, taken: dict[str, list[tuple[float, float, float, float]]]) -> dict[str, Any]:
    if draw(st.integers(0, 4)) == 0:
        return {"at": {"room": "left", "point": [draw(st.floats(10, 110)), draw(st.floats(10, 170))], "height": 96}}
    wall = draw(st.sampled_from(sorted(LENGTHS)))
    along = draw(st.floats(1, LENGTHS[wall] - 1))
    heights = [
        height
        for height in (12, 16, 44, 48, 66, 92)
        if not any(a <= along <= b and low <= height <= high for a, b, low, high in taken[wall])
    ]
    return on(wall, along, draw(st.sampled_from(heights or [95])))


@settings(max_examples=150, deadline=None)
@given(document=drawn_houses())
def test_a_derived_route_never_passes_an_opening(document: dict[str, Any]) -> None:
    survey = Survey(read_plan_value(document))
    for each in survey.plan.cables.values():
        route = route_of(survey, each)
        assert passes_an_opening(survey.plan, route) is None
        if route.along is not None:
            check_ends(survey, each, route)


def check_ends(survey: Survey, each: Cable, route: Route) -> None:
    """A route begins at one end of its cable, ends at the other, and is whole between."""
    points = course(route)
    if points:
        one, other = (stand_of(survey, each, index) for index in (0, 1))
        assert points[0] == pytest.approx((*one.point, one.height))
        assert points[-1] == pytest.approx((*other.point, other.height))
    for before, after in pairwise(route.segments):
        assert before.points[-1] == pytest.approx(after.points[0])
        assert before.heights[-1] == pytest.approx(after.heights[0])
