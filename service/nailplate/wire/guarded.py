"""Patches that a stale plan refuses: what a remedy replaces or takes away is tested first (RFC 6902, 4.6)."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from nailplate.plan import Pointer
from nailplate.review import Report
from nailplate.review.report import Finding
from nailplate.rulekit import Operation, Remedy

_ABSENT = object()


def guarded(report: Report, document: Any) -> Report:
    """The report with a ``test`` operation before each one that replaces or removes what stands in ``document``.

    That nothing stands yet where a part is added cannot be tested; who applies a patch looks there.
    """
    return replace(
        report,
        findings=tuple(_finding(each, document) for each in report.findings),
        accepted=tuple(_finding(each, document) for each in report.accepted),
    )


def _finding(finding: Finding, document: Any) -> Finding:
    if not any(remedy.patch for remedy in finding.remedies):
        return finding
    return replace(finding, remedies=tuple(_remedy(remedy, document) for remedy in finding.remedies))


def _remedy(remedy: Remedy, document: Any) -> Remedy:
    return replace(remedy, patch=(*_tests(remedy, document), *remedy.patch)) if remedy.patch else remedy


def _tests(remedy: Remedy, document: Any) -> Iterator[Operation]:
    """Of the plan as it was checked; what the patch itself adds first is no matter of the plan."""
    made: list[str] = []
    for each in remedy.patch:
        if each.op == "add":
            made.append(each.path)
        elif not any(each.path == path or each.path.startswith(f"{path}/") for path in made):
            value = found_at(document, each.path)
            if value is not _ABSENT:
                yield Operation("test", each.path, value)


def found_at(document: Any, pointer: Pointer) -> Any:
    """The value at a pointer, or a mark of our own where there is none."""
    for member in pointer.members:
        if isinstance(document, dict) and member in document:
            document = document[member]
        elif isinstance(document, list) and member.isdigit() and int(member) < len(document):
            document = document[int(member)]
        else:
            return _ABSENT
    return document


def stands_at(document: Any, pointer: Pointer) -> bool:
    """Whether anything stands at a pointer."""
    return found_at(document, pointer) is not _ABSENT
