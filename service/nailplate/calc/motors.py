"""The full-load current by which a motor's circuit is sized: by horsepower and voltage."""

from fractions import Fraction

from nailplate.calc.steps import CalculationError
from nailplate.codes import Edition
from nailplate.units import Amperes, Volts

_ALIKE = 0.02
"""Within two percent a stated horsepower is one of the table's: 0.33 is 1/3."""
_COLUMNS = {115: (110.0, 127.0), 200: (200.0, 200.0), 208: (201.0, 215.0), 230: (220.0, 250.0)}
"""The system voltages of each column; 110 to 120 and 220 to 240 by the table's own words, more as equipment is marked."""


def full_load_current(horsepower: float, volts: Volts, edition: Edition) -> Amperes:
    """Amperes of a single-phase motor by the table. Raises CalculationError where no row or column is for it."""
    table = edition.motor_currents
    column = next((each for each, (least, most) in _COLUMNS.items() if least <= volts <= most), None)
    if column is None:
        raise CalculationError(f"{table.cite} has no column for {volts:g} V")
    rows = table.single_phase[column]
    row = next((each for each in rows if abs(_number(each) - horsepower) <= _ALIKE * horsepower), None)
    if row is None:
        raise CalculationError(f"{table.cite} has no row for {horsepower:g} hp")
    return rows[row]


def _number(row: str) -> float:
    return float(sum(Fraction(part) for part in row.split()))
