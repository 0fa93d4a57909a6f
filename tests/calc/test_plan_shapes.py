"""Shapes of a plan against shapely: rectangles around tops, and halls of one width built by widening a line."""

import math

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from nailplate.calc.geometry import Outline, area, distance
from nailplate.calc.plan_shapes import centre_line, extent, hull

POINTS = st.lists(st.tuples(st.integers(0, 200), st.integers(0, 200)), min_size=3, max_size=12, unique=True)


def outline_of(points: list[tuple[int, int]]) -> Outline:
    return tuple((float(x), float(y)) for x, y in points)


@given(POINTS)
def test_the_hull_is_that_of_shapely(points: list[tuple[int, int]]) -> None:
    expected = shapely.MultiPoint(points).convex_hull
    assume(expected.area > 0)
    assert area(hull(outline_of(points))) == pytest.approx(expected.area)


@given(POINTS)
def test_the_rectangle_around_a_top_is_the_smallest(points: list[tuple[int, int]]) -> None:
    ring = shapely.MultiPoint(points)
    assume(ring.convex_hull.area > 1)
    found, expected = extent(outline_of(points)), shapely.oriented_envelope(ring)
    assert found.long * found.short == pytest.approx(expected.area)
    assert found.long >= found.short
    assert distance(*found.axis) == pytest.approx(found.long)
    # Every corner lies within half the width of the axis, and some on both rims do.
    offs = [shapely.Point(point).distance(shapely.LineString(found.axis)) for point in points]
    assert max(offs) <= found.short / 2 + 1e-6


@st.composite
def halls(draw: st.DrawFn) -> tuple[shapely.LineString, float]:
    width = draw(st.sampled_from([30.0, 36.0, 42.5]))
    points, heading = [(0.0, 0.0)], 0.0
    for _ in range(draw(st.integers(1, 4))):
        length = draw(st.integers(100, 300))
        x, y = points[-1]
        points.append((x + length * math.cos(heading), y + length * math.sin(heading)))
        heading += math.radians(draw(st.sampled_from([-90, -60, -30, 30, 60, 90])))
    return shapely.LineString(points), width


@given(halls(), st.integers(0, 359))
def test_a_hall_of_one_width_is_as_long_as_its_centre_line(hall: tuple[shapely.LineString, float], degrees: int) -> None:
    line, width = hall
    wide = shapely.affinity.rotate(line.buffer(width / 2, cap_style="flat", join_style="mitre", mitre_limit=10), degrees)
    assume(line.is_simple and not wide.interiors)
    assume(wide.area == pytest.approx(line.length * width))  # no arm runs into another
    found = centre_line(tuple((x, y) for x, y in wide.exterior.coords)[:-1])
    assert found.least == pytest.approx(line.length)
    assert found.most == pytest.approx(line.length)


# http://www.ecmag.com/section/article-210-branch-circuits-required-receptacle-outlets-part-x:
# the length that counts is that of the centre line
@pytest.mark.parametrize(
    ("outline", "least", "most"),
    [
        pytest.param(((0, 0), (119, 0), (119, 40), (0, 40)), 119, 119, id="straight"),
        pytest.param(((0, 0), (78, 0), (78, 36), (36, 36), (36, 78), (0, 78)), 120, 120, id="around a corner"),
        pytest.param(
            ((0, 0), (119, 0), (119, 40), (70, 40), (70, 52), (40, 52), (40, 40), (0, 40)), 119, 119, id="with a niche"
        ),
        pytest.param(((0, 0), (60, 0), (60, 60), (0, 60)), 60, 60, id="square"),
        pytest.param(((0, 0), (60, 0), (60, -20), (110, -20), (110, 60), (60, 60), (60, 40), (0, 40)), 110, 110, id="widening"),
    ],
)
def test_halls_of_other_shapes(outline: Outline, least: float, most: float) -> None:
    found = centre_line(outline)
    assert (found.least, found.most) == pytest.approx((least, most))


def test_a_hall_with_an_arm_leaves_open_how_long_it_is() -> None:
    found = centre_line(((0, 0), (100, 0), (100, 36), (68, 36), (68, 96), (32, 96), (32, 36), (0, 36)))
    assert found.least == 100
    assert found.most == pytest.approx(160, abs=1)  # an area of 5760 in² of one width, 36 in


def test_points_along_a_wall_make_no_difference() -> None:
    found = centre_line(((0, 0), (50, 0), (119, 0), (119, 13), (119, 40), (119, 40), (70, 40), (0, 40), (0, 30)))
    assert (found.least, found.most) == pytest.approx((119, 119))
