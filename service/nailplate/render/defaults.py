"""The author's own defaults as reports list them."""

import json

from nailplate.review.report import DefaultStamp, Report

LEAD = "Stated once for many parts by this plan's author; a part's own fact goes before them."


def default_lines(report: Report) -> list[tuple[str, str]]:
    """The pointer of each default, and what it says of how many parts."""
    return [(each.pointer, _said(each)) for each in report.defaults]


def _said(default: DefaultStamp) -> str:
    value = default.value if isinstance(default.value, str) else json.dumps(default.value, ensure_ascii=False)
    parts = "1 part" if default.parts == 1 else f"{default.parts} parts" if default.parts else "no part takes it"
    return f"{value} ({parts})"
