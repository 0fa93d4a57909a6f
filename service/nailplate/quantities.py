"""Quantities of pint in what the client sends and gets. The only module that imports pint; the service never does.

A plan holds a quantity as text in the author's own unit where the service knows it, else in the unit that it calculates in:
``Q(2.4, "m")`` is ``"2.4 m"``, ``Q(0.2, "dm**3")`` is ``"12.204748819 in3"``. A figure of an answer, ``{"value": 18.0, "unit": "in3"}``,
is a quantity of the caller's registry. Errors: ``QuantityError``.
"""

import math
from collections.abc import Mapping
from typing import Any, Final, TypeAlias

import pint

from nailplate.units import CANONICAL, SCALES, Dimension, QuantityError, Unit

Registry: TypeAlias = "pint.UnitRegistry[Any]"

PINT_UNITS: Final[Mapping[Unit, str]] = {
    Unit.INCH: "inch",
    Unit.SQUARE_INCH: "inch ** 2",
    Unit.SQUARE_FOOT: "foot ** 2",
    Unit.CUBIC_INCH: "inch ** 3",
    Unit.AMPERE: "ampere",
    Unit.VOLT: "volt",
    Unit.VOLT_AMPERE: "volt_ampere",
    Unit.OHM: "ohm",
    Unit.POUND: "pound",
    Unit.CELSIUS: "degree_Celsius",
    Unit.HERTZ: "hertz",
    Unit.PERCENT: "percent",
    Unit.COUNT: "dimensionless",
}
"""The units of figures by their names in pint; a test proves the table of ``units`` against them."""
_DUST: Final = 1e-9


def as_texts(value: Any) -> Any:
    """A JSON value with every quantity in it as text with its unit; one without a dimension is a bare number. Raises QuantityError."""
    if isinstance(value, pint.Quantity):
        return _text(value)
    if isinstance(value, Mapping):
        return {key: as_texts(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [as_texts(each) for each in value]
    return value


def as_quantities(value: Any, registry: Registry, length: str = Unit.INCH) -> Any:
    """An answer with its figures as quantities of ``registry``, lengths in the unit ``length``, e.g. ``"mm"``."""
    if isinstance(value, list):
        return [as_quantities(each, registry, length) for each in value]
    if not isinstance(value, dict):
        return value
    if value.keys() in ({"value", "unit"}, {"value", "unit", "in_plan_unit"}) and value["unit"] in PINT_UNITS:
        figure = registry.Quantity(value["value"], PINT_UNITS[Unit(value["unit"])])
        return figure.to(length) if value["unit"] == Unit.INCH != length else figure
    return {key: as_quantities(each, registry, length) for key, each in value.items()}


def in_registry(answer: dict[str, Any], registry: Registry) -> dict[str, Any]:
    """A whole answer with its figures as quantities; lengths of a report in the unit of the plan that it is on."""
    plan = answer.get("plan")
    length = plan.get("length_unit", Unit.INCH) if isinstance(plan, dict) and answer.get("report_format") else Unit.INCH
    measured: dict[str, Any] = as_quantities(answer, registry, length)
    return measured


def _text(quantity: Any) -> str | float:
    if quantity.dimensionless:
        bare: float = quantity.m_as("dimensionless")
        return bare
    spelling = f"{quantity.units:~C}".replace("**", "")
    own = SCALES.get(spelling)
    if own is not None and (text := _written(quantity.magnitude, spelling)) is not None:
        return text
    unit = _canonical(quantity)
    text = _written(quantity.m_as(PINT_UNITS[unit]), unit)
    if text is None:
        raise QuantityError(f"{quantity} has no number that a plan can write: finite, with at most nine decimals")
    return text


def _canonical(quantity: Any) -> Unit:
    for dimension in Dimension:
        unit = CANONICAL[dimension]
        if quantity.is_compatible_with(PINT_UNITS[unit]):
            return unit
    raise QuantityError(f"{quantity} measures nothing that a plan states")


def _written(magnitude: Any, spelling: str) -> str | None:
    """The number as a plan writes it; None where that would be another number."""
    try:
        number = float(magnitude)
    except (TypeError, ValueError) as error:
        raise QuantityError(f"{magnitude!r} is no single number") from error
    text = f"{number:.9f}".rstrip("0").rstrip(".")
    return f"{text} {spelling}" if math.isfinite(number) and math.isclose(float(text), number, rel_tol=_DUST) else None
