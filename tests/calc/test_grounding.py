"""Equipment grounding conductors against worked examples in print, each with its address."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nailplate import codes
from nailplate.calc.grounding import Upsized, grounding_conductor
from nailplate.calc.steps import CalculationError
from nailplate.codes import EDITIONS, Material
from nailplate.units import Amperes

EVERY_EDITION = pytest.mark.parametrize("year", EDITIONS)


# Table 250.122, https://brunsengineering.com/nec-table-250-122/
@EVERY_EDITION
@pytest.mark.parametrize(
    ("overcurrent", "copper", "aluminum"),
    [
        (15, "14 AWG", "12 AWG"),
        (16, "12 AWG", "10 AWG"),
        (20, "12 AWG", "10 AWG"),
        (21, "10 AWG", "8 AWG"),
        (60, "10 AWG", "8 AWG"),
        (61, "8 AWG", "6 AWG"),
        (100, "8 AWG", "6 AWG"),
        (200, "6 AWG", "4 AWG"),
    ],
)
def test_table_by_overcurrent_device(year: str, overcurrent: float, copper: str, aluminum: str) -> None:
    edition = codes.edition(year)
    assert grounding_conductor(Amperes(overcurrent), edition).size == copper
    assert grounding_conductor(Amperes(overcurrent), edition, material=Material.ALUMINUM).size == aluminum


@EVERY_EDITION
@pytest.mark.parametrize(
    ("overcurrent", "least", "used", "size"),
    [
        # https://forums.mikeholt.com/threads/oven.2548368/page-2 rounds the ratio to 1.6 and lands on 6 AWG; unrounded,
        # 26240/16510 x 10380 = 16497 circular mils, and 8 AWG has 16510.
        pytest.param(40, "8 AWG", "6 AWG", "8 AWG", id="oven, 8 AWG raised to 6 AWG"),
        # https://www.inwindustrialtraining.com/post/code-talk-episode-32-notes
        pytest.param(300, "250 kcmil", "350 kcmil", "2 AWG", id="300 A feeder"),
        # https://www.mepanet.com/287/proportionately-increase-equipment-grounding-conductor
        pytest.param(200, "3/0 AWG", "500 kcmil", "1 AWG", id="200 A feeder for voltage drop"),
        # https://www.ecmag.com/magazine/articles/article-detail/equipment-grounding-controls--cqd-spotlight
        pytest.param(20, "12 AWG", "6 AWG", "6 AWG", id="20 A circuit, one to one"),
    ],
)
def test_grows_in_proportion(year: str, overcurrent: float, least: str, used: str, size: str) -> None:
    assert grounding_conductor(Amperes(overcurrent), codes.edition(year), upsized=Upsized(least, used)).size == size


@EVERY_EDITION
def test_never_larger_than_the_circuit_s_own_conductors(year: str) -> None:
    """250.122(A): a motor's 12 AWG conductors on a 40 A device need no 10 AWG ground."""
    found = grounding_conductor(Amperes(40), codes.edition(year), circuit_size="12 AWG")
    assert (found.by_table, found.size) == ("10 AWG", "12 AWG")
    assert found.steps[-1].citation == "250.122(A)"


@given(st.floats(min_value=0.5, max_value=2000), st.floats(min_value=0.5, max_value=2000))
def test_larger_device_never_needs_less(one: float, other: float) -> None:
    edition = codes.edition("2023")
    small, large = (grounding_conductor(Amperes(each), edition).size for each in sorted((one, other)))
    assert not edition.conductors.larger(small, large)


@pytest.mark.parametrize("overcurrent", [0, -1, 2001, float("nan")])
def test_device_that_the_table_does_not_know_is_refused(overcurrent: float) -> None:
    with pytest.raises(CalculationError):
        grounding_conductor(Amperes(overcurrent), codes.edition("2023"))
