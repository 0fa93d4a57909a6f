"""Quantities as the trade writes them: the closed list of units, the grammar, comparisons, and how to show them.

Inside the service a quantity is a plain float in one canonical unit per dimension (inch, square inch, cubic inch, ampere,
volt, volt-ampere, ohm, pound, degree Celsius, hertz); the ``NewType``s below keep the dimensions apart for the type checker.
A caller's text is read here and nowhere else, by two anchored patterns and exact fractions.

Errors: ``QuantityError`` (a ``ValueError``) with the reason in its message.
"""

import math
import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final, NewType

from nailplate.records import record

Inches = NewType("Inches", float)
SquareInches = NewType("SquareInches", float)
CubicInches = NewType("CubicInches", float)
Amperes = NewType("Amperes", float)
Volts = NewType("Volts", float)
VoltAmperes = NewType("VoltAmperes", float)
Ohms = NewType("Ohms", float)
Pounds = NewType("Pounds", float)
Celsius = NewType("Celsius", float)
Hertz = NewType("Hertz", float)


class QuantityError(ValueError):
    """A text that is no quantity of the dimension wanted."""


class Dimension(StrEnum):
    """What a quantity measures."""

    LENGTH = "length"
    AREA = "area"
    VOLUME = "volume"
    CURRENT = "current"
    VOLTAGE = "voltage"
    POWER = "power"
    RESISTANCE = "resistance"
    WEIGHT = "weight"
    TEMPERATURE = "temperature"
    FREQUENCY = "frequency"


class Unit(StrEnum):
    """The unit that a figure in a report is given in; ``COUNT`` is a bare number of things."""

    INCH = "in"
    SQUARE_INCH = "in2"
    SQUARE_FOOT = "ft2"
    CUBIC_INCH = "in3"
    AMPERE = "A"
    VOLT = "V"
    VOLT_AMPERE = "VA"
    OHM = "ohm"
    POUND = "lb"
    CELSIUS = "degC"
    HERTZ = "Hz"
    PERCENT = "%"
    COUNT = "count"


CANONICAL: Final[dict[Dimension, Unit]] = {
    Dimension.LENGTH: Unit.INCH,
    Dimension.AREA: Unit.SQUARE_INCH,
    Dimension.VOLUME: Unit.CUBIC_INCH,
    Dimension.CURRENT: Unit.AMPERE,
    Dimension.VOLTAGE: Unit.VOLT,
    Dimension.POWER: Unit.VOLT_AMPERE,
    Dimension.RESISTANCE: Unit.OHM,
    Dimension.WEIGHT: Unit.POUND,
    Dimension.TEMPERATURE: Unit.CELSIUS,
    Dimension.FREQUENCY: Unit.HERTZ,
}


@dataclass(frozen=True, slots=True)
class Scale:
    """One spelling of a unit: canonical = (number + ``offset``) * ``factor``; both exact."""

    dimension: Dimension
    factor: Fraction
    offset: Fraction = Fraction(0)


# 1 in = 25.4 mm and 1 lb = 0.45359237 kg exactly (international yard and pound agreement, 1959; NIST SP 811, B.8).
_MM = Fraction(10, 254)
_LB = Fraction(100_000_000, 45_359_237)

# Watts stand beside volt-amperes: a nameplate gives either, and planning takes them as equal (NEC 220.5).
# One horsepower is 550 ft·lbf/s; a motor's current comes from the code's motor tables, never from this figure.
_FACTORS: Final[dict[Dimension, dict[str, Fraction | int]]] = {
    Dimension.LENGTH: {
        "in": 1, "inch": 1, "inches": 1, '"': 1, "″": 1,
        "ft": 12, "foot": 12, "feet": 12, "'": 12, "′": 12,
        "yd": 36, "mm": _MM, "cm": 10 * _MM, "m": 1000 * _MM,
    },
    Dimension.AREA: {
        "in2": 1, "sq in": 1, "ft2": 144, "sq ft": 144,
        "mm2": _MM**2, "cm2": (10 * _MM) ** 2, "m2": (1000 * _MM) ** 2,
    },
    Dimension.VOLUME: {"in3": 1, "cu in": 1, "ft3": 1728, "mm3": _MM**3, "cm3": (10 * _MM) ** 3, "mL": (10 * _MM) ** 3,
                       "L": (100 * _MM) ** 3, "gal": 231},
    Dimension.CURRENT: {"A": 1, "amp": 1, "amps": 1, "mA": Fraction(1, 1000), "kA": 1000},
    Dimension.VOLTAGE: {"V": 1, "volt": 1, "volts": 1, "kV": 1000},
    Dimension.POWER: {"VA": 1, "W": 1, "watt": 1, "watts": 1, "kVA": 1000, "kW": 1000},
    Dimension.RESISTANCE: {"ohm": 1, "ohms": 1},
    Dimension.WEIGHT: {"lb": 1, "lbs": 1, "pounds": 1, "oz": Fraction(1, 16), "kg": _LB, "g": _LB / 1000},
    Dimension.FREQUENCY: {"Hz": 1},
}  # fmt: skip


