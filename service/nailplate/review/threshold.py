"""Which findings fail a check, for an exit code or a test report. The threshold is the caller's, the report is the same."""

from dataclasses import dataclass

from nailplate.review.report import Finding, Report
from nailplate.rulekit import Severity

_ORDER = list(Severity)


@dataclass(frozen=True, slots=True)
class Threshold:
    """Violations of ``fail_at`` and worse fail; so do undecided findings of ``undecided_at`` and worse, None for none of them.

    Against a baseline, only what is new fails.
    """

    fail_at: Severity = Severity.CODE
    undecided_at: Severity | None = None

    def fails(self, finding: Finding) -> bool:
        """Whether a finding is a violation at or over the threshold."""
        return finding.baseline != "unchanged" and finding.outcome == "violation" and _reaches(finding.severity, self.fail_at)

    def undecided(self, finding: Finding) -> bool:
        """Whether a finding that nobody could decide is at or over its threshold."""
        return (
            finding.baseline != "unchanged"
            and finding.outcome != "violation"
            and self.undecided_at is not None
            and _reaches(finding.severity, self.undecided_at)
        )


def _reaches(severity: Severity, least: Severity) -> bool:
    return _ORDER.index(severity) <= _ORDER.index(least)


def nothing_was_checked(report: Report) -> bool:
    """Whether no rule at all could pass or fail a place."""
    return not any(each.passed or each.violations for each in report.coverage.rules)
