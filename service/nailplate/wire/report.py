"""A report as JSON: the same report, the same bytes. Facts that a report does not have are left out, never null."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass
from enum import Enum
from typing import Any

from nailplate.review import Report
from nailplate.review.inert import inert_json
from nailplate.review.report import Finding, Where
from nailplate.units import SCALES, Measure, Unit


def report_value(report: Report) -> dict[str, Any]:
    """The report as plain JSON values, its fields in the order of their classes."""
    value = _value(report, _plan_unit(report))
    return {"report_format": value.pop("report_format"), **value}


def finding_value(finding: Finding, report: Report) -> dict[str, Any]:
    """One finding of a report as plain JSON values."""
    value: dict[str, Any] = _value(finding, _plan_unit(report))
    return value


def report_json(report: Report) -> bytes:
    """The report's bytes, UTF-8 with a closing newline."""
    return text_of(report_value(report))


def text_of(value: object) -> bytes:
    """A JSON value as the service writes it."""
    return (inert_json(json.dumps(value, ensure_ascii=False, indent=2)) + "\n").encode()


@dataclass(frozen=True, slots=True)
class _PlanUnit:
    """The plan's own unit of length, in which lengths are given a second time."""

    name: str
    in_inches: float

    def of(self, inches: float) -> float:
        return round(inches / self.in_inches, 6)


def _plan_unit(report: Report) -> _PlanUnit | None:
    unit = report.plan.length_unit
    return _PlanUnit(unit.value, float(SCALES[unit.value].factor)) if unit is not None and unit.value != Unit.INCH else None


def plain_value(thing: object) -> Any:
    """A record of ``review`` as plain JSON values, lengths in inches."""
    return _value(thing, None)


def _value(thing: Any, unit: _PlanUnit | None) -> Any:
    if isinstance(thing, Enum):
        return thing.value
    if is_dataclass(thing):
        return _object(thing, unit)
    if isinstance(thing, tuple | list):
        return [_value(item, unit) for item in thing]
    if isinstance(thing, Mapping):
        return {key: _value(item, unit) for key, item in thing.items()}
    if isinstance(thing, float):
        return round(thing, 6)
    return str(thing) if isinstance(thing, str) else thing


def _object(thing: Any, unit: _PlanUnit | None) -> dict[str, Any]:
    value = {
        field.name: _value(said, unit)
        for field in fields(thing)
        if (said := getattr(thing, field.name)) is not None and not (said == () and field.name in LEFT_OUT_EMPTY)
    }
    if unit is not None:
        value |= _in_plan_unit(thing, unit)
    return value


def _in_plan_unit(thing: Any, unit: _PlanUnit) -> dict[str, Any]:
    """Lengths and places once more, as the plan's author measures."""
    if isinstance(thing, Measure) and thing.unit is Unit.INCH:
        return {"in_plan_unit": unit.of(thing.value)}
    if isinstance(thing, Where):
        points = {"point_in_plan_unit": thing.point} if thing.point else {}
        ends = {"ends_in_plan_unit": thing.ends} if thing.ends else {}
        return {
            **{name: [unit.of(each) for each in point] for name, point in points.items()},
            **{name: [[unit.of(each) for each in point] for point in pair] for name, pair in ends.items()},
        }
    return {}


LEFT_OUT_EMPTY = frozenset(
    {
        "lines",
        "needs",
        "readings",
        "remedies",
        "related",
        "patch",
        "hazards",
        "cautions",
        "citations",
        "defaults",
        "figures",
        "places",
        "by",
    }
)
