"""Plane geometry against shapely, an independent library, on figures drawn at random, and against figures worked by hand."""

import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from nailplate.calc import geometry as g
from nailplate.calc.geometry import Interval, Outline, Point, Segment

STEADY = settings(derandomize=True, database=None, deadline=None, max_examples=150)

SQUARE: Outline = ((0, 0), (12, 0), (12, 12), (0, 12))
ELL: Outline = ((0, 0), (120, 0), (120, 60), (48, 60), (48, 96), (0, 96))
BOW_TIE: Outline = ((0, 0), (10, 10), (10, 0), (0, 10))

whole = st.integers(0, 9).map(float)
lattice = st.tuples(whole, whole)
anywhere = st.tuples(st.floats(-300, 300), st.floats(-300, 300))
segments = st.tuples(anywhere, anywhere).filter(lambda each: g.length_of(each) > 0.01)
stretches = st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), max_size=8)


@st.composite
def simple_outlines(draw: st.DrawFn) -> Outline:
    """Stars: around a middle, at even turns and any distance; either way around."""
    radii = draw(st.lists(st.floats(1, 200), min_size=3, max_size=12))
    x, y = draw(anywhere)
    turn = 2 * math.pi / len(radii)
    points = tuple((x + radius * math.cos(n * turn), y + radius * math.sin(n * turn)) for n, radius in enumerate(radii))
    return points[::-1] if draw(st.booleans()) else points


# Against shapely


@STEADY
@given(simple_outlines())
def test_area_perimeter_centroid_and_box_agree_with_shapely(outline: Outline) -> None:
    polygon = shapely.Polygon(outline)
    assert g.area(outline) == pytest.approx(polygon.area)
    assert g.perimeter(outline) == pytest.approx(polygon.length)
    assert g.centroid(outline) == pytest.approx((polygon.centroid.x, polygon.centroid.y), abs=1e-6)
    assert g.bounding_box(outline) == polygon.bounds
    assert (g.signed_area(outline) > 0) == polygon.exterior.is_ccw
    assert shapely.LinearRing(g.counter_clockwise(outline)).is_ccw
    assert g.is_simple(outline)


@STEADY
@given(simple_outlines(), anywhere)
def test_point_inside_and_distance_to_outline_agree_with_shapely(outline: Outline, point: Point) -> None:
    polygon, spot = shapely.Polygon(outline), shapely.Point(point)
    to_edge = polygon.exterior.distance(spot)
    assert g.distance_to_outline(point, outline, filled=False) == pytest.approx(to_edge, abs=1e-7)
    assume(to_edge > 2 * g.DUST)
    assert g.contains(outline, point) == polygon.contains(spot)
    assert g.distance_to_outline(point, outline) == pytest.approx(polygon.distance(spot), abs=1e-7)


@STEADY
@given(st.lists(lattice, min_size=3, max_size=7).filter(lambda each: len(set(each)) > 2), lattice)
def test_outlines_anyhow_agree_with_shapely(points: list[Point], point: Point) -> None:
    outline = tuple(points)
    ring = shapely.LinearRing(outline)
    assert g.is_simple(outline) == ring.is_simple
    if ring.is_simple:
        # On the lattice many points lie on an edge or a corner: those are inside.
        assert g.contains(outline, point) == shapely.Polygon(outline).covers(shapely.Point(point))


@STEADY
@given(st.lists(lattice, min_size=4, max_size=7).filter(lambda each: len(set(each)) > 2))
def test_self_crossing_lies_on_both_edges_that_it_names(points: list[Point]) -> None:
    outline = tuple(points)
    found = g.first_self_crossing(outline)
    assume(found is not None)
    assert found is not None
    ring = list(g.sides(outline))
    for number in found.edges:
        assert shapely.LineString(ring[number]).distance(shapely.Point(found.place)) <= 1e-6
    assert found.edges[0] < found.edges[1]


@STEADY
@given(segments, segments, anywhere)
def test_distances_of_segments_agree_with_shapely(first: Segment, second: Segment, point: Point) -> None:
    one, two, spot = shapely.LineString(first), shapely.LineString(second), shapely.Point(point)
    assert g.distance(point, first[0]) == pytest.approx(spot.distance(shapely.Point(first[0])))
    assert g.distance_to_segment(point, first) == pytest.approx(one.distance(spot), abs=1e-7)
    assert g.distance_between_segments(first, second) == pytest.approx(one.distance(two), abs=1e-7)
    assert (g.meeting_place(first, second) is not None) == (one.distance(two) <= g.DUST)
    nearest = g.nearest_on_segment(point, first)
    assert shapely.Point(nearest).distance(one) <= 1e-7


