"""The way of a cord, against ways worked out by hand, against an independent search, and against the laws of shortest ways.

The independent search asks shapely alone what a line may cross: it walks between points set a thousandth of an inch off each
barrier's ends, all around, on lines that touch no barrier at all. Such a way is a little longer than the shortest at most.
"""

import heapq
import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from nailplate.calc.cord_floor import SearchTooLarge
from nailplate.calc.cord_path import Barriers, PathFound, shortest_path
from nailplate.calc.geometry import Outline, Point, Segment, distance, sides

STEADY = settings(derandomize=True, database=None, deadline=None, max_examples=120)
FAR = 1000.0
CLEARANCE = 1e-3


def box(x: float, y: float, wide: float, deep: float) -> Outline:
    return ((x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep))


def length(start: Point | Outline, goal: Point, barriers: Sequence[Segment], limit: float = FAR) -> float | None:
    found = shortest_path(start, [goal], barriers, limit)
    return found.length if found else None


# Worked by hand


def test_nothing_in_the_way_is_the_straight_way() -> None:
    assert shortest_path((0, 0), [(36, 48)], [], 72) == PathFound(60.0, ((0, 0), (36, 48)))


def test_receptacle_behind_a_three_foot_stub_wall_is_reached_around_its_end() -> None:
    walls = [((24.0, 0.0), (24.0, 36.0)), ((-100.0, 0.0), (100.0, 0.0))]  # the stub, and the wall it stands on
    found = shortest_path((0, 4), [(48, 4)], walls, 96)
    assert found is not None
    assert found.points == ((0.0, 4.0), (24.0, 36.0), (48.0, 4.0))
    assert found.length == pytest.approx(80, abs=1e-9)  # 24 across and 32 up are 40 to the end of the stub, and 40 back
    assert length((0, 4), (48, 4), walls, 80) == pytest.approx(80)  # the limit itself is found
    assert length((0, 4), (48, 4), walls, 79.99) is None


def test_wall_that_stands_free_is_walked_around_at_its_nearer_end() -> None:
    assert length((0, 4), (48, 4), [((24.0, 0.0), (24.0, 36.0))]) == pytest.approx(2 * math.hypot(24, 4))


def test_doorway_lets_the_cord_through_at_its_jamb() -> None:
    wall = [((0.0, 50.0), (40.0, 50.0)), ((72.0, 50.0), (144.0, 50.0))]
    room = [((0.0, 0.0), (0.0, 100.0)), ((144.0, 0.0), (144.0, 100.0))]
    found = shortest_path((10, 10), [(10, 90)], [*wall, *room], 144)
    assert found is not None
    assert found.points == ((10.0, 10.0), (40.0, 50.0), (10.0, 90.0))
    assert found.length == pytest.approx(100)


def test_straight_through_a_doorway_needs_no_turn() -> None:
    wall = [((0.0, 50.0), (40.0, 50.0)), ((72.0, 50.0), (144.0, 50.0))]
    assert shortest_path((56, 10), [(56, 90)], wall, 144) == PathFound(80.0, ((56, 10), (56, 90)))


def test_shut_doorway_leaves_no_way() -> None:
    room = list(sides(box(0, 0, 100, 100)))
    assert length((50, 50), (150, 50), room) is None
    door_shut = [((100.0, 0.0), (100.0, 40.0)), ((100.0, 40.0), (100.0, 72.0)), ((100.0, 72.0), (100.0, 100.0))]
    assert length((50, 50), (150, 50), [*room[:1], *room[2:], *door_shut]) is None


@pytest.mark.parametrize("short_by", [0.0, 9e-7, -9e-7, 1e-12, -0.5])
def test_t_joint_does_not_leak(short_by: float) -> None:
    across = [((-50.0, 0.0), (50.0, 0.0))]
    stem = ((0.0, -40.0), (0.0, -short_by))
    found = shortest_path((-10, -5), [(10, -5)], [*across, stem], FAR)
    assert found is not None
    assert found.length == pytest.approx(2 * math.hypot(10, 35), abs=1e-5)
    assert (0, -40) in found.points