def _scales() -> dict[str, Scale]:
    scales = {
        spelling: Scale(dimension, Fraction(factor))
        for dimension, spellings in _FACTORS.items()
        for spelling, factor in spellings.items()
    }
    fahrenheit = Scale(Dimension.TEMPERATURE, Fraction(5, 9), Fraction(-32))
    celsius = Scale(Dimension.TEMPERATURE, Fraction(1))
    for spelling in ("degC", "°C", "C"):
        scales[spelling] = celsius
    for spelling in ("degF", "°F", "F"):
        scales[spelling] = fahrenheit
    return scales


SCALES: Final = _scales()
"""Every spelling of a unit that is understood, and what it stands for. Nothing else is."""

LONGEST_TEXT: Final = 64
EXAMPLES: Final[dict[Dimension, str]] = {
    Dimension.LENGTH: "7 ft 6 in",
    Dimension.AREA: "240 ft2",
    Dimension.VOLUME: "18 in3",
    Dimension.CURRENT: "20 A",
    Dimension.VOLTAGE: "120 V",
    Dimension.POWER: "1500 W",
    Dimension.RESISTANCE: "0.3 ohm",
    Dimension.WEIGHT: "35 lb",
    Dimension.TEMPERATURE: "40 degC",
    Dimension.FREQUENCY: "60 Hz",
}

WHOLE: Final = frozenset({Dimension.VOLTAGE, Dimension.CURRENT, Dimension.FREQUENCY})
"""What is never written as a fraction: ``120/240 V`` names two voltages."""

_NUMBER = r"(?:(?:[0-9]{1,9}(?:\.[0-9]{1,9})?|\.[0-9]{1,9})(?:[ -][0-9]{1,4}/[1-9][0-9]{0,3})?|[0-9]{1,4}/[1-9][0-9]{0,3})"
_FEET_INCHES = re.compile(
    rf"(-?)([0-9]{{1,9}}) ?(?:ft|foot|feet|'|′)(?: ?- ?| )?({_NUMBER}) ?(?:in|inch|inches|\"|″)", re.ASCII
)
_PLAIN = re.compile(rf"(-?)({_NUMBER}) ?([A-Za-z°'\"′″]+(?: [A-Za-z]+)?)(\*\*[23]|\^[23]|²|³|[23])?", re.ASCII)
_POWERS: Final = {"²": "2", "³": "3"}


def like(dimension: Dimension) -> str:
    """How a quantity is written, for messages: a temperature in either scale."""
    return f"{EXAMPLES[dimension]!r}" + (" or '86 degF'" if dimension is Dimension.TEMPERATURE else "")


def read_quantity(text: str, dimension: Dimension) -> float:
    """The canonical value of ``text``, e.g. ``"7'-6 1/2\\""`` as a length is 90.5. Raises QuantityError."""
    if len(text) > LONGEST_TEXT:
        raise QuantityError(f"a quantity has at most {LONGEST_TEXT} characters; this text has {len(text)}")
    compound = _FEET_INCHES.fullmatch(text)
    if compound:
        return _feet_and_inches(compound, dimension)
    plain = _PLAIN.fullmatch(text)
    if not plain:
        raise QuantityError(f"this is not a number with a unit; write it like {like(dimension)}")
    sign, number, word, power = plain.groups()
    if "/" in number and dimension in WHOLE:
        raise QuantityError(f"this names two figures; state one {dimension}, like {EXAMPLES[dimension]!r}")
    scale = _scale(word + (_POWERS.get(power, power[-1]) if power else ""), dimension)
    return _finite((_signed(sign, _number(number)) + scale.offset) * scale.factor)


def _feet_and_inches(match: re.Match[str], dimension: Dimension) -> float:
    sign, feet, inches_text = match.groups()
    _scale("in", dimension)
    inches = _number(inches_text)
    if inches >= 12:
        raise QuantityError("the inches after a number of feet are under 12")
    return _finite(_signed(sign, Fraction(int(feet) * 12) + inches))


def _number(text: str) -> Fraction:
    whole, _, part = text.replace("-", " ").partition(" ")
    return Fraction(whole) + Fraction(part) if part else Fraction(whole)


def _signed(sign: str, value: Fraction) -> Fraction:
    return -value if sign else value


def _scale(spelling: str, dimension: Dimension) -> Scale:
    scale = SCALES.get(spelling)
    if scale is None:
        raise QuantityError(
            f"{spelling[:20]!r} is no unit that is known here; a {dimension} is written like {EXAMPLES[dimension]!r}"
        )
    if scale.dimension is not dimension:
        raise QuantityError(f"{spelling!r} measures {scale.dimension}; wanted is a {dimension}, like {EXAMPLES[dimension]!r}")
    return scale


