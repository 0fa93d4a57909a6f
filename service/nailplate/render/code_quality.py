"""A code quality report: the list of issues that merge requests show, each with a fingerprint of its own in each file."""

import hashlib
import json
from collections.abc import Iterator, Sequence
from typing import Any

from nailplate.render.inert import inert
from nailplate.review.checked import Checked
from nailplate.review.report import Finding
from nailplate.rulekit import Severity

_VIOLATIONS = {Severity.DANGER: "blocker", Severity.CODE: "major", Severity.ADVICE: "info"}
_UNDECIDED = {Severity.DANGER: "major", Severity.CODE: "minor", Severity.ADVICE: "info"}


def code_quality(checked: Sequence[Checked]) -> str:
    """The issues as JSON."""
    return json.dumps([issue for each in checked for issue in _issues(each)], indent=2) + "\n"


def _issues(checked: Checked) -> Iterator[dict[str, Any]]:
    for fault in checked.faults:
        told = f"{fault.pointer}: {fault.detail}"
        yield _issue(checked, "unreadable-plan", told, "blocker", fault.pointer, f"{fault.code} {fault.pointer}")
    for finding in checked.report.findings if checked.report else ():
        words = f"{finding.message} ({finding.where.pointer or '/'})"
        yield _issue(checked, finding.rule, words, _severity(finding), finding.where.pointer, finding.fingerprint)


def _issue(checked: Checked, rule: str, words: str, severity: str, pointer: Any, told_apart_by: str) -> dict[str, Any]:
    region = checked.locate(pointer)
    return {
        "type": "issue",
        "check_name": rule,
        "description": inert(words),
        "categories": ["Bug Risk"],
        "severity": severity,
        "fingerprint": hashlib.sha256(f"{checked.name}\x1f{told_apart_by}".encode()).hexdigest()[:40],
        "location": {"path": checked.name, "lines": {"begin": region.line, "end": region.end_line}},
    }


def _severity(finding: Finding) -> str:
    return (_VIOLATIONS if finding.outcome == "violation" else _UNDECIDED)[finding.severity]