def test_walk_along_one_face_is_stopped_by_a_wall_on_that_face_only() -> None:
    across = ((0.0, 0.0), (100.0, 0.0))
    stem = ((50.0, 0.0), (50.0, 30.0))
    # Both ends lie in line with the wall: the stem is on its upper side, so the lower face is free.
    assert length((-10, 0), (110, 0), [across, stem]) == pytest.approx(120)
    # A second stem below, at another place, shuts the lower face, too: no changing sides in between.
    below = ((70.0, 0.0), (70.0, -40.0))
    upper = math.hypot(60, 30) * 2
    assert length((-10, 0), (110, 0), [across, stem, below]) == pytest.approx(upper)


def test_two_walls_that_share_an_end_have_no_slit() -> None:
    corner = (0.1 + 0.2, 0.7 + 0.1)
    walls = [((-40.0, -30.0), corner), ((0.3, 0.8), (40.0, -30.0))]
    found = shortest_path((0.3, -10), [(0.3, 10)], walls, FAR)
    assert found is not None
    around = distance((0.3, -10), (40, -30)) + distance((40, -30), (0.3, 10))
    assert found.length == pytest.approx(around, abs=1e-6)


@pytest.mark.parametrize("dust", [0.0, 4e-7, -4e-7])
def test_walls_that_cross_have_no_slit_where_they_do(dust: float) -> None:
    walls = [((-10.0, -10.0), (10.0, 10.0)), ((-10.0, 10.0), (10.0, -10.0))]
    # The straight line leads through the very crossing; the cord goes around the ends of two walls.
    assert length((-5, dust), (5, dust), walls) == pytest.approx(2 * math.hypot(5, 10) + 20, abs=1e-5)


def test_walls_drawn_twice_or_over_each_other_count_once() -> None:
    stub = ((24.0, -100.0), (24.0, 36.0))
    over = [stub, (stub[1], stub[0]), ((24.0, 0.0), (24.0, 20.0)), ((24.0, 36.0), (24.0, 36.0))]
    assert length((0, 4), (48, 4), over) == pytest.approx(80)


def test_nearest_of_several_goals_counts() -> None:
    wall = ((10.0, -50.0), (10.0, 50.0))
    found = shortest_path((0, 0), [(20, 0), (-30, 0), (0, 45), (500, 0)], [wall], 72)
    assert found == PathFound(30.0, ((0, 0), (-30, 0)))
    assert shortest_path((0, 0), [], [wall], 72) is None


def test_start_on_the_goal_is_at_no_distance() -> None:
    assert length((3, 3), (3, 3), [((0, 0), (6, 6))]) == 0


def test_point_on_a_wall_counts_on_both_of_its_sides() -> None:
    wall = ((0.0, -50.0), (0.0, 50.0))
    assert length((0, 0), (20, 0), [wall]) == pytest.approx(20)
    assert length((0, 0), (-20, 0), [wall]) == pytest.approx(20)
    assert length((-0.5, 0), (20, 0), [wall]) == pytest.approx(math.hypot(0.5, 50) + math.hypot(20, 50))


# From the edge of a bowl or tub


def test_way_from_a_bowl_starts_at_its_nearest_edge() -> None:
    bowl = box(0, 0, 20, 16)
    assert shortest_path(bowl, [(50, 8)], [], 72) == PathFound(30.0, ((20, 8), (50, 8)))
    assert length(bowl, (50, 56), []) == pytest.approx(50)  # from the corner: 30 across and 40 up
    assert length(bowl[::-1], (50, 56), []) == pytest.approx(50)
    assert length(bowl, (5, 5), []) == 0


