"""Findings that somebody accepted. Danger is never accepted away, and a suppression that does nothing is itself a finding."""

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import replace

from nailplate.plan import Plan, Suppression
from nailplate.review.report import Accepted, Finding, Where
from nailplate.rulekit import Severity

RULE = "suppression-holds"
_TITLE = "A suppression matches a finding, has not expired, and accepts no danger."


def settled(
    plan: Plan, findings: Sequence[Finding], today: str | None, not_run: AbstractSet[str] = frozenset()
) -> tuple[list[Finding], list[Finding]]:
    """The findings that stand, those accepted, and among the first what is wrong with the suppressions themselves.

    ``today`` is an ISO date; without it no suppression with a last day holds. Of the rules in ``not_run``
    nothing is known, so nothing is said against their suppressions.
    """
    holding = {(each.rule, each.part): each for each in plan.suppressions.values() if not _expired(each, today)}
    standing, accepted = [], []
    for finding in findings:
        suppression = _match(holding, finding)
        if suppression is None or finding.severity is Severity.DANGER:
            standing.append(finding)
        else:
            accepted.append(replace(finding, accepted=_acceptance(suppression)))
    return [*standing, *_faults(plan, findings, today, not_run)], accepted


def _match(holding: dict[tuple[str, str], Suppression], finding: Finding) -> Suppression | None:
    members = finding.where.pointer.members
    part = "".join(f"/{member}" for member in members[:2])
    return holding.get((finding.rule, part)) or holding.get((finding.rule, str(finding.where.pointer)))


def _expired(suppression: Suppression, today: str | None) -> bool:
    """A suppression holds through its last day."""
    return suppression.knows("until") and (today is None or suppression.until < today)


def _acceptance(suppression: Suppression) -> Accepted:
    until = suppression.until if suppression.knows("until") else None
    return Accepted(suppression.id, suppression.reason, suppression.accepted_by, until)


def _faults(plan: Plan, findings: Iterable[Finding], today: str | None, not_run: AbstractSet[str]) -> Iterator[Finding]:
    listed = list(findings)
    for suppression in plan.suppressions.values():
        message = _wrong(suppression, listed, today)
        if message and suppression.rule not in not_run:
            yield _finding(suppression, message)


def _wrong(suppression: Suppression, findings: list[Finding], today: str | None) -> str | None:
    matched = [finding for finding in findings if _match({(suppression.rule, suppression.part): suppression}, finding)]
    if not matched:
        return f"No finding of {suppression.rule} at {suppression.part}: this suppression accepts nothing."
    if any(finding.severity is Severity.DANGER for finding in matched):
        return f"{suppression.rule} is a danger here; it cannot be accepted, and the finding stands."
    if _expired(suppression, today):
        return f"This suppression ended on {suppression.until}; the finding stands again."
    return None


def _finding(suppression: Suppression, message: str) -> Finding:
    digest = hashlib.sha256(f"{RULE}\x1f{suppression.pointer}".encode()).hexdigest()[:20]
    return Finding(
        fingerprint=f"np1-{digest}",
        rule=RULE,
        title=_TITLE,
        outcome="violation",
        severity=Severity.ADVICE,
        message=message,
        where=Where(suppression.pointer, (suppression.id,)),
    )
