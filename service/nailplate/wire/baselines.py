"""Baselines in and out: the findings of an earlier report by which later ones are called new.

A baseline is a report, or the short form ``{"baseline_format": 1, "findings": [{"fingerprint", "rule", "pointer", "severity"}]}``;
of several plans ``{"baseline_format": 1, "plans": {NAME: {"findings": [...]}}}``. Errors: ``PlanRefused``.
"""

from collections.abc import Sequence
from typing import Any

from nailplate.plan import ROOT, Fault, FaultCode, PlanRefused, Pointer
from nailplate.review.baseline import Baseline
from nailplate.review.checked import Checked
from nailplate.review.report import BaselineEntry, Report
from nailplate.rulekit import Severity
from nailplate.wire.json_out import text_of

MOST_ENTRIES = 100_000


def read_baseline(value: Any, name: str | None = None) -> Baseline:
    """The baseline that a JSON value is; of one that is of several plans, that of the plan ``name``. Raises PlanRefused."""
    at = ROOT
    if isinstance(value, dict) and isinstance(value.get("plans"), dict):
        value, at = value["plans"].get(name, {"findings": []}), at / "plans" / str(name)
    findings = value.get("findings") if isinstance(value, dict) else None
    if not isinstance(findings, list) or len(findings) > MOST_ENTRIES:
        raise _refused(at / "findings", FaultCode.WRONG_TYPE, "a list of findings was wanted, as a report or a baseline has it")
    entries = [_entry(each, at / "findings" / number) for number, each in enumerate(findings)]
    return {entry.fingerprint: entry for entry in entries}


def _entry(value: Any, at: Pointer) -> BaselineEntry:
    if not isinstance(value, dict) or not isinstance(value.get("fingerprint"), str) or not isinstance(value.get("rule"), str):
        raise _refused(at, FaultCode.WRONG_TYPE, "an object with the texts fingerprint and rule was wanted")
    where = value.get("where")
    pointer = value.get("pointer", where.get("pointer", "") if isinstance(where, dict) else "")
    severity = value.get("severity")
    known = Severity(severity) if severity in list(Severity) else None
    return BaselineEntry(value["fingerprint"], value["rule"], Pointer(pointer if isinstance(pointer, str) else ""), known)


def _refused(at: Pointer, code: FaultCode, detail: str) -> PlanRefused:
    return PlanRefused((Fault(at, code, detail),))


def baseline_value(report: Report) -> dict[str, Any]:
    """The short form of a report's findings."""
    return {
        "findings": [
            {
                "fingerprint": each.fingerprint,
                "rule": each.rule,
                "pointer": str(each.where.pointer),
                "severity": each.severity.value,
            }
            for each in report.findings
        ]
    }


def baselines_json(checked: Sequence[Checked]) -> bytes:
    """The baseline of one plan or several, as a file holds it."""
    plans = {each.name: baseline_value(each.report) for each in checked if each.report is not None}
    value = {"baseline_format": 1, "plans": plans}
    return text_of(value)