def test_way_from_a_bowl_around_a_wall_starts_where_the_cord_would_leave() -> None:
    wall = ((30.0, -100.0), (30.0, 40.0))
    found = shortest_path(box(0, 0, 20, 16), [(60, 0)], [wall], FAR)
    assert found is not None
    assert found.points == ((20.0, 16.0), (30.0, 40.0), (60.0, 0.0))
    assert found.length == pytest.approx(26 + 50)


def test_tub_against_a_wall_is_on_its_own_side_of_it() -> None:
    wall = ((0.0, -20.0), (0.0, 70.0))
    tub = box(0, 0, 30, 60)
    # Behind the wall, two inches from the tub: the cord goes around the nearer end, ten inches past the tub.
    assert length(tub, (-2, 30), [wall]) == pytest.approx(10 + math.hypot(2, 40))
    assert length(tub, (40, 30), [wall]) == pytest.approx(10)
    assert length(tub[::-1], (-2, 30), [wall]) == pytest.approx(10 + math.hypot(2, 40))


def test_wall_that_ends_on_a_tub_parts_its_edge() -> None:
    tub = box(0, 0, 60, 30)
    stub = ((30.0, 30.0), (30.0, 100.0))
    assert length(tub, (20, 40), [stub]) == pytest.approx(10)
    assert length(tub, (40, 40), [stub]) == pytest.approx(10)


def test_wall_that_crosses_a_bowl_hides_no_side() -> None:
    bowl = box(0, 0, 20, 20)
    assert length(bowl, (30, 5), [((-50, 10), (50, 10))]) == pytest.approx(10)
    assert length(bowl, (30, 15), [((-50, 10), (50, 10))]) == pytest.approx(10)


# Against the independent search


def reference(starts: Sequence[Point], goal: Point, barriers: Sequence[Segment]) -> float | None:
    ends = sorted({end for barrier in barriers for end in barrier})
    turns = [0.1234 + step * math.pi / 4 for step in range(8)]
    around = [(x + CLEARANCE * math.cos(a), y + CLEARANCE * math.sin(a)) for x, y in ends for a in turns]
    nodes = np.array([goal, *starts, *around])
    walls = shapely.union_all([shapely.LineString(each) for each in barriers])
    shapely.prepare(walls)
    one, two = np.triu_indices(len(nodes), 1)
    clear = ~shapely.intersects(walls, shapely.linestrings(np.stack([nodes[one], nodes[two]], axis=1)))
    legs: dict[int, list[tuple[int, float]]] = {}
    for a, b in zip(one[clear].tolist(), two[clear].tolist(), strict=True):
        leg = float(np.hypot(*(nodes[a] - nodes[b])))
        legs.setdefault(a, []).append((b, leg))
        legs.setdefault(b, []).append((a, leg))
    return shortest_in(legs, range(1, 1 + len(starts)), 0)


def shortest_in(legs: dict[int, list[tuple[int, float]]], starts: Sequence[int], goal: int) -> float | None:
    waiting, done = [(0.0, start) for start in starts], set[int]()
    while waiting:
        so_far, node = heapq.heappop(waiting)
        if node == goal:
            return so_far
        if node not in done:
            done.add(node)
            for other, leg in legs.get(node, []):
                heapq.heappush(waiting, (so_far + leg, other))
    return None


def assert_same(found: float | None, expected: float | None, slack: float = 0.02) -> None:
    assert (found is None) == (expected is None), (found, expected)
    if found is not None and expected is not None:
        assert expected - slack <= found <= expected + 1e-6


lattice = st.tuples(st.integers(0, 12), st.integers(0, 12))
places = lattice.map(lambda each: (each[0] + 0.3719, each[1] + 0.2143))


@st.composite
def some_walls(draw: st.DrawFn) -> list[Segment]:
    """Walls anyhow: crossing, touching, one on another."""
    ends = draw(st.lists(st.tuples(lattice, lattice), min_size=1, max_size=8))
    return [((float(a), float(b)), (float(c), float(d))) for (a, b), (c, d) in ends if (a, b) != (c, d)]


