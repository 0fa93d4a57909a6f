"""Full-load currents against Table 430.248 as printed at https://sparky-hq.com/tables/motor-fla."""

import pytest

from nailplate.calc.motors import full_load_current
from nailplate.calc.steps import CalculationError
from nailplate.codes import EDITIONS, edition
from nailplate.units import Volts


@pytest.mark.parametrize("year", EDITIONS)
@pytest.mark.parametrize(
    ("horsepower", "volts", "current"),
    [
        (1, 115, 16),
        (1, 120, 16),
        (1.5, 120, 20),
        (0.5, 115, 9.8),
        (1 / 3, 120, 7.2),
        (0.33, 120, 7.2),
        (5, 240, 28),
        (2, 208, 13.2),
    ],
)
def test_current_of_a_single_phase_motor(year: str, horsepower: float, volts: float, current: float) -> None:
    assert full_load_current(horsepower, Volts(volts), edition(year)) == current


@pytest.mark.parametrize(("horsepower", "volts"), [(0.6, 120), (15, 240), (1, 277), (1, 24)])
def test_what_the_table_does_not_have_is_refused(horsepower: float, volts: float) -> None:
    with pytest.raises(CalculationError):
        full_load_current(horsepower, Volts(volts), edition("2023"))
