"""The report as JSON Schema 2020-12, made out of the report's own classes; a test holds real reports against it."""

import types
from dataclasses import MISSING, fields, is_dataclass
from enum import Enum
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from nailplate.review import Report
from nailplate.wire.json_schema import published_schema
from nailplate.wire.report import LEFT_OUT_EMPTY
from nailplate.wire.report_words import described_field


def report_schema() -> dict[str, Any]:
    """The published schema of report format 1. Readers ignore fields they don't know."""
    return schema_of_records(Report, "report-1", "nailplate report, format 1")


def schema_of_records(kind: type, name: str, title: str) -> dict[str, Any]:
    """The published schema of a record of ``review`` and of all that it holds."""
    definitions: dict[str, Any] = {}
    return published_schema(name, title, described_class(kind, definitions), definitions)


def described_class(kind: type, definitions: dict[str, Any]) -> dict[str, Any]:
    """The schema of a record of ``review``; those it holds are added to ``definitions``."""
    hints = get_type_hints(kind)
    schemas = {field.name: _schema(hints[field.name], definitions) for field in fields(kind)} | _ALSO.get(kind.__name__, {})
    properties = {name: described_field(kind.__name__, name, schema) for name, schema in schemas.items()}
    always = [
        field.name
        for field in fields(kind)
        if field.name not in LEFT_OUT_EMPTY
        and not _may_be_none(hints[field.name])
        and (field.default is MISSING or field.default is not None)
    ]
    return {
        "type": "object",
        "description": " ".join((kind.__doc__ or "").split()),
        "properties": properties,
        "required": always,
    }


_POINT = {"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2}
_ALSO: dict[str, dict[str, Any]] = {
    "Measure": {"in_plan_unit": {"type": "number"}},
    "Where": {"point_in_plan_unit": _POINT, "ends_in_plan_unit": {"type": "array", "items": _POINT}},
}
"""What ``report`` writes beside the fields of a class."""


def _may_be_none(hint: Any) -> bool:
    return type(None) in get_args(hint) or hint is object


def _schema(hint: Any, definitions: dict[str, Any]) -> dict[str, Any]:
    origin, inner = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        return _schema(next(each for each in inner if each is not type(None)), definitions)
    if origin is Literal:
        return {"enum": list(inner)}
    if origin is tuple:
        return {"type": "array", "items": _schema(inner[0], definitions)}
    if is_dataclass(hint) and isinstance(hint, type):
        if hint.__name__ not in definitions:
            definitions[hint.__name__] = {}
            definitions[hint.__name__] = described_class(hint, definitions)
        return {"$ref": f"#/$defs/{hint.__name__}"}
    if isinstance(hint, type) and issubclass(hint, Enum):
        return {"enum": [member.value for member in hint]}
    return _plain(hint)


def _plain(hint: Any) -> dict[str, Any]:
    names = {bool: "boolean", int: "integer", float: "number"}
    if hint is object:
        return {}
    return {"type": names.get(hint, "string")}