@st.composite
def rooms(draw: st.DrawFn) -> list[Segment]:
    """Nine cells of four feet; each wall between two of them is missing, whole, or has a door gap in it."""
    walls: list[Segment] = []
    for line in range(4):
        for cell in range(3):
            for turn in (False, True):
                kind = draw(st.sampled_from(("whole", "whole", "door", "none")))
                fixed, low = line * 48.0, cell * 48.0
                spans = {"whole": [(low, low + 48)], "door": [(low, low + 10), (low + 38, low + 48)], "none": []}[kind]
                walls += [((fixed, a), (fixed, b)) if turn else ((a, fixed), (b, fixed)) for a, b in spans]
    return walls


@STEADY
@given(some_walls(), places, places)
def test_way_among_any_walls_agrees_with_the_independent_search(walls: list[Segment], start: Point, goal: Point) -> None:
    assume(walls)
    assert_same(length(start, goal, walls), reference([start], goal, walls))


@settings(STEADY, max_examples=40)
@given(rooms(), places, places, st.lists(st.floats(-2e-7, 2e-7), min_size=4, max_size=4))
def test_way_through_rooms_agrees_with_the_independent_search(
    walls: list[Segment], start: Point, goal: Point, dust: list[float]
) -> None:
    assume(walls)
    start, goal = (start[0] * 11, start[1] * 11), (goal[0] * 11, goal[1] * 11)
    expected = reference([start], goal, walls)
    assert_same(length(start, goal, walls), expected)
    # The same rooms with float dust at each joint are still as tight.
    shaken = [
        ((ax + dust[n % 4], ay + dust[(n + 1) % 4]), (bx + dust[(n + 2) % 4], by + dust[(n + 3) % 4]))
        for n, ((ax, ay), (bx, by)) in enumerate(walls)
    ]
    assert_same(length(start, goal, shaken), expected)


@settings(STEADY, max_examples=60)
@given(some_walls(), lattice, st.integers(1, 5), st.integers(1, 5), places)
def test_way_from_a_bowl_agrees_with_the_independent_search(
    walls: list[Segment], corner: tuple[int, int], wide: int, deep: int, goal: Point
) -> None:
    assume(walls)
    # Bowls on the lattice: walls run into them, through them and along their edges.
    bowl = box(*corner, wide, deep)
    if shapely.Polygon(bowl).covers(shapely.Point(goal)):
        assert length(bowl, goal, walls) == 0
        return
    assert_same(length(bowl, goal, walls), reference(rim_of(bowl, walls), goal, walls), slack=0.05)


def rim_of(bowl: Outline, walls: Sequence[Segment]) -> list[Point]:
    """Places a little inside a bowl's edge, where they are surely on its own side of a wall there: every eighth of an inch,
    and close to each wall that meets the edge on either side."""
    edge = shapely.Polygon(bowl).buffer(-CLEARANCE, join_style="mitre").exterior
    meetings = shapely.get_coordinates(edge.intersection(shapely.union_all([shapely.LineString(each) for each in walls])))
    close = [edge.project(shapely.Point(each)) + by for each in meetings for by in (-CLEARANCE, CLEARANCE)]
    places_on = [*close, *(step * 0.125 for step in range(math.ceil(edge.length / 0.125)))]
    rim = [edge.interpolate(along % edge.length) for along in places_on]
    return [*((float(x), float(y)) for x, y in edge.coords), *((float(point.x), float(point.y)) for point in rim)]


# Laws


@STEADY
@given(some_walls(), places, places)
def test_way_back_is_as_long_and_no_way_beats_the_straight_one(walls: list[Segment], start: Point, goal: Point) -> None:
    there, back = length(start, goal, walls), length(goal, start, walls)
    assert (there is None) == (back is None)
    if there is not None:
        assert there == pytest.approx(back, abs=1e-6)
        assert there >= distance(start, goal) - 1e-9


