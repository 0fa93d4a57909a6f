"""What a circuit's load asks of its conductors and device: continuous loads, against examples in print with their addresses."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nailplate import codes
from nailplate.calc.ampacity import ConductorUse, Method, ampacity
from nailplate.calc.branch_load import BranchLoad, branch_load
from nailplate.calc.steps import CalculationError
from nailplate.codes import EDITIONS, Column
from nailplate.units import Amperes

EVERY_EDITION = pytest.mark.parametrize("year", EDITIONS)


def asked(size: str, year: str, continuous: float, noncontinuous: float = 0.0, together: int = 2) -> BranchLoad:
    edition = codes.edition(year)
    figures = ampacity(ConductorUse(size=size, method=Method.NM_B, current_carrying=together), edition)
    return branch_load(Amperes(continuous), Amperes(noncontinuous), figures, edition)


# https://forums.mikeholt.com/threads/422-11-e-3.2555687: a storage water heater of 4500 W at 240 V, 18.75 A, at 125 percent 23.4 A
# (422.13, https://forums.mikeholt.com/threads/calculating-water-heaters.68985): at least a 25 A device, and 12 AWG cable is short
@EVERY_EDITION
def test_a_storage_water_heater_counts_for_a_quarter_more(year: str) -> None:
    found = asked("12 AWG", year, 4500 / 240)
    assert found.counted == pytest.approx(23.4375)
    assert (found.device, found.carried) == (25.0, False)
    assert asked("10 AWG", year, 4500 / 240).carried


# https://forums.mikeholt.com/threads/unit-6-question-50-from-mh-eep-based-on-the-2017-nec.2571930: the key printed there, 15 A, is the
# smallest device for 2500 W at 240 V, not the largest
@EVERY_EDITION
def test_the_smallest_device_for_2500_watts_is_15_amperes(year: str) -> None:
    found = asked("14 AWG", year, 2500 / 240)
    assert (round(found.counted, 2), found.device, found.carried) == (13.02, 15.0, True)


# 80 percent of a circuit's rating, the same words the other way round (210.20(A)): common practice
@EVERY_EDITION
@pytest.mark.parametrize(("size", "rating"), [("14 AWG", 15), ("12 AWG", 20), ("10 AWG", 30)])
def test_a_continuous_load_ends_at_80_percent(year: str, size: str, rating: float) -> None:
    at_limit, past = asked(size, year, 0.8 * rating), asked(size, year, 0.8 * rating + 0.1)
    assert (at_limit.device, at_limit.carried) == (rating, True)
    assert past.device is not None
    assert past.device > rating
    assert not past.carried
    assert asked(size, year, 0.0, rating).carried


def test_in_2023_a_small_lighting_circuit_may_have_a_10_ampere_device() -> None:
    assert asked("14 AWG", "2023", 8.0).device == 10.0
    assert asked("14 AWG", "2020", 8.0).device == 15.0


def test_the_load_is_held_against_the_ampacity_after_factors_without_the_quarter() -> None:
    """Ten conductors together: 30 A x 0.50 = 15 A; 18 A pass before the factors and not after them, 15 A continuous pass both."""
    assert not asked("12 AWG", "2023", 0.0, 18.0, together=10).carried
    assert asked("12 AWG", "2023", 15.0, together=10).carried


def test_every_step_has_its_section() -> None:
    assert [step.citation for step in asked("12 AWG", "2017", 8.0).steps] == ["210.20(A)", "210.19(A)(1)", "210.19(A)(1)"]
    assert [step.citation for step in asked("12 AWG", "2023", 8.0).steps] == ["210.20(A)", "210.19(A)", "210.19(A)"]


def test_a_load_beyond_every_rating_has_no_device_and_a_negative_one_is_refused() -> None:
    assert asked("12 AWG", "2023", 6000.0).device is None
    assert asked("12 AWG", "2023", 0.0).device is None
    for wrong in (-1.0, float("nan")):
        with pytest.raises(CalculationError):
            asked("12 AWG", "2023", wrong)


@given(st.floats(0, 100), st.floats(0, 100), st.floats(0, 50), st.sampled_from(EDITIONS))
def test_more_load_never_asks_for_a_smaller_device(continuous: float, rest: float, more: float, year: str) -> None:
    less, greater = asked("6 AWG", year, continuous, rest), asked("6 AWG", year, continuous + more, rest)
    assert greater.counted >= less.counted
    assert less.carried or not greater.carried
    assert less.device is None or greater.device is None or greater.device >= less.device


@given(st.sampled_from(["14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG"]), st.floats(0, 60), st.integers(1, 40))
def test_a_larger_conductor_never_carries_less(size: str, load: float, together: int) -> None:
    edition = codes.edition("2023")
    sizes = edition.conductors.rising(edition.ampacity.copper[Column.C60])
    larger = sizes[sizes.index(size) + 1]
    assert asked(larger, "2023", load, together=together).carried or not asked(size, "2023", load, together=together).carried
