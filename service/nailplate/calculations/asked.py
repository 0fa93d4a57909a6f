"""How a calculation is declared, and what every request and answer have in common."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from nailplate.calc.steps import Step
from nailplate.codes import Edition
from nailplate.plan import Facts
from nailplate.plan.facts import Doc, Needed, drawn
from nailplate.plan.words import EditionName
from nailplate.units import Measure


@drawn
class Request(Facts):
    """What every calculation is asked with."""

    edition: Annotated[EditionName, Doc("the NEC edition"), Needed]


Working = Callable[[Any, Edition], tuple[dict[str, Any], tuple[Step, ...]]]
"""How a calculation is worked out: its result, and the steps that lead there. Raises PlanRefused and CalculationError."""


@dataclass(frozen=True, slots=True)
class Calculation:
    """One figure that may be asked without a plan: its name, the body it takes, how it is worked out, and an example body."""

    name: str
    body: type[Request]
    work_out: Working
    example: Mapping[str, Any]


def calculation(name: str, body: type[Request], *, example: Mapping[str, Any]) -> Callable[[Working], Calculation]:
    """Declares the function under it as the calculation ``name``; ``example`` is a body that the documentation shows."""
    return lambda work_out: Calculation(name, body, work_out, example)


def measure_value(measure: Measure) -> dict[str, Any]:
    """A figure as JSON."""
    return {"value": round(measure.value, 6), "unit": measure.unit.value}


def given(facts: Facts, name: str) -> Any:
    """A list that a request may leave out."""
    return getattr(facts, name) if facts.knows(name) else ()


def stated(facts: Facts, *names: str) -> dict[str, Any]:
    """Those of ``names`` that the request gives, as arguments."""
    return {name: getattr(facts, name) for name in names if facts.knows(name)}
