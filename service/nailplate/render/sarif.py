"""SARIF 2.1.0 (OASIS): violations as ``fail``, missing facts as ``open``, what the authority decides as ``review``.

Only ``fail`` has a level (3.27.10). A place is a JSON Pointer, and line and column of the part in the file. Sections of the codes
are taxa, accepted findings are suppressed results, and a result's identity is the report's own fingerprint.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from nailplate import __version__
from nailplate.render.inert import address
from nailplate.review.checked import Checked, Region
from nailplate.review.report import BaselineEntry, Citation, Finding
from nailplate.rulekit import Rule, Severity

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_LEVELS = {Severity.DANGER: "error", Severity.CODE: "error", Severity.ADVICE: "note"}
_RANKS = {Severity.DANGER: 95.0, Severity.CODE: 60.0, Severity.ADVICE: 20.0}
_KINDS = {"violation": "fail", "undetermined": "open", "judgement": "review"}


def sarif(checked: Sequence[Checked], rules: Mapping[str, Rule]) -> str:
    """One run over all plans. ``rules`` are those in force, by id."""
    run = _Run(checked, rules)
    value = {"$schema": SCHEMA, "version": "2.1.0", "runs": [run.value()]}
    return json.dumps(value, indent=2) + "\n"


class _Run:
    """One run, with the indexes that its parts refer to each other by."""

    def __init__(self, checked: Sequence[Checked], rules: Mapping[str, Rule]) -> None:
        self._checked = checked
        self._rules = rules
        self._rule_ids = sorted({finding.rule for finding in _all(checked)} | {entry.rule for entry in _absent(checked)})
        self._rule_index = {rule_id: number for number, rule_id in enumerate(self._rule_ids)}
        taxa = sorted(
            {(f"{each.document} {each.edition}", each.section) for finding in _all(checked) for each in finding.citations}
        )
        self._sections: dict[str, list[str]] = {}
        for document, section in taxa:
            self._sections.setdefault(document, []).append(section)
        self._documents = list(self._sections)

    def value(self) -> dict[str, Any]:
        results = [result for index, each in enumerate(self._checked) for result in self._results(index, each)]
        readable = all(each.report is not None for each in self._checked)
        return {
            "tool": {"driver": self._driver()},
            "taxonomies": [self._taxonomy(name) for name in self._documents],
            "columnKind": "unicodeCodePoints",
            "artifacts": [{"location": _artifact(each), "sourceLanguage": "json"} for each in self._checked],
            "invocations": [{"executionSuccessful": readable, "toolExecutionNotifications": list(self._notifications())}],
            "results": results,
        }

    def _driver(self) -> dict[str, Any]:
        return {
            "name": "nailplate",
            "version": __version__,
            "semanticVersion": __version__,
            "rules": [self._rule(rule_id) for rule_id in self._rule_ids],
            "supportedTaxonomies": [{"name": name, "index": index} for index, name in enumerate(self._documents)],
        }

    def _rule(self, rule_id: str) -> dict[str, Any]:
        rule = self._rules.get(rule_id)
        if rule is None:
            return {"id": rule_id}
        value: dict[str, Any] = {
            "id": rule_id,
            "shortDescription": {"text": rule.title},
            "fullDescription": {"text": rule.why or rule.title},
            "help": {"text": rule.fix or rule.title},
            "defaultConfiguration": {"level": _LEVELS[rule.severity], "rank": _RANKS[rule.severity]},
            "properties": {"severity": rule.severity.value, "tags": [rule.family] if rule.family else []},
        }
        return value

    def _taxonomy(self, name: str) -> dict[str, Any]:
        taxa = [{"id": section} for section in self._sections[name]]
        return {"name": name, "version": name.rpartition(" ")[2], "isComprehensive": False, "taxa": taxa}

    def _taxon(self, citation: Citation) -> dict[str, Any]:
        name = f"{citation.document} {citation.edition}"
        return {
            "id": citation.section,
            "index": self._sections[name].index(citation.section),
            "toolComponent": {"name": name, "index": self._documents.index(name)},
            "properties": {"textStatus": citation.text_status.value},
        }

    def _results(self, index: int, checked: Checked) -> Iterator[dict[str, Any]]:
        if checked.report is None:
            return
        for finding in (*checked.report.findings, *checked.report.accepted):
            yield self._result(index, checked, finding)
        for entry in checked.report.baseline.absent if checked.report.baseline else ():
            yield self._gone(index, checked, entry)

    def _result(self, index: int, checked: Checked, finding: Finding) -> dict[str, Any]:
        kind = _KINDS[finding.outcome]
        value: dict[str, Any] = {
            "ruleId": finding.rule,
            "ruleIndex": self._rule_index[finding.rule],
            "kind": kind,
            "level": _LEVELS[finding.severity] if kind == "fail" else "none",
            "rank": _RANKS[finding.severity],
            "message": {"text": finding.message},
            "locations": [_location(index, checked, finding)],
            "partialFingerprints": {"findingId/v1": finding.fingerprint},
            "suppressions": [_suppression(finding)] if finding.accepted else [],
            "taxa": [self._taxon(citation) for citation in finding.citations],
            "properties": _properties(finding),
        }
        related = [_related(index, checked, number, pointer) for number, pointer in enumerate(finding.where.related)]
        value |= {"relatedLocations": related} if related else {}
        return {**value, "baselineState": finding.baseline} if finding.baseline else value

    def _gone(self, index: int, checked: Checked, entry: BaselineEntry) -> dict[str, Any]:
        return {
            "ruleId": entry.rule,
            "ruleIndex": self._rule_index[entry.rule],
            "kind": "informational",
            "level": "none",
            "message": {"text": f"No longer found at {entry.pointer or '/'}."},
            "locations": [_place(index, checked, entry.pointer)],
            "partialFingerprints": {"findingId/v1": entry.fingerprint},
            "suppressions": [],
            "baselineState": "absent",
        }

    def _notifications(self) -> Iterator[dict[str, Any]]:
        for index, each in enumerate(self._checked):
            for fault in each.faults:
                yield {
                    "descriptor": {"id": fault.code.value},
                    "level": "error",
                    "message": {"text": f"{fault.pointer or '/'}: {fault.detail}"},
                    "locations": [_place(index, each, fault.pointer)],
                }
            for coverage in each.report.coverage.rules if each.report else ():
                if coverage.crashed:
                    yield {
                        "descriptor": {"id": "rule-failed"},
                        "level": "error",
                        "message": {"text": f"The rule {coverage.rule} failed at {coverage.crashed} places of {each.name}."},
                    }


def _all(checked: Sequence[Checked]) -> Iterator[Finding]:
    for each in checked:
        if each.report:
            yield from (*each.report.findings, *each.report.accepted)


def _absent(checked: Sequence[Checked]) -> Iterator[BaselineEntry]:
    for each in checked:
        if each.report and each.report.baseline:
            yield from each.report.baseline.absent


def _artifact(checked: Checked, index: int | None = None) -> dict[str, Any]:
    uri = address(checked.name)
    base = {} if uri.startswith("file:") else {"uriBaseId": "%SRCROOT%"}
    return {"uri": uri, **base, **({} if index is None else {"index": index})}


def _location(index: int, checked: Checked, finding: Finding) -> dict[str, Any]:
    place = _place(index, checked, finding.where.pointer)
    return {**place, "message": {"text": finding.where.label}} if finding.where.label else place


def _place(index: int, checked: Checked, pointer: Any) -> dict[str, Any]:
    region: Region = checked.locate(pointer)
    return {
        "physicalLocation": {
            "artifactLocation": _artifact(checked, index),
            "region": {
                "startLine": region.line,
                "startColumn": region.column,
                "endLine": region.end_line,
                "endColumn": region.end_column,
            },
        },
        "logicalLocations": [
            {"name": next(reversed(pointer.members), ""), "fullyQualifiedName": str(pointer), "kind": "object"}
        ],
    }


def _related(index: int, checked: Checked, number: int, pointer: Any) -> dict[str, Any]:
    return {"id": number, **_place(index, checked, pointer)}


def _suppression(finding: Finding) -> dict[str, Any]:
    accepted = finding.accepted
    if accepted is None:
        return {}
    until = {"until": accepted.until} if accepted.until else {}
    return {
        "kind": "inSource",
        "status": "accepted",
        "justification": accepted.reason,
        "properties": {"acceptedBy": accepted.accepted_by, **until},
    }


def _properties(finding: Finding) -> dict[str, Any]:
    where = finding.where
    said: dict[str, Any] = {
        "severity": finding.severity.value,
        "outcome": finding.outcome,
        "hazards": list(finding.hazards),
        "cautions": list(finding.cautions),
        "needs": [str(need) for need in finding.needs],
        "remedies": [each.words for each in finding.remedies],
        "patches": [[_operation(each) for each in remedy.patch] for remedy in finding.remedies if remedy.patch],
        "readings": [{"words": each.words, "gives": each.gives} for each in finding.readings],
        "room": where.room,
        "level": where.level,
        "point": list(where.point) if where.point else None,
    }
    for name, measure in (("measured", finding.measured), ("limit", finding.limit)):
        if measure:
            said[name] = {"value": round(measure.value, 6), "unit": measure.unit.value}
    return {name: value for name, value in said.items() if value not in (None, [])}


def _operation(operation: Any) -> dict[str, Any]:
    value = {} if operation.value is None else {"value": operation.value}
    return {"op": operation.op, "path": str(operation.path), **value}
