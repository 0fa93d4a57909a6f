"""Holes, notches and cables in members of actual size against published tables, and worked figures."""

import pytest

from nailplate.calc.framing import (
    DEPTHS,
    NM_SHEATHS,
    UF_SHEATHS,
    band,
    beside_on_face,
    hole_edges,
    spaces_in,
    stacked_in_hole,
)
from nailplate.codes import edition
from nailplate.plan.words import Member
from nailplate.units import Inches

EDGE = edition("2023").inches("nail_distance")
STUDS = [Member.M2X3, Member.M2X4, Member.M2X6]


@pytest.mark.parametrize(("member", "hole"), list(zip(STUDS, (0.0, 1.0, 3.0), strict=True)))
def test_largest_hole_without_a_plate_leaves_an_inch_and_a_quarter_on_both_faces(member: Member, hole: float) -> None:
    depth = DEPTHS[member]
    assert band(depth, EDGE) == pytest.approx(hole)
    if hole:
        assert hole_edges(depth, Inches(hole), Inches(0)) == pytest.approx((1.25, 1.25))


def test_hole_out_of_center_has_a_nearer_and_a_farther_edge() -> None:
    assert hole_edges(Inches(3.5), Inches(0.75), Inches(0.25)) == pytest.approx((1.125, 1.625))


# Worked by hand from a maker's sheet: 1 in of band on a 2x4, 3 in on a 2x6.
@pytest.mark.parametrize(
    ("cable", "on_2x4", "on_2x6"),
    [(("14 AWG", 2), 2, 8), (("12 AWG", 2), 2, 7), (("14 AWG", 3), 2, 6), (("12 AWG", 3), 1, 5), (("10 AWG", 2), 1, 5)],
)
def test_cables_side_by_side_on_a_studs_face(cable: tuple[str, int], on_2x4: int, on_2x6: int) -> None:
    counts = [beside_on_face(DEPTHS[member], EDGE, NM_SHEATHS[cable]) for member in STUDS]
    assert counts == [0, on_2x4, on_2x6]
    assert band(DEPTHS[Member.M2X4], EDGE) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("cable", "counts"),
    [
        (("14 AWG", 2), [3, 4, 5]),
        (("12 AWG", 2), [3, 4, 4]),
        (("14 AWG", 3), [3, 4, 4]),
        (("12 AWG", 3), [2, 3, 4]),
        (("10 AWG", 2), [2, 3, 3]),
    ],
)
def test_flat_cables_stacked_in_a_hole(cable: tuple[str, int], counts: list[int]) -> None:
    assert [stacked_in_hole(Inches(each), NM_SHEATHS[cable]) for each in (0.75, 0.875, 1.0)] == counts
    assert stacked_in_hole(Inches(0.3), NM_SHEATHS[cable]) == 0


@pytest.mark.parametrize(("length", "spaces"), [(30, 1), (54, 1), (54.5, 2), (108, 2), (120, 3)])
def test_run_is_divided_into_spaces_of_at_most_the_interval(length: float, spaces: int) -> None:
    assert spaces_in(Inches(length), Inches(54)) == spaces


# Common practice: a flat cable is two or three times as wide as thick, a round one equal both ways; a size up is larger. 8-2 and 10-3 by
# the maker's sheets named beside the table.
def test_a_cable_is_flat_or_round_and_grows_with_its_wires() -> None:
    for (size, wires), sheath in [*NM_SHEATHS.items(), *UF_SHEATHS.items()]:
        assert sheath.width == sheath.thickness or 1.8 < sheath.width / sheath.thickness < 2.9, (size, wires)
    sizes = ["14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG"]
    for wires in (2, 3):
        rising = [NM_SHEATHS[size, wires] for size in sizes if (size, wires) in NM_SHEATHS]
        bulk = [sheath.width * sheath.thickness for sheath in rising]
        assert bulk == sorted(bulk)
        assert len(bulk) == (5 if wires == 2 else 6)
        assert all(0.1 < sheath.thickness <= sheath.width < 1.0 for sheath in rising)
    uf, nm = UF_SHEATHS["14 AWG", 2], NM_SHEATHS["14 AWG", 2]
    assert nm.width < uf.width < 1.25 * nm.width
