"""A report as JSON: the same report, the same bytes. Facts that a report does not have are left out, never null."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, is_dataclass
from enum import Enum
from typing import Any

from nailplate.review import Report
from nailplate.review.report import Finding, Where
from nailplate.units import SCALES, Measure, Unit
from nailplate.wire.json_out import text_of


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
    kind = type(thing)
    if kind in _AS_IT_IS:
        return thing
    return (_WAYS.get(kind) or _way(kind))(thing, unit)


_Way = Callable[[Any, _PlanUnit | None], Any]
_AS_IT_IS = frozenset({str, int, bool})
_WAYS: dict[type, _Way] = {}


def _way(kind: type) -> _Way:
    """How things of a kind are said, found out at the first of them: a report holds thousands of few kinds."""
    _WAYS[kind] = _found_way(kind)
    return _WAYS[kind]


def _found_way(kind: type) -> _Way:
    if issubclass(kind, Enum):
        return lambda thing, unit: thing.value
    if is_dataclass(kind):
        return _object_way(kind)
    if issubclass(kind, tuple | list):
        return lambda thing, unit: [_value(item, unit) for item in thing]
    if issubclass(kind, Mapping):
        return lambda thing, unit: {key: _value(item, unit) for key, item in thing.items()}
    if issubclass(kind, float):
        return lambda thing, unit: round(thing, 6)
    return lambda thing, unit: str(thing) if isinstance(thing, str) else thing


def _object_way(kind: type) -> _Way:
    names = tuple((field.name, field.name in LEFT_OUT_EMPTY) for field in fields(kind))
    in_two_units = issubclass(kind, Measure | Where)

    def way(thing: Any, unit: _PlanUnit | None) -> dict[str, Any]:
        value = {}
        for name, left_out_empty in names:
            said = getattr(thing, name)
            if said is not None and not (left_out_empty and said == ()):
                value[name] = said if type(said) in _AS_IT_IS else _value(said, unit)
        return {**value, **_in_plan_unit(thing, unit)} if in_two_units and unit is not None else value

    return way


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