@STEADY
@given(segments, anywhere)
def test_projection_leads_back_to_the_point(segment: Segment, point: Point) -> None:
    seen = g.project(point, segment)
    foot, (nx, ny) = g.point_along(segment, seen.along), g.left_normal(segment)
    assert (foot[0] + nx * seen.offset, foot[1] + ny * seen.offset) == pytest.approx(point, abs=1e-6)
    if 0 <= seen.along <= g.length_of(segment):
        assert shapely.LineString(segment).project(shapely.Point(point)) == pytest.approx(seen.along, abs=1e-6)


@STEADY
@given(segments, st.floats(0.5, 12))
def test_faces_of_a_wall_agree_with_shapely(centre: Segment, half: float) -> None:
    wall = shapely.LineString(centre)
    for by in (half, -half):
        face, theirs = g.offset_segment(centre, by), wall.offset_curve(by)
        assert shapely.LineString(face).hausdorff_distance(theirs) <= 1e-6
        assert g.project(face[0], centre).offset == pytest.approx(by, abs=1e-6)


@STEADY
@given(st.lists(st.tuples(anywhere, st.floats(0, 90), st.floats(0, 900)), max_size=30), anywhere, st.floats(1, 200))
def test_grid_finds_what_a_look_at_all_finds(things: list[tuple[Point, float, float]], at: Point, size: float) -> None:
    boxes = [(x, y, x + wide, y + deep) for (x, y), wide, deep in things]
    wanted = (at[0], at[1], at[0] + size, at[1] + size / 3)
    expected = [n for n, each in enumerate(boxes) if shapely.box(*each).intersects(shapely.box(*wanted))]
    for cell in (5.0, 24.0, 400.0):
        assert g.Grid(((each, n) for n, each in enumerate(boxes)), cell).near(wanted) == expected


def test_grid_takes_boxes_without_bounds() -> None:
    grid = g.Grid([((0, 0, 1, 1), "near"), ((0, 0, 1e9, 1e9), "wide")])
    assert grid.near((-math.inf, -math.inf, math.inf, math.inf)) == ["near", "wide"]
    assert grid.near((1e8, 1e8, 1e8, 1e8)) == ["wide"]


# Stretches, against sets of the unit steps in them


def steps_in(intervals: list[tuple[int, int]] | tuple[Interval, ...]) -> set[int]:
    return {step for start, end in intervals for step in range(int(start), int(end))}


@STEADY
@given(stretches, stretches, st.integers(0, 20), st.integers(20, 40))
def test_stretches_agree_with_sets_of_unit_steps(
    some: list[tuple[int, int]], others: list[tuple[int, int]], a: int, b: int
) -> None:
    results = {
        g.merged(some): steps_in(some),
        g.subtracted(some, others): steps_in(some) - steps_in(others),
        g.intersected(some, others): steps_in(some) & steps_in(others),
        g.clipped(some, a, b): steps_in(some) & set(range(a, b)),
    }
    for found, expected in results.items():
        assert steps_in(found) == expected
        assert all(one[1] < two[0] for one, two in pairwise(found))
        assert all(start < end for start, end in found)


def test_stretches_forgive_float_dust() -> None:
    assert g.merged([(0.3, 5), (0, 0.1 + 0.2 - 1e-9), (7, 7 + 1e-9)]) == ((0, 5),)
    assert g.subtracted([(0, 10)], [(2, 3), (3 + 1e-9, 4)]) == ((0, 2), (4, 10))
    assert g.subtracted([(0, 10)], [(1e-9, 10)]) == ()
    assert g.intersected([(0, 5)], [(5, 9)]) == ()


# Worked by hand


def test_figures_of_an_l_shaped_room() -> None:
    assert g.signed_area(ELL) == 120 * 60 + 48 * 36
    assert g.signed_area(ELL[::-1]) == -(120 * 60 + 48 * 36)
    assert g.counter_clockwise(ELL) == ELL
    assert g.counter_clockwise((ELL[0], *ELL[:0:-1])) == ELL
    assert g.perimeter(ELL) == 2 * (120 + 96)
    assert [edge.start for edge in g.edges(ELL)] == [0, 120, 180, 252, 288, 336]
    assert [edge.length for edge in g.edges(ELL)] == [120, 60, 72, 36, 48, 96]
    assert g.bounding_box(ELL) == (0, 0, 120, 96)
    assert g.distance_to_outline((60, 30), ELL) == 0
    assert g.distance_to_outline((60, 30), ELL, filled=False) == 30
    assert g.distance_to_outline((78, 100), ELL) == pytest.approx(math.hypot(30, 4))


