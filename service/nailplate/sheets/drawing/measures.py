"""Lengths as drawings write them, in the plan's own unit: 7'-6 1/2", or 2286 mm."""

from fractions import Fraction
from typing import Final

from nailplate.plan import Plan
from nailplate.plan.words import LengthUnit

_PER_INCH: Final = {LengthUnit.MM: 25.4, LengthUnit.CM: 2.54, LengthUnit.M: 0.0254}
_DIGITS: Final = {LengthUnit.MM: 0, LengthUnit.CM: 1, LengthUnit.M: 3}
_SIXTEENTHS: Final = 16
_FOOT: Final = 12
BY_TAPE: Final = 60
"""Inches under which heights and distances at a box are told in inches alone, as a tape is read."""
DIMENSIONS_IN: Final = {
    LengthUnit.IN: "feet and inches",
    LengthUnit.FT: "feet and inches",
    LengthUnit.MM: "millimeters",
    LengthUnit.CM: "centimeters",
    LengthUnit.M: "meters",
}


def unit_of(plan: Plan) -> LengthUnit:
    """What the plan's bare lengths are in."""
    return plan.units.length if plan.knows("units") and plan.units.knows("length") else LengthUnit.IN


def dimension(inches: float, unit: LengthUnit, feet_from: float = _FOOT) -> str:
    """A length as a dimension line carries it, in feet and inches from ``feet_from`` inches on."""
    if unit in _PER_INCH:
        return f"{inches * _PER_INCH[unit]:.{_DIGITS[unit]}f} {unit}"
    sixteenths = round(abs(inches) * _SIXTEENTHS)
    whole, part = divmod(sixteenths, _SIXTEENTHS)
    fraction = f" {Fraction(part, _SIXTEENTHS)}" if part else ""
    sign = "-" if inches < 0 and sixteenths else ""
    if whole < feet_from:
        return f'{sign}{f"{whole}{fraction}" if whole or not part else fraction.strip()}"'
    feet, left = divmod(whole, _FOOT)
    return f"{sign}{feet}'-{left}{fraction}\""
