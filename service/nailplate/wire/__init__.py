"""The only room that knows JSON shapes: bytes in, plans out; reports in, bytes out."""

from nailplate.calculations import CALCULATIONS
from nailplate.wire.calculations import calculate, calculation_schemas
from nailplate.wire.json_schema import plan_schema
from nailplate.wire.json_text import NotJson, read_json
from nailplate.wire.reading import plan_digest, read_plan, read_plan_value
from nailplate.wire.report import report_json, report_value, text_of
from nailplate.wire.report_schema import report_schema

__all__ = [
    "CALCULATIONS",
    "NotJson",
    "calculate",
    "calculation_schemas",
    "plan_digest",
    "plan_schema",
    "read_json",
    "read_plan",
    "read_plan_value",
    "report_json",
    "report_schema",
    "report_value",
    "text_of",
]