@pytest.mark.parametrize(
    ("point", "is_inside"),
    [
        ((0, 0), True),
        ((120, 30), True),
        ((48, 60), True),
        ((60, 60), True),
        ((-5e-7, 40), True),
        ((-2e-6, 40), False),
        ((60, 61), False),
    ],
)
def test_point_on_an_edge_or_corner_is_inside(point: Point, *, is_inside: bool) -> None:
    assert g.contains(ELL, point) is is_inside


def test_tolerance_widens_an_outline() -> None:
    assert g.contains(SQUARE, (12.4, 6), tolerance=0.5)
    assert not g.contains(SQUARE, (12.6, 6), tolerance=0.5)


def test_crossing_names_its_place_and_edges() -> None:
    assert g.first_self_crossing(BOW_TIE) == g.Crossing((5, 5), (0, 2))
    assert g.first_self_crossing(ELL) is None


def test_spike_and_touch_are_crossings() -> None:
    assert g.first_self_crossing(((0, 0), (10, 0), (20, 0), (10, 0), (10, 10))) is not None
    touching: Outline = ((0, 0), (10, 0), (10, 10), (5, 0), (0, 10))
    assert g.first_self_crossing(touching) == g.Crossing((5, 0), (0, 2))
    assert g.first_self_crossing(((0, 0), (10, 0))) is not None


def test_point_given_twice_is_a_zero_length_edge_and_no_crossing() -> None:
    doubled: Outline = ((0, 0), (12, 0), (12, 1e-9), (12, 12), (0, 12), (0, 0))
    assert g.zero_length_edges(doubled) == (1, 5)
    assert g.is_simple(doubled)
    assert g.zero_length_edges(ELL) == ()


def test_outline_without_area_has_a_middle() -> None:
    assert g.centroid(((0, 0), (10, 0), (20, 0))) == (10, 0)


@pytest.mark.parametrize(
    ("second", "tolerance", "expected"),
    [
        (((30, 0), (60, 0)), g.DUST, (30, 60)),
        (((60, 0), (30, 0)), g.DUST, (30, 60)),
        (((-10, 0), (30, 0)), g.DUST, (0, 30)),
        (((-10, 0), (200, 0)), g.DUST, (0, 100)),
        (((30, 2), (60, 2)), g.DUST, None),
        (((30, 2), (60, 2)), 2, (30, 60)),
        (((30, -2), (60, 3)), 2, None),
        (((100, 0), (120, 0)), g.DUST, None),
        (((50, -5), (50, 5)), 5, None),
        (((-1000, -9), (1100, 9)), 1, (0, 100)),  # it strays only where it is not abreast
    ],
)
def test_overlap_is_told_as_a_stretch_of_the_first(second: Segment, tolerance: float, expected: Interval | None) -> None:
    found = g.collinear_overlap(((0, 0), (100, 0)), second, tolerance)
    assert found == (None if expected is None else pytest.approx(expected))


def test_left_and_right_face_of_a_wall() -> None:
    centre: Segment = ((0, 0), (96, 0))
    assert g.left_normal(centre) == (0, 1)
    assert g.offset_segment(centre, 2.25) == ((0, 2.25), (96, 2.25))
    assert g.offset_segment(centre, -2.25) == ((0, -2.25), (96, -2.25))


def test_segment_without_length_is_a_point() -> None:
    dot: Segment = ((3, 4), (3, 4))
    assert g.left_normal(dot) == (0, 0)
    assert g.project((0, 0), dot) == g.Projection(0, 5)
    assert g.distance_to_segment((0, 0), dot) == 5
    assert g.point_along(dot, 2) == (3, 4)


def test_long_comb_is_looked_at_in_good_time() -> None:
    teeth = [((x, 0.0), (x, 400.0), (x + 1.0, 400.0), (x + 1.0, 0.0)) for x in range(0, 1000, 2)]
    comb: Outline = (*(point for tooth in teeth for point in tooth), (999.0, -5.0), (0.0, -5.0))
    assert g.is_simple(comb)
    assert g.zero_length_edges(comb) == ()
