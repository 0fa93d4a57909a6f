"""Calculations without a plan: a request's JSON in, the figure with its steps and sections out.

A length has its unit: there is no plan that would say what a bare number is in, and 100 taken for inches is a twelfth of 100 ft.

Errors: ``PlanRefused`` with the faults of the request, ``KeyError`` for a name that is no calculation.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from marshmallow import ValidationError

from nailplate.calc.steps import CalculationError, Step
from nailplate.calculations import CALCULATIONS, Request, measure_value
from nailplate.codes import edition
from nailplate.plan import ROOT, Fault, FaultCode, PlanRefused
from nailplate.review.cautions import STANDING
from nailplate.wire.fields import LENGTH_FACTOR, found
from nailplate.wire.json_schema import facts_schema
from nailplate.wire.plan_schema import reader_of
from nailplate.wire.reading import built, faults_in


def calculate(name: str, value: object) -> dict[str, Any]:
    """The answer of one calculation. Raises KeyError and PlanRefused."""
    asked = CALCULATIONS[name]
    request = _read(asked.body, value)
    in_force = edition(request.edition)
    try:
        result, steps = asked.work_out(request, in_force)
    except CalculationError as error:
        raise PlanRefused((Fault(ROOT, FaultCode.BAD_VALUE, str(error)),)) from None
    return {
        "name": name,
        "edition": str(in_force.year),
        "result": result,
        "steps": [_step(step) for step in steps],
        "citations": list(dict.fromkeys(step.citation for step in steps if step.citation)),
        "cautions": list(STANDING),
    }


def _read(kind: type[Request], value: object) -> Request:
    if not isinstance(value, dict):
        raise PlanRefused((Fault(ROOT, FaultCode.WRONG_TYPE, f"{found(value)} was found; an object was wanted"),))
    try:
        with _lengths_with_units():
            request: Request = built(reader_of(kind).load(value), ROOT)
        return request
    except ValidationError as error:
        raise PlanRefused(tuple(faults_in(error.messages, ROOT))) from None


@contextmanager
def _lengths_with_units() -> Iterator[None]:
    before = LENGTH_FACTOR.set(None)
    try:
        yield
    finally:
        LENGTH_FACTOR.reset(before)


def _step(step: Step) -> dict[str, Any]:
    said: dict[str, Any] = {"what": step.what, **measure_value(step.measure), "citation": step.citation}
    return {**said, "note": step.note} if step.note else said


def calculation_schemas() -> dict[str, dict[str, Any]]:
    """Name of each calculation to the JSON Schema of its request, with its example."""
    with _lengths_with_units():
        return {
            name: {
                **facts_schema(each.body, f"{name}-request", f"nailplate calculation: {name}"),
                "examples": [dict(each.example)],
            }
            for name, each in CALCULATIONS.items()
        }