@STEADY
@given(some_walls(), some_walls(), places, places)
def test_another_wall_never_shortens_the_way(walls: list[Segment], more: list[Segment], start: Point, goal: Point) -> None:
    fewer, all_of_them = length(start, goal, walls), length(start, goal, walls + more)
    if all_of_them is not None:
        assert fewer is not None
        assert fewer <= all_of_them + 1e-6


@STEADY
@given(some_walls(), places, places, st.floats(0, 6.3), st.booleans(), st.floats(-500, 500))
def test_plan_moved_turned_or_mirrored_has_the_same_way(
    walls: list[Segment], start: Point, goal: Point, angle: float, is_mirrored: bool, shift: float
) -> None:
    def moved(point: Point) -> Point:
        x, y = point[0] * (-1 if is_mirrored else 1), point[1]
        return (x * math.cos(angle) - y * math.sin(angle) + shift, x * math.sin(angle) + y * math.cos(angle) - shift)

    before = length(start, goal, walls)
    after = length(moved(start), moved(goal), [(moved(one), moved(two)) for one, two in walls])
    assert (before is None) == (after is None)
    if before is not None:
        assert after == pytest.approx(before, abs=1e-6)


@STEADY
@given(some_walls(), places, places, st.integers(1, 25))
def test_limit_only_cuts_off_what_is_longer(walls: list[Segment], start: Point, goal: Point, limit: int) -> None:
    whole, cut = length(start, goal, walls), length(start, goal, walls, limit)
    assert cut == (None if whole is None or whole > limit else pytest.approx(whole, abs=1e-9))


@STEADY
@given(some_walls(), places, places)
def test_way_found_is_legs_that_add_up_and_cross_nothing(walls: list[Segment], start: Point, goal: Point) -> None:
    found = shortest_path(start, [goal], Barriers(walls), FAR)
    if found is None:
        return
    assert (found.points[0], found.points[-1]) == (start, goal)
    assert sum(map(distance, found.points, found.points[1:])) == pytest.approx(found.length, abs=1e-6)
    for leg in pairwise(found.points):
        assert distance(*leg) == 0 or not any(_parted(leg, wall) for wall in walls)


def _parted(leg: Segment, wall: Segment) -> bool:
    """Whether each of the two has its ends well to either side of the other."""

    def side(line: Segment, point: Point) -> float:
        (ax, ay), (bx, by) = line
        return ((bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)) / distance(*line)

    return all(
        min(side(one, other[0]), side(one, other[1])) < -1e-6 and max(side(one, other[0]), side(one, other[1])) > 1e-6
        for one, other in ((leg, wall), (wall, leg))
    )


# The size of a search


def test_sorted_barriers_give_the_same_as_a_plain_list() -> None:
    walls: list[Segment] = [((x * 30.0, 0.0), (x * 30.0, 40.0)) for x in range(200)]
    sorted_once = Barriers(walls)
    for x in range(0, 3000, 170):
        start, goal = (x + 10.0, 5.0), (x + 45.0, 5.0)
        assert shortest_path(start, [goal], sorted_once, 90) == shortest_path(start, [goal], walls, 90)


def test_search_that_would_take_too_long_is_given_up() -> None:
    crowd: list[Segment] = [((x * 1.0, y * 1.0), (x + 0.5, y + 0.5)) for x in range(60) for y in range(60)]
    with pytest.raises(SearchTooLarge, match="not worked out"):
        shortest_path((-1, 30), [(61.2, 30.7)], crowd, 72)
    with pytest.raises(SearchTooLarge):
        shortest_path((0, 4), [(48, 4)], [((24, -100), (24, 36))], 96, budget=3)


def test_barriers_out_of_reach_cost_nothing() -> None:
    crowd: list[Segment] = [((x + 500.0, y * 1.0), (x + 500.5, y + 0.5)) for x in range(60) for y in range(60)]
    assert length((0, 0), (30, 40), crowd, 72) == 50
