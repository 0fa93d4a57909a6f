"""A report as JSON: the same report, the same bytes. Facts that a report does not have are left out, never null."""

import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from typing import Any

from nailplate.review import Report


def report_value(report: Report) -> dict[str, Any]:
    """The report as plain JSON values, its fields in the order of their classes."""
    value = _value(report)
    return {"report_format": value.pop("report_format"), **value}


def report_json(report: Report) -> bytes:
    """The report's bytes, UTF-8 with a closing newline."""
    return text_of(report_value(report))


def text_of(value: object) -> bytes:
    """A JSON value as the service writes it."""
    return (json.dumps(value, ensure_ascii=False, indent=2) + "\n").encode()


def _value(thing: Any) -> Any:
    if isinstance(thing, Enum):
        return thing.value
    if is_dataclass(thing):
        return {
            field.name: _value(said)
            for field in fields(thing)
            if (said := getattr(thing, field.name)) is not None and not (said == () and field.name in LEFT_OUT_EMPTY)
        }
    if isinstance(thing, tuple | list):
        return [_value(item) for item in thing]
    if isinstance(thing, Mapping):
        return {key: _value(item) for key, item in thing.items()}
    if isinstance(thing, float):
        return round(thing, 6)
    return str(thing) if isinstance(thing, str) else thing


LEFT_OUT_EMPTY = frozenset({"lines", "needs", "readings", "remedies", "related", "patch", "hazards", "cautions", "citations"})
