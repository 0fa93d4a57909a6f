"""Findings of one cause: those that one and the same act corrects, such as a GFCI breaker that five places lack."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from hashlib import sha256

from nailplate.review.report import Finding, Group
from nailplate.rulekit import Remedy


def grouped(findings: Sequence[Finding]) -> tuple[tuple[Finding, ...], tuple[Group, ...]]:
    """The findings in their order, each with its cause where it shares one, and the groups, largest first.

    Findings share a cause where a remedy of each changes the plan in the same way. One that shares several is in the group that
    holds most; of equals, in that of its earlier remedy.
    """
    counted = Counter(act for finding in findings for act in _acts(finding))
    of = {finding.fingerprint: act for finding in findings if (act := _shared(finding, counted))}
    together = Counter(of.values())
    told = tuple(
        replace(finding, cause=_name(shared)) if (shared := of.get(finding.fingerprint)) and together[shared] > 1 else finding
        for finding in findings
    )
    return told, tuple(_group(act, told) for act, number in together.most_common() if number > 1)


def _group(act: str, findings: Sequence[Finding]) -> Group:
    members = [finding for finding in findings if finding.cause == _name(act)]
    remedy = next(remedy for remedy in members[0].remedies if _act(remedy) == act)
    return Group(_name(act), remedy, tuple(finding.fingerprint for finding in members))


def _shared(finding: Finding, counted: Counter[str]) -> str:
    shared = [act for act in _acts(finding) if counted[act] > 1]
    return max(shared, key=lambda act: counted[act], default="")


def _acts(finding: Finding) -> list[str]:
    return list(dict.fromkeys(act for remedy in finding.remedies if (act := _act(remedy))))


def _act(remedy: Remedy) -> str:
    return "\n".join(f"{each.op} {each.path} {each.value!r}" for each in remedy.patch)


def _name(act: str) -> str:
    return f"npc1-{sha256(act.encode()).hexdigest()[:12]}"
