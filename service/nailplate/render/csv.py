"""Findings as a table of comma-separated values (RFC 4180): a row a finding, no cell that a spreadsheet would run."""

import csv as writer
import io
from collections.abc import Iterator, Sequence

from nailplate.render.inert import inert
from nailplate.render.wording import cited
from nailplate.review.checked import Checked
from nailplate.review.report import Finding, Report
from nailplate.units import Measure

COLUMNS = (
    "file",
    "plan",
    "edition",
    "jurisdiction",
    "outcome",
    "severity",
    "rule",
    "message",
    "pointer",
    "label",
    "level",
    "room",
    "x_in",
    "y_in",
    "measured",
    "limit",
    "unit",
    "citations",
    "needs",
    "remedy",
    "hazards",
    "baseline",
    "accepted_by",
    "reason",
    "fingerprint",
)
_FORMULA = ("=", "+", "-", "@", "|", "%", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""The last four are the full-width forms, which some spreadsheets take for the first four."""


def csv(checked: Sequence[Checked]) -> str:
    """The table with its head; a plan that could not be read has a row for each of its faults."""
    text = io.StringIO()
    table = writer.writer(text, lineterminator="\r\n")
    table.writerow(COLUMNS)
    for each in checked:
        table.writerows([safe_cell(cell) for cell in row] for row in _rows(each))
    return text.getvalue()


def safe_cell(value: object) -> str:
    """A cell's text: nothing in it acts, and none begins as a formula does. Plain numbers stay numbers."""
    if isinstance(value, int | float):
        return f"{value:g}"
    text = inert(str(value)) if value is not None else ""
    return f"'{text}" if text.startswith(_FORMULA) else text


def _rows(checked: Checked) -> Iterator[list[object]]:
    for fault in checked.faults:
        yield [checked.name, "", "", "", "unreadable", "", fault.code.value, fault.detail, fault.pointer, *[""] * 16]
    if checked.report:
        for finding in (*checked.report.findings, *checked.report.accepted):
            yield _row(checked.name, checked.report, finding)


def _row(name: str, report: Report, finding: Finding) -> list[object]:
    where, accepted = finding.where, finding.accepted
    figure = finding.measured or finding.limit
    return [
        name,
        report.plan.name,
        report.basis.edition,
        report.basis.jurisdiction,
        "accepted" if accepted else finding.outcome,
        finding.severity.value,
        finding.rule,
        finding.message,
        where.pointer or "/",
        where.label,
        where.level,
        where.room,
        *(where.point or (None, None)),
        _figure(finding.measured),
        _figure(finding.limit),
        figure.unit.value if figure else None,
        "; ".join(cited(each) for each in finding.citations),
        " ".join(finding.needs),
        finding.remedies[0].words if finding.remedies else None,
        "; ".join(finding.hazards),
        finding.baseline,
        accepted.accepted_by if accepted else None,
        accepted.reason if accepted else None,
        finding.fingerprint,
    ]


def _figure(measure: Measure | None) -> float | None:
    return round(measure.value, 6) if measure else None
