"""What the rules found, before it is put in words: of a plan with thousands of faults a report lists the first, and counts the rest."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

from nailplate.plan import Plan, Pointer
from nailplate.review.engine import Judged
from nailplate.review.findings import finding_of, outcome_name
from nailplate.review.report import Finding, OutcomeName
from nailplate.rulekit import Job, Rule, Severity


@dataclass(slots=True)
class Found:
    """An outcome that makes a finding. ``ordinal`` tells equal facets of one part apart."""

    judged_by: Rule
    severity: Severity
    said: Judged
    ordinal: int

    @property
    def rule(self) -> str:
        """The rule's id, as a finding gives it."""
        return self.judged_by.id

    @property
    def outcome(self) -> OutcomeName:
        """What was seen, as a finding gives it."""
        return outcome_name(self.said.outcome)

    @property
    def pointer(self) -> Pointer:
        """Where the finding is."""
        return getattr(self.said.outcome, "at", None) or self.said.part.pointer

    def finding(self, job: Job) -> Finding:
        """The finding with its words and place."""
        return finding_of(self.judged_by, self.severity, job, self.said, self.ordinal)


Weighed = TypeVar("Weighed", Found, Finding)


def ordered(plan: Plan, findings: Sequence[Weighed]) -> list[Weighed]:
    """Danger first, then what is certain, then by rule and the plan's order; the same every time."""
    if len(findings) < 2:
        return list(findings)
    order = {str(part.pointer): number for number, part in enumerate(plan.parts())}
    severities = {severity: number for number, severity in enumerate(Severity)}
    outcomes: dict[OutcomeName, int] = {"violation": 0, "judgement": 1, "undetermined": 2}

    def rank(finding: Weighed) -> tuple[int, int, str, int]:
        part = "/".join(_pointer(finding).split("/", 3)[:3])
        return severities[finding.severity], outcomes[finding.outcome], finding.rule, order.get(part, -1)

    return sorted(findings, key=rank)


def _pointer(finding: Found | Finding) -> Pointer:
    return finding.pointer if isinstance(finding, Found) else finding.where.pointer