def _finite(value: Fraction) -> float:
    return float(value)


_DUST: Final = 1e-9


def reaches(value: float, limit: float) -> bool:
    """Whether ``value`` is at least ``limit``, forgiving float dust: 1828.8 mm reaches 6 ft."""
    return value >= limit or math.isclose(value, limit, rel_tol=_DUST, abs_tol=_DUST)


def within(value: float, limit: float) -> bool:
    """Whether ``value`` is at most ``limit``, forgiving float dust: 0.1 + 0.2 is within 0.3."""
    return value <= limit or math.isclose(value, limit, rel_tol=_DUST, abs_tol=_DUST)


@record(frozen=True, slots=True)
class Measure:
    """A figure with its unit, as findings and calculations give it."""

    value: float
    unit: Unit


def inches(value: float) -> Measure:
    """A length for a finding, in inches."""
    return Measure(value, Unit.INCH)


def cubic_inches(value: float) -> Measure:
    """A volume for a finding, in cubic inches."""
    return Measure(value, Unit.CUBIC_INCH)


def amperes(value: float) -> Measure:
    """A current for a finding, in amperes."""
    return Measure(value, Unit.AMPERE)


def volts(value: float) -> Measure:
    """A voltage for a finding, in volts."""
    return Measure(value, Unit.VOLT)


def pounds(value: float) -> Measure:
    """A weight for a finding."""
    return Measure(value, Unit.POUND)


def volt_amperes(value: float) -> Measure:
    """A load for a finding, in volt-amperes."""
    return Measure(value, Unit.VOLT_AMPERE)


def count(value: int) -> Measure:
    """A number of things for a finding."""
    return Measure(value, Unit.COUNT)


_SHOWN_UNIT: Final[dict[Unit, str]] = {
    Unit.SQUARE_INCH: " in²",
    Unit.SQUARE_FOOT: " ft²",
    Unit.CUBIC_INCH: " in³",
    Unit.CELSIUS: " °C",
    Unit.PERCENT: " %",
    Unit.COUNT: "",
}
_SIXTEENTHS: Final = 16
_DIGITS: Final[dict[Unit, int]] = {Unit.VOLT_AMPERE: 0, Unit.CUBIC_INCH: 2, Unit.SQUARE_INCH: 2, Unit.OHM: 2}
"""Decimals that a box or nameplate is marked with; of other units one."""


def shown(measure: Measure) -> str:
    """The figure for people, no finer than a tape or a nameplate shows: ``7 ft 6 in``, ``20.25 in³``, ``10.8 A``, ``1440 VA``."""
    if measure.unit is Unit.INCH:
        return _shown_length(measure.value)
    return _trimmed(measure.value, _DIGITS.get(measure.unit, 1)) + _SHOWN_UNIT.get(measure.unit, f" {measure.unit}")


def shown_beside(measure: Measure, limit: Measure) -> str:
    """The figure for people where they read its limit too: ``just under 1 1/4 in`` where both would be shown alike and are not."""
    text = shown(measure)
    alike = text == shown(limit) and not (reaches(measure.value, limit.value) and within(measure.value, limit.value))
    return f"just {'under' if measure.value < limit.value else 'over'} {text}" if alike else text


def shown_in(measure: Measure, spelling: str) -> str:
    """A length for people in another unit, to the millimeter: ``2286 mm``, ``2.286 m``. Others are shown as they are."""
    if measure.unit is not Unit.INCH:
        return shown(measure)
    value = measure.value / float(SCALES[spelling].factor)
    digits = _DIGITS_TO_THE_MM[spelling]
    number = f"{value:.{digits}f}"
    return f"{number.rstrip('0').rstrip('.') if digits else number} {spelling}"


_DIGITS_TO_THE_MM: Final = {"mm": 0, "cm": 1, "m": 3}


def _shown_length(value: float) -> str:
    sixteenths = round(abs(value) * _SIXTEENTHS)
    whole, part = divmod(sixteenths, _SIXTEENTHS)
    feet, left = divmod(whole, 12)
    fraction = f"{Fraction(part, _SIXTEENTHS)}" if part else ""
    left_text = f"{left} {fraction}".strip() if left and fraction else (fraction or str(left))
    words = [f"{feet} ft"] if feet else []
    if left or fraction or not feet:
        words.append(f"{left_text} in")
    return ("-" if value < 0 and sixteenths else "") + " ".join(words)


def _trimmed(value: float, digits: int) -> str:
    value += math.copysign(_DUST, value)  # half up: 31.25 A is 31.3 A
    text = f"{value:.{digits}f}"
    if digits == 1 and float(text).is_integer():  # 20.04 A is not 20 A
        text = f"{value:.2f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def written(measure: Measure) -> str:
    """The figure as a plan writes it: ``20.25 in3``, ``20 A``. Reading it back gives the same value."""
    number = f"{measure.value:.9f}".rstrip("0").rstrip(".")
    return f"{number} {measure.unit}"
