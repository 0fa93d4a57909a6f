"""A comparison as JSON, and its published schema."""

from typing import Any

from nailplate.review.comparing import Comparison
from nailplate.wire.json_out import text_of
from nailplate.wire.report import plain_value
from nailplate.wire.report_schema import schema_of_records


def comparison_value(comparison: Comparison) -> dict[str, Any]:
    """The comparison as plain JSON values, its fields in the order of their classes."""
    value = plain_value(comparison)
    return {"comparison_format": value.pop("comparison_format"), **value}


def comparison_json(comparison: Comparison) -> bytes:
    """The comparison's bytes, UTF-8 with a closing newline."""
    return text_of(comparison_value(comparison))


def comparison_schema() -> dict[str, Any]:
    """The published schema of comparison format 1. Readers ignore fields they don't know."""
    return schema_of_records(Comparison, "comparison-1", "nailplate comparison, format 1")
