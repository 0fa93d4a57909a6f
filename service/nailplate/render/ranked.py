"""Findings of several plans in one row, most severe first: for outputs of which a reader sees only the beginning."""

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from nailplate.review.checked import Checked
from nailplate.review.report import Finding
from nailplate.rulekit import Severity

_SEVERITIES = list(Severity)
_OUTCOMES = ("violation", "judgement", "undetermined")


class Placed(NamedTuple):
    """A finding and the plan that it is of."""

    checked: Checked
    finding: Finding


def most_severe_first(checked: Sequence[Checked]) -> list[Placed]:
    """Every listed finding; of equal ones those of the first plan stand first."""
    placed = [Placed(each, finding) for each in checked if each.report for finding in each.report.findings]
    return sorted(placed, key=lambda each: rank(each.finding))


def rank(finding: Finding) -> tuple[int, int]:
    """By severity, then what is certain before what is not."""
    return _SEVERITIES.index(finding.severity), _OUTCOMES.index(finding.outcome)


def most_frequent(checked: Sequence[Checked], most: int = 5) -> list[tuple[str, int]]:
    """The rules with the most violations over all plans."""
    counted = Counter(each.finding.rule for each in most_severe_first(checked) if each.finding.outcome == "violation")
    return counted.most_common(most)


def cited_short(finding: Finding) -> str:
    """The first citation, as ``NEC 2023 314.16``; empty where there is none."""
    first = next(iter(finding.citations), None)
    return f"{first.document} {first.edition} {first.section}" if first else ""
