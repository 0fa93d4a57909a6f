"""The missing facts to state first: those that most findings wait for."""

from collections import Counter
from collections.abc import Iterable

from nailplate.plan import Pointer
from nailplate.review.report import Finding, Wanted

_MOST_WANTED = 10


def most_wanted(findings: Iterable[Finding]) -> list[tuple[Pointer, int]]:
    """The missing facts that several findings wait for, those first that most of them do."""
    counted = Counter(need for finding in findings for need in finding.needs)
    return [(need, times) for need, times in counted.most_common(_MOST_WANTED) if times > 1]


def state_first(findings: Iterable[Finding]) -> tuple[Wanted, ...]:
    """The same as a part of the report."""
    return tuple(Wanted(need, times) for need, times in most_wanted(findings))
