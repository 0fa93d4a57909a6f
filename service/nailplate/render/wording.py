"""What every form of a report's page says alike: verdicts, the class that was checked, and what is told together."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from nailplate.plan import Pointer
from nailplate.review.report import Citation, Coverage, Finding, Report, RuleCoverage
from nailplate.review.wanted import most_wanted
from nailplate.rulekit import Remedy
from nailplate.units import shown

VERDICTS = {
    "violations": "Something has to be corrected before cover-up.",
    "incomplete": "Not settled: nothing against the code was found, but not everything could be decided.",
    "clear": "Nothing against the code was found in what was checked. Read below what was not.",
}
CHECKED_AS = {
    "dwelling": "a dwelling unit",
    "recreational_vehicle": "a recreational vehicle",
    "park_trailer": "a park trailer",
    "manufactured_home": "a manufactured home",
    "not_a_dwelling": "no dwelling unit",
    "undecided": "a dwelling unit, since its class is not decided",
}

__all__ = [
    "CHECKED_AS",
    "VERDICTS",
    "behind",
    "cited",
    "figures",
    "left_out",
    "most_wanted",
    "own_remedies",
    "places",
    "provenance",
    "shared_remedies",
    "shared_words",
    "silent",
    "spoke",
    "together",
]


def cited(citation: Citation) -> str:
    """A citation for people, with how sure it is."""
    return f"{citation.document} {citation.edition} {citation.section} ({citation.text_status.value})"


def provenance(report: Report) -> str:
    """Which version and packs made the report, when, and of which plan."""
    version = f"nailplate {report.made.version}" if report.made else "nailplate"
    date = f" on {report.made.date}" if report.made and report.made.date else ""
    packs = ", ".join(f"{pack.name} {pack.version}" for pack in report.basis.packs)
    return f"made by {version}{date}; rule packs: {packs}" + (f"; plan {report.plan.digest}" if report.plan.digest else "")


def together(findings: Sequence[Finding]) -> Iterator[list[Finding]]:
    """Findings as they are told, each once: under one head what one rule cannot decide in many places, and what one act fixes.

    Everything else stands alone. Where findings of one rule are of several heads, those of one head are told one after the other.
    """
    for _, alike in groupby(findings, key=lambda finding: (finding.rule, finding.severity, finding.outcome)):
        heads: dict[object, list[Finding]] = {}
        for number, finding in enumerate(alike):
            heads.setdefault(_head(number, finding), []).append(finding)
        yield from heads.values()


def _head(number: int, finding: Finding) -> object:
    if finding.lines or finding.accepted is not None or finding.outcome == "judgement":
        return number
    if finding.outcome == "undetermined":
        return None
    return finding.cause or (_patched(finding.remedies[0]) if finding.remedies else ()) or number


def figures(finding: Finding) -> str | None:
    """What was measured and required, as the plan's author measures; None where there are not both."""
    if finding.figures_shown or not (finding.measured and finding.limit):
        return finding.figures_shown
    return f"measured {shown(finding.measured)}, limit {shown(finding.limit)}"


def behind(finding: Finding, mark: str = "") -> str:
    """What stands behind a message in a line: its figures, and what would settle it."""
    both = figures(finding)
    told = f" {both[0].upper()}{both[1:]}." if both else ""
    needs = f" Would be settled by {', '.join(f'{mark}{need}{mark}' for need in finding.needs)}." if finding.needs else ""
    return told + needs


def _patched(remedy: Remedy) -> tuple[str, ...]:
    """What a remedy changes in the plan: two that change the same are one act, whatever their words name beside it."""
    return tuple(f"{each.op} {each.path} {each.value!r}" for each in remedy.patch)


def shared_remedies(group: Sequence[Finding]) -> list[Remedy]:
    """The remedies that put every finding of a group right at once, in the words of the first."""
    others = [{_patched(remedy) for remedy in finding.remedies} for finding in group[1:]]
    return [each for each in group[0].remedies if each.patch and all(_patched(each) in there for there in others)]


def shared_words(shared: Sequence[Remedy]) -> Iterator[str]:
    """The remedies of a group as they are told."""
    for number, remedy in enumerate(shared):
        yield f"{'or all of them' if number else 'correct all of them'}: {remedy.words}"


def own_remedies(finding: Finding, shared: Iterable[Remedy]) -> list[Remedy]:
    """The remedies of a finding that are not among these."""
    told = {_patched(each) for each in shared}
    return [each for each in finding.remedies if not each.patch or _patched(each) not in told]


def places(group: Iterable[Finding]) -> list[tuple[list[str], Finding]]:
    """The pointers of a group at which the same is said, with one finding of each."""
    found: dict[tuple[str, tuple[Pointer, ...]], tuple[list[str], Finding]] = {}
    for finding in group:
        found.setdefault((finding.message, finding.needs), ([], finding))[0].append(finding.where.pointer or "/")
    return list(found.values())


def spoke(coverage: Coverage) -> list[RuleCoverage]:
    """The rules that judged something, or will at a later stage."""
    return [each for each in coverage.rules if _judged(each)]


def silent(coverage: Coverage) -> list[str]:
    """The rules in force that found nothing in the plan that concerns them."""
    return [each.rule for each in coverage.rules if not _judged(each)]


def _judged(each: RuleCoverage) -> bool:
    return any((each.passed, each.violations, each.undetermined, each.judgements, each.later))


def left_out(coverage: Coverage) -> list[str]:
    """The rules that did not run, by the reason why."""
    reasons: dict[str, list[str]] = {}
    for absent in coverage.not_in_force:
        reasons.setdefault(absent.why, []).append(absent.rule)
    return [f"{', '.join(rules)}: {why}" for why, rules in reasons.items()]
