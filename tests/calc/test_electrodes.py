"""Grounding electrode conductors and the conductors of a whole dwelling, against tables and answers in print."""

import pytest

from nailplate.calc.electrodes import ElectrodeKind, dwelling_conductor, electrode_conductor, largest_dwelling_rating
from nailplate.calc.steps import CalculationError
from nailplate.codes import EDITIONS, Material, edition
from nailplate.units import Amperes

EVERY_EDITION = pytest.mark.parametrize("year", EDITIONS)


# https://www.cooper-electric.com/p/service-equipment-grounding-table; it prints "1 or smaller" in the first aluminum cell, the
# code's text has 1/0
@EVERY_EDITION
@pytest.mark.parametrize(
    ("supply", "material", "size"),
    [
        ("2 AWG", Material.COPPER, "8 AWG"),
        ("1 AWG", Material.COPPER, "6 AWG"),
        ("3/0 AWG", Material.COPPER, "4 AWG"),
        ("4/0 AWG", Material.COPPER, "2 AWG"),
        ("350 kcmil", Material.COPPER, "2 AWG"),
        ("400 kcmil", Material.COPPER, "1/0 AWG"),
        ("1/0 AWG", Material.ALUMINUM, "8 AWG"),
        ("4/0 AWG", Material.ALUMINUM, "4 AWG"),
        ("1200 kcmil", Material.COPPER, "3/0 AWG"),
    ],
)
def test_electrode_conductors_by_the_table(year: str, supply: str, material: Material, size: str) -> None:
    assert electrode_conductor(supply, edition(year), material).size == size


# 250.66(A): https://forums.mikeholt.com/threads/250-66-a.63019; 250.66(B): https://forums.mikeholt.com/threads/grounding-electrode.112882
@EVERY_EDITION
def test_rods_and_concrete_ask_for_no_more_than_their_own_limit(year: str) -> None:
    code = edition(year)
    assert electrode_conductor("350 kcmil", code, kind=ElectrodeKind.ROD).size == "6 AWG"
    assert electrode_conductor("350 kcmil", code, kind=ElectrodeKind.CONCRETE_ENCASED).size == "4 AWG"
    assert electrode_conductor("2 AWG", code, kind=ElectrodeKind.ROD).size == "8 AWG"


# https://electricalcodeconnection.com/?p=3533: 200 A, 166 A needed, 2/0 copper. https://learnmetrics.com/nec-310-12-table/ ends
# on 3 AWG for 100 A while it says that 4 AWG carries 85 A: 4 AWG does
@EVERY_EDITION
@pytest.mark.parametrize(
    ("rating", "copper", "aluminum"),
    [
        (100, "4 AWG", "2 AWG"),
        (110, "3 AWG", "1 AWG"),
        (125, "2 AWG", "1/0 AWG"),
        (150, "1 AWG", "2/0 AWG"),
        (175, "1/0 AWG", "3/0 AWG"),
        (200, "2/0 AWG", "4/0 AWG"),
        (225, "3/0 AWG", "250 kcmil"),
        (400, "400 kcmil", None),
    ],
)
def test_conductors_of_a_whole_dwelling(year: str, rating: float, copper: str, aluminum: str | None) -> None:
    code = edition(year)
    assert dwelling_conductor(Amperes(rating), code)[0] == copper
    if aluminum:
        assert dwelling_conductor(Amperes(rating), code, Material.ALUMINUM)[0] == aluminum


# the other way round: 2/0 copper, 175 A, behind 200 A (https://electricalcodeconnection.com/?p=3533); 4 AWG copper, 85 A, behind 100 A
@EVERY_EDITION
@pytest.mark.parametrize(
    ("ampacity", "rating"), [(175, 200), (85, 100), (83, 100), (82.9, None), (100, 110), (332, 400), (430, 400), (65, None)]
)
def test_the_largest_rating_that_a_whole_dwellings_conductors_may_serve(
    year: str, ampacity: float, rating: float | None
) -> None:
    assert largest_dwelling_rating(Amperes(ampacity), edition(year)) == rating


def test_the_relief_holds_from_100_to_400_amperes() -> None:
    assert dwelling_conductor(Amperes(200), edition("2023"))[1] == pytest.approx(166.0)
    for rating in (60, 450):
        with pytest.raises(CalculationError, match="from 100 to 400 A"):
            dwelling_conductor(Amperes(rating), edition("2023"))


def test_a_size_that_is_none_is_refused() -> None:
    with pytest.raises(CalculationError):
        electrode_conductor("13 AWG", edition("2023"))
