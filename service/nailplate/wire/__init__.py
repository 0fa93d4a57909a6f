"""The only room that knows JSON shapes: bytes in, plans out; reports in, bytes out."""

from nailplate.calculations import CALCULATIONS
from nailplate.wire.baselines import baselines_json, read_baseline
from nailplate.wire.calculations import calculate, calculation_schemas
from nailplate.wire.comparison import comparison_json, comparison_schema, comparison_value
from nailplate.wire.guarded import guarded
from nailplate.wire.json_out import text_of
from nailplate.wire.json_schema import plan_schema
from nailplate.wire.json_text import NotJson, read_json
from nailplate.wire.judging import report_on
from nailplate.wire.positions import Positions
from nailplate.wire.reading import plan_digest, read_plan, read_plan_value
from nailplate.wire.report import report_json, report_value
from nailplate.wire.report_schema import report_schema
from nailplate.wire.resolving import resolved

__all__ = [
    "CALCULATIONS",
    "NotJson",
    "Positions",
    "baselines_json",
    "calculate",
    "calculation_schemas",
    "comparison_json",
    "comparison_schema",
    "comparison_value",
    "guarded",
    "plan_digest",
    "plan_schema",
    "read_baseline",
    "read_json",
    "read_plan",
    "read_plan_value",
    "report_json",
    "report_on",
    "report_schema",
    "report_value",
    "resolved",
    "text_of",
]
