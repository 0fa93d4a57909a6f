"""The quantity grammar, its refusals, and every unit of the table against pint, an independent unit library."""

from fractions import Fraction
from typing import Any

import pint
import pytest

from nailplate.units import (
    CANONICAL,
    SCALES,
    Dimension,
    Measure,
    QuantityError,
    Unit,
    amperes,
    inches,
    reaches,
    read_quantity,
    shown,
    shown_beside,
    volt_amperes,
    volts,
    within,
    written,
)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("7 ft 6 in", 90),
        ("7'-6\"", 90),
        ("7′-6″", 90),
        ("7' 6 1/2\"", 90.5),
        ("3 1/2 in", 3.5),
        ("3-1/2 in", 3.5),
        ("1828.8 mm", 72),
        ("2.54 cm", 1),
        ("1/2 in", 0.5),
    ],
)
def test_lengths_are_read(text: str, wanted: float) -> None:
    assert read_quantity(text, Dimension.LENGTH) == wanted


@pytest.mark.parametrize("text", ["18.0 in**3", "18 in³", "18 in^3", "18 in3", "18 cu in"])
def test_volumes_are_read(text: str) -> None:
    assert read_quantity(text, Dimension.VOLUME) == 18.0


@pytest.mark.parametrize(
    "text",
    ["7'-12\"", "7.5 ft 6 in", "7 ft 6", "5", "in", "1,5 m", "1e3 m", "1/0 in", "٣ ft", "7 ft\n", "9**9**9 ft", "10**10**10 ft",
     "nan ft", "inf ft", "1.2.3 m", "2 7 ft", "10 #", "call()", "a" * 100_000, "12 AWG", "18 in3", "", "10^10^10", "5 a", "1e 3 m",
     "1e400 ft", "9" * 5000 + " ft", "1" + "+1" * 2000 + " ft", "(" * 5000 + "1 ft", "-" * 3000 + "1 ft", "kilo" * 2000, "1 ft.x", "5 cu in",
     "1 ft\n", " 1 ft", "1 ft ", "1  ft", "+1 ft", "1/0 ft", "1/00 ft", "7'-12 1/2\"", "½ in", "７ ft", "1\u00a0ft"],
)  # fmt: skip
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(QuantityError):
        read_quantity(text, Dimension.LENGTH)


_PINT_NAMES = {
    '"': "inch", "″": "inch", "'": "foot", "′": "foot", "in2": "inch**2", "sq in": "inch**2", "ft2": "foot**2", "sq ft": "foot**2",
    "mm2": "mm**2", "cm2": "cm**2", "m2": "m**2", "in3": "inch**3", "cu in": "inch**3", "ft3": "foot**3", "mm3": "mm**3", "cm3": "cm**3",
    "amp": "ampere", "amps": "ampere", "pounds": "pound", "lbs": "pound",
}  # fmt: skip
_CANONICAL_PINT = {
    Unit.INCH: "inch", Unit.SQUARE_INCH: "inch**2", Unit.CUBIC_INCH: "inch**3", Unit.AMPERE: "ampere", Unit.VOLT: "volt",
    Unit.VOLT_AMPERE: "watt", Unit.OHM: "ohm", Unit.POUND: "pound", Unit.HERTZ: "hertz",
}  # fmt: skip


@pytest.mark.parametrize("spelling", [each for each, scale in SCALES.items() if scale.dimension is not Dimension.TEMPERATURE])
def test_every_unit_is_what_pint_says(spelling: str) -> None:
    registry: Any = pint.UnitRegistry(non_int_type=Fraction)
    scale = SCALES[spelling]
    name = _PINT_NAMES.get(spelling, spelling)
    converted = registry.Quantity(Fraction(1), name).to(_CANONICAL_PINT[CANONICAL[scale.dimension]])
    assert float(converted.magnitude) == pytest.approx(float(scale.factor), rel=1e-12)


@pytest.mark.parametrize(("text", "celsius"), [("32 degF", 0.0), ("212 degF", 100.0), ("104 °F", 40.0), ("40 degC", 40.0)])
def test_temperatures_are_what_pint_says(text: str, celsius: float) -> None:
    number, unit = text.split()
    registry: Any = pint.UnitRegistry()
    wanted = registry.Quantity(float(number), unit.replace("°", "deg")).to("degC").magnitude
    assert read_quantity(text, Dimension.TEMPERATURE) == pytest.approx(wanted) == pytest.approx(celsius)


@pytest.mark.parametrize("feet", range(1, 101))
def test_feet_in_millimetres_are_within_their_limit(feet: int) -> None:
    figure = read_quantity(f"{feet * 304.8:.1f} mm", Dimension.LENGTH)
    assert reaches(figure, feet * 12)
    assert within(figure, feet * 12)
    assert not within(figure + 0.01, feet * 12)


@pytest.mark.parametrize(
    ("value", "text"), [(90, "7 ft 6 in"), (5, "5 in"), (72, "6 ft"), (0.5, "1/2 in"), (90.5, "7 ft 6 1/2 in")]
)
def test_lengths_are_shown_as_a_tape_shows_them(value: float, text: str) -> None:
    assert shown(inches(value)) == text


def test_what_is_written_reads_back() -> None:
    assert read_quantity(written(Measure(20.25, Unit.CUBIC_INCH)), Dimension.VOLUME) == 20.25


@pytest.mark.parametrize(
    ("measure", "text"),
    [
        (amperes(10.833333), "10.8 A"),
        (amperes(31.25), "31.3 A"),
        (amperes(20.04), "20.04 A"),
        (amperes(20), "20 A"),
        (volts(33.84), "33.8 V"),
        (volt_amperes(1439.6), "1440 VA"),
        (Measure(20.25, Unit.CUBIC_INCH), "20.25 in³"),
        (Measure(37.777777, Unit.CELSIUS), "37.8 °C"),
    ],
)
def test_figures_are_shown_as_a_nameplate_shows_them(measure: Measure, text: str) -> None:
    assert shown(measure) == text


def test_a_figure_shown_like_its_limit_says_on_which_side_it_lies() -> None:
    assert shown_beside(inches(1.21875), inches(1.25)) == "just under 1 1/4 in"
    assert shown_beside(inches(0.1 + 0.2), inches(0.3)) == shown(inches(0.3))
    assert shown_beside(inches(1), inches(1.25)) == "1 in"
