"""Findings against those of an earlier report: new, unchanged, or gone. They are told apart by fingerprint alone."""

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import replace

from nailplate.review.report import BaselineEntry, BaselineStamp, Finding

Baseline = Mapping[str, BaselineEntry]
"""Fingerprint to what an earlier report said there."""


def compared(
    findings: Sequence[Finding], accepted: Sequence[Finding], baseline: Baseline | None, not_run: AbstractSet[str]
) -> tuple[list[Finding], list[Finding], BaselineStamp | None]:
    """The findings and those accepted, each marked new or unchanged, and the count with the entries that are gone.

    Accepted findings are still there; of the rules that did not run nothing is known, so their entries are not called gone.
    """
    if baseline is None:
        return list(findings), list(accepted), None
    marked, settled = ([_marked(each, baseline) for each in some] for some in (findings, accepted))
    there = {each.fingerprint for each in (*findings, *accepted)}
    absent = tuple(entry for entry in baseline.values() if entry.fingerprint not in there and entry.rule not in not_run)
    new = sum(each.baseline == "new" for each in marked)
    return marked, settled, BaselineStamp(new=new, unchanged=len(marked) - new, absent=absent)


def _marked(finding: Finding, baseline: Baseline) -> Finding:
    return replace(finding, baseline="unchanged" if finding.fingerprint in baseline else "new")
