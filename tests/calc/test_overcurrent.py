"""The largest overcurrent device, against worked examples in print, each with its address."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nailplate import codes
from nailplate.calc.ampacity import ConductorUse, Method, ampacity
from nailplate.calc.overcurrent import appliance_overcurrent, max_overcurrent, next_standard, rating_not_over, rating_over
from nailplate.calc.steps import CalculationError
from nailplate.codes import EDITIONS, Material
from nailplate.units import Amperes

EVERY_EDITION = pytest.mark.parametrize("year", EDITIONS)


# https://forums.mikeholt.com/threads/422-11-e-3.2555687: a 4500 W, 240 V water heater, 18.75 A: at most 30 A
# https://forums.mikeholt.com/threads/unit-6-question-50-from-mh-eep-based-on-the-2017-nec.2571930: 2500 W at 240 V; the printed
# key, 15 A, is the least that 125 % allows and not the largest: 20 A by 422.11(E)
@EVERY_EDITION
@pytest.mark.parametrize(("watts", "largest"), [(4500, 30), (2500, 20)])
def test_the_largest_device_for_one_water_heater(year: str, watts: float, largest: float) -> None:
    found = appliance_overcurrent(Amperes(watts / 240), codes.edition(year))
    assert (found.rating, found.by) == (largest, "422.11(E)")
    assert found.rating != 15.0


@EVERY_EDITION
def test_a_small_appliance_ends_at_13_3_amperes(year: str) -> None:
    edition = codes.edition(year)
    assert appliance_overcurrent(Amperes(13.3), edition).rating == 20.0
    assert appliance_overcurrent(Amperes(13.4), edition).rating == 25.0


# https://www.electrical-contractor.net/forums/ubbthreads.php/topics/198713/ampacity.html: a household range of 12 kW counts for
# 8 kW, 33.3 A; 8 AWG on a 40 A breaker
@EVERY_EDITION
def test_eight_awg_cable_carries_a_household_range_on_40_amperes(year: str) -> None:
    edition = codes.edition(year)
    eight = ampacity(ConductorUse(size="8 AWG", method=Method.NM_B), edition)
    ten = ampacity(ConductorUse(size="10 AWG", method=Method.NM_B), edition)
    assert ten.ampacity < 8000 / 240 <= eight.ampacity
    assert max_overcurrent(eight.ampacity, "8 AWG", Material.COPPER, edition).next_size_up.rating == 40.0


# 240.4(B) and 240.4(B)(1): https://www.thebuildingcodeforum.com/forum/threads/nec-240-4-b-simplified-guide-to-overcurrent-protection-for-devices-up-to-800-amps.35105/latest
# Figures: NM-B at 10 current-carrying conductors.
@pytest.mark.parametrize(
    ("year", "size", "usable", "next_up", "receptacles"),
    [
        ("2017", "14 AWG", 12.5, 15, None),
        ("2023", "14 AWG", 12.5, 15, 10),
        ("2017", "12 AWG", 15, 15, 15),
        ("2017", "10 AWG", 28, 30, 25),
        ("2023", "10 AWG", 20, 20, 20),
        ("2023", "6 AWG", 55, 60, 50),
    ],
)
def test_the_next_size_up_is_barred_for_several_receptacles(
    year: str, size: str, usable: float, next_up: float, receptacles: float | None
) -> None:
    found = max_overcurrent(Amperes(usable), size, Material.COPPER, codes.edition(year))
    assert (found.next_size_up.rating, found.cord_and_plug_receptacles.rating) == (next_up, receptacles)


@EVERY_EDITION
@pytest.mark.parametrize(
    ("size", "material", "usable", "largest"),
    [
        ("14 AWG", Material.COPPER, 20, 15),
        ("14 AWG", Material.COPPER, 25, 15),
        ("12 AWG", Material.COPPER, 25, 20),
        ("10 AWG", Material.COPPER, 35, 30),
        ("12 AWG", Material.ALUMINUM, 20, 15),
        ("10 AWG", Material.COPPER_CLAD_ALUMINUM, 30, 25),
    ],
)
def test_small_conductors_keep_their_limit_whatever_their_ampacity(
    year: str, size: str, material: Material, usable: float, largest: float
) -> None:
    found = max_overcurrent(Amperes(usable), size, material, codes.edition(year))
    for limit in (found.next_size_up, found.cord_and_plug_receptacles):
        assert (limit.rating, limit.by) == (largest, "240.4(D)")


# 240.6(A): 15 to 600 A https://builders.theknowledgegardens.com/knowledge/nec-article-240-overcurrent; 10 A from 2023:
# https://expertce.com/courses/electricians-guide-for-nec-2023/lessons/how-does-the-2023-nec-change-standard-circuit-breaker-amp-ratings
RATINGS = (
    *(15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500, 600),
    *(700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000),
)


@pytest.mark.parametrize(
    ("year", "ratings"),
    [("2017", RATINGS), ("2020", RATINGS), ("2023", (10, *RATINGS)), ("2026", (10, *RATINGS))],
)
def test_standard_ratings_by_edition(year: str, ratings: tuple[float, ...]) -> None:
    assert codes.edition(year).overcurrent.standard_ratings == ratings


# 18 and 16 AWG: https://www.electriciantalk.com/threads/derating-nm-cable.296664/page-2; 14 AWG copper-clad aluminum in 2023: the page
# on 10 A circuits above. What 2026 allows for them was not seen, and none of them is for general wiring
@pytest.mark.parametrize(
    ("year", "size", "material", "said"),
    [
        *[(year, "18 AWG", Material.COPPER, "at most 7 A") for year in ("2017", "2020", "2023")],
        *[(year, "16 AWG", Material.COPPER, "at most 10 A") for year in ("2017", "2020", "2023")],
        ("2023", "14 AWG", Material.COPPER_CLAD_ALUMINUM, "at most 10 A"),
        ("2026", "16 AWG", Material.COPPER, "what NEC 2026 allows for 16 AWG was not seen"),
        ("2026", "18 AWG", Material.COPPER, "what NEC 2026 allows for 18 AWG was not seen"),
        ("2026", "14 AWG", Material.COPPER_CLAD_ALUMINUM, "what NEC 2026 allows for 14 AWG was not seen"),
        ("2020", "14 AWG", Material.COPPER_CLAD_ALUMINUM, "nearest"),
        ("2026", "14 AWG", Material.ALUMINUM, "nearest"),
    ],
)
def test_wire_under_general_sizes_is_refused_with_what_is_known_of_it(
    year: str, size: str, material: Material, said: str
) -> None:
    with pytest.raises(CalculationError, match=said) as caught:
        max_overcurrent(Amperes(7), size, material, codes.edition(year))
    assert ("at most" in str(caught.value)) == ("at most" in said)
    assert ("not seen" in str(caught.value)) == ("not seen" in said)


def test_taps_and_motors_are_said_to_be_out_of_scope() -> None:
    notes = [step.note for step in max_overcurrent(Amperes(20), "12 AWG", Material.COPPER, codes.edition("2023")).steps]
    assert any("taps" in note and "240.4(G)" in note and "out of scope" in note for note in notes)


def test_the_section_that_sets_the_rating_is_named() -> None:
    edition = codes.edition("2023")
    assert max_overcurrent(Amperes(55), "6 AWG", Material.COPPER, edition).next_size_up.by == "240.4(B)"
    assert max_overcurrent(Amperes(40), "8 AWG", Material.COPPER, edition).next_size_up.by == "240.6(A)"


def test_over_800_amperes_the_rating_is_rounded_down() -> None:
    table = codes.edition("2023").overcurrent
    assert rating_over(Amperes(760), table) == (800.0, "240.4(B)")
    assert rating_over(Amperes(800), table) == (800.0, "240.6(A)")
    assert rating_over(Amperes(950), table) == (800.0, "240.6(A)")
    assert rating_over(Amperes(1000), table) == (1000.0, "240.6(A)")
    assert rating_over(Amperes(7000), table) == (6000.0, "240.6(A)")


def test_any_current_over_none_has_a_next_size_up() -> None:
    table = codes.edition("2017").overcurrent
    assert rating_over(Amperes(0.5), table) == (15.0, "240.4(B)")
    assert [rating_over(Amperes(none), table)[0] for none in (0, -1)] == [None, None]


# 240.6(A): 15 A is the smallest standard rating up to 2020; 240.4(B)(1) bars it over 12.5 A for several receptacles
@pytest.mark.parametrize(
    ("usable", "step"), [(12.5, "smallest standard rating"), (15.0, "largest standard rating not over the ampacity")]
)
def test_the_working_names_the_rating_for_several_receptacles_or_that_none_is_small_enough(usable: float, step: str) -> None:
    steps = {
        each.what: each for each in max_overcurrent(Amperes(usable), "14 AWG", Material.COPPER, codes.edition("2017")).steps
    }
    assert steps[step].measure.value == 15.0
    assert ("may not guard receptacles" in steps[step].note) == (usable < 15)
    assert len([what for what in steps if what.startswith(("smallest", "largest"))]) == 1


def test_a_conductor_that_carries_nothing_has_no_device() -> None:
    found = max_overcurrent(Amperes(0), "12 AWG", Material.COPPER, codes.edition("2023"))
    assert (found.next_size_up.rating, found.cord_and_plug_receptacles.rating) == (None, None)


def test_float_dust_buys_and_costs_no_rating() -> None:
    table = codes.edition("2023").overcurrent
    assert rating_not_over(Amperes(50 * 0.7 - 1e-12), table) == 35.0
    assert next_standard(Amperes(20 + 1e-12), table) == 20.0


@pytest.mark.parametrize(("size", "usable"), [("13 AWG", 20.0), ("16 AWG", 10.0), ("12 AWG", -1.0), ("12 AWG", float("nan"))])
def test_nonsense_is_refused(size: str, usable: float) -> None:
    with pytest.raises(CalculationError):
        max_overcurrent(Amperes(usable), size, Material.COPPER, codes.edition("2026"))


@given(st.floats(0, 1500), st.sampled_from(EDITIONS), st.sampled_from(["14 AWG", "10 AWG", "6 AWG", "500 kcmil"]))
def test_receptacles_are_never_allowed_more_than_the_ampacity_or_than_others(usable: float, year: str, size: str) -> None:
    found = max_overcurrent(Amperes(usable), size, Material.COPPER, codes.edition(year))
    receptacles, others = found.cord_and_plug_receptacles.rating, found.next_size_up.rating
    if receptacles is not None:
        assert receptacles <= usable * (1 + 1e-8)
        assert others is not None
        assert receptacles <= others
