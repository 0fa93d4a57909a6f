"""JUnit XML: a suite for each plan, a test case for each rule that had something to judge.

A rule fails where a finding of it is at or over the caller's threshold; what is undecided below it is skipped, so that no runner
counts it as passed. A plan that could not be read, and a rule that failed by itself, is an error.
"""

import re
from collections.abc import Iterable, Sequence
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from nailplate.render.inert import inert
from nailplate.render.lines import finding_line
from nailplate.render.wording import spoke
from nailplate.review.checked import Checked
from nailplate.review.report import Finding, Report, RuleCoverage
from nailplate.review.threshold import Threshold

_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def junit(checked: Sequence[Checked], threshold: Threshold = Threshold()) -> str:  # noqa: B008 - frozen
    """The document."""
    suites = [_suite(each, threshold) for each in checked]
    root = Element("testsuites", {"name": "nailplate", **_totals(suites)})
    root.extend(suites)
    indent(root)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{tostring(root, encoding="unicode")}\n'


_COUNTS = ("tests", "failures", "errors", "skipped")


def _totals(suites: Iterable[Element]) -> dict[str, str]:
    listed = list(suites)
    return {name: str(sum(int(suite.attrib[name]) for suite in listed)) for name in _COUNTS}


def _suite(checked: Checked, threshold: Threshold) -> Element:
    cases = _cases(checked, checked.report, threshold) if checked.report else [_unreadable(checked)]
    counts = {
        "tests": len(cases),
        "failures": sum(case.find("failure") is not None for case in cases),
        "errors": sum(case.find("error") is not None for case in cases),
        "skipped": sum(case.find("skipped") is not None for case in cases),
    }
    suite = Element("testsuite", {"name": _clean(checked.name), **{name: str(number) for name, number in counts.items()}})
    suite.extend(cases)
    return suite


def _unreadable(checked: Checked) -> Element:
    case = Element("testcase", {"classname": "plan", "name": "readable", "file": _clean(checked.name)})
    words = [f"{fault.pointer or '/'}: {fault.detail}" for fault in checked.faults]
    _say(case, "error", words[0] if words else "unreadable", words)
    return case


def _cases(checked: Checked, report: Report, threshold: Threshold) -> list[Element]:
    found: dict[str, list[Finding]] = {}
    for finding in report.findings:
        found.setdefault(finding.rule, []).append(finding)
    ran = {each.rule: each for each in spoke(report.coverage)}
    names = [*ran, *(rule for rule in found if rule not in ran)]
    return [_case(checked, name, ran.get(name), found.get(name, []), threshold) for name in names]


def _case(checked: Checked, rule: str, coverage: RuleCoverage | None, findings: list[Finding], threshold: Threshold) -> Element:
    case = Element("testcase", {"classname": _clean(checked.name), "name": rule, "file": _clean(checked.name)})
    failing = [each for each in findings if threshold.fails(each) or threshold.undecided(each)]
    open_ones = [each for each in findings if each.outcome != "violation" and each not in failing]
    rest = [each for each in findings if each not in failing and each not in open_ones]
    if coverage and coverage.crashed:
        _say(case, "error", "the rule failed by a fault of its own", [])
    elif failing:
        lines = [finding_line(checked, each) for each in failing]
        _say(case, "failure", f"{len(failing)}: {failing[0].message}", lines, failing[0].severity.value)
        rest = [*open_ones, *rest]
    elif open_ones:
        _say(case, "skipped", f"{len(open_ones)} not decided: {open_ones[0].message}", [])
        rest = [*open_ones, *rest]
    if rest:
        SubElement(case, "system-out").text = _clean("\n".join(finding_line(checked, each) for each in rest))
    return case


def _say(case: Element, what: str, message: str, lines: list[str], kind: str | None = None) -> None:
    element = SubElement(case, what, {"message": _clean(inert(message)), **({"type": kind} if kind else {})})
    if lines:
        element.text = _clean("\n".join(lines))


def _clean(text: str) -> str:
    """Text that XML 1.0 can hold (2.2)."""
    return _NOT_XML.sub("\ufffd", text)
