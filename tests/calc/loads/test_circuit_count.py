"""How many general-lighting circuits an area asks for, against examples in print, each with its address."""

import pytest

from nailplate.calc.loads.general import after_demand, lighting_circuits
from nailplate.calc.steps import CalculationError
from nailplate.codes import EDITIONS, edition
from nailplate.units import Amperes

EVERY_EDITION = pytest.mark.parametrize("year", EDITIONS)


@EVERY_EDITION
@pytest.mark.parametrize(
    ("square_feet", "rating", "circuits"),
    [
        # Annex D, example D1(a): 37.5 A, three of 15 A or two of 20 A
        (1500, 15, 3),
        (1500, 20, 2),
        # https://codelibrary.amlegal.com/codes/centervillein/latest/centerville_in/0-0-0-4159 (at 115 V there)
        (1650, 15, 3),
        # https://www.electricianmath.com/neccalculations/minimumcircuits.htm
        (1600, 15, 3),
        (1600, 20, 2),
        # https://askinglot.com/how-do-you-calculate-branch-circuits
        (2800, 20, 4),
        # counts computed from https://studylib.net/doc/25337528/load-est-design, which gives 10500 VA
        (3500, 15, 6),
        (3500, 20, 5),
        # a rule of thumb of the trade: 600 square feet for each 15 A circuit, 800 for each of 20 A
        (600, 15, 1),
        (601, 15, 2),
        (800, 20, 1),
    ],
)
def test_circuits_in_print(year: str, square_feet: float, rating: float, circuits: int) -> None:
    assert lighting_circuits(square_feet, Amperes(rating), edition(year)) == circuits


# https://askfilo.com/user-question-answers-smart-solutions/what-is-the-minimum-number-of-15-ampere-lighting-branch-3332313437393439
# divides by 80 percent of each circuit's rating; a dwelling's general lighting is not taken as continuous
def test_the_count_is_not_taken_at_80_percent() -> None:
    assert lighting_circuits(1200, Amperes(15), edition("2023")) == 2
    assert -(-1200 * 3 // 1440) == 3


# https://studylib.net/doc/25337528/load-est-design: 10500 VA of lighting; the demand of it alone is worked out here
def test_the_demand_of_lighting_alone() -> None:
    assert after_demand(10_500, edition("2017").dwelling_load.demand) == 5_625


# Annex D, examples D4(a) and D5(a): 110400 and 220800 VA of general load
def test_the_demand_of_many_units() -> None:
    demand = edition("2023").dwelling_load.demand
    assert after_demand(110_400, demand) == pytest.approx(40_590)
    assert after_demand(220_800, demand) == pytest.approx(69_150)


@pytest.mark.parametrize("rating", [0.0, -15.0])
def test_a_circuit_without_a_rating_is_refused(rating: float) -> None:
    with pytest.raises(CalculationError, match="over 0"):
        lighting_circuits(1200, Amperes(rating), edition("2023"))
