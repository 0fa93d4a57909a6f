"""What a report covers: each subject that rules are about, by what those in force judged, and what is left uncovered and why.

A subject is covered when a rule about it judged something that the plan draws and no rule about it was left out. One rule of
several does not make it covered, and an edition that asks nothing leaves nothing uncovered.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from nailplate.review.report import Gap, NotCovered, NotInForce, RuleCoverage
from nailplate.rulekit import Rule, Subject

APART_FROM_THE_DRAWING = frozenset({Subject.BUILDING_CLASS})
"""Subjects of which a pass says nothing about what is drawn."""


def not_covered_of(
    rules: Iterable[Rule], absent: Sequence[NotInForce], covered: Sequence[RuleCoverage], year: int
) -> tuple[NotCovered, ...]:
    """The subjects that this check did not cover, or covered in part, in the order of their list."""
    about: dict[str, list[Rule]] = {subject.value: [] for subject in Subject}
    for rule in rules:
        for subject in rule.subjects:
            about.setdefault(subject, []).append(rule)
    counted = {each.rule: each for each in covered}
    why_not = {each.rule: each.why for each in absent}
    return tuple(gap for subject, those in about.items() for gap in _gap(subject, those, counted, why_not, year))


def _gap(
    subject: str, rules: list[Rule], counted: Mapping[str, RuleCoverage], why_not: Mapping[str, str], year: int
) -> Iterator[NotCovered]:
    asked = [rule.id for rule in rules if rule.is_in(year)]
    left_out = [each for each in asked if each not in counted]
    ran = [counted[each] for each in asked if each in counted]
    later = [each.rule for each in ran if each.later]
    if not rules:
        yield NotCovered(subject, Gap.NO_RULE, "no rule of this check is about it")
    elif left_out:
        why = "; ".join(dict.fromkeys(why_not[each] for each in left_out))
        yield NotCovered(subject, Gap.IN_PART if ran else Gap.NOT_IN_FORCE, why, tuple(left_out))
    elif asked and not any(_answered(each) for each in ran):
        yield _unanswered(subject, ran, later)
    elif later:
        yield NotCovered(subject, Gap.IN_PART, "some of it waits for facts of a later stage", tuple(later))


def _unanswered(subject: str, ran: list[RuleCoverage], later: list[str]) -> NotCovered:
    undetermined = [each.rule for each in ran if each.undetermined]
    if undetermined:
        return NotCovered(subject, Gap.UNDETERMINED, "facts are missing wherever it would be judged", tuple(undetermined))
    if later:
        return NotCovered(subject, Gap.LATER, "all of it waits for facts of a later stage", tuple(later))
    return NotCovered(subject, Gap.NOTHING_DRAWN, "the plan draws nothing that it is about", tuple(each.rule for each in ran))


def _answered(coverage: RuleCoverage) -> bool:
    return any((coverage.passed, coverage.violations, coverage.judgements))


def judges_the_drawing(rules: Iterable[Rule], covered: Sequence[RuleCoverage]) -> bool:
    """Whether something that the plan draws was judged and passed; a check of nothing is no clear plan."""
    passed = {each.rule for each in covered if each.passed}
    return any(rule.id in passed and not (rule.subjects and APART_FROM_THE_DRAWING.issuperset(rule.subjects)) for rule in rules)


def not_checked_lines(gaps: Iterable[NotCovered]) -> tuple[str, ...]:
    """A line for people for each subject that is not covered, apart from those of which the plan draws nothing."""
    return tuple(_line(gap) for gap in gaps if gap.gap is not Gap.NOTHING_DRAWN)


def _line(gap: NotCovered) -> str:
    """Why a rule is not in force stands with the rules in a report, so that it is said there once."""
    match gap.gap:
        case Gap.NO_RULE | Gap.NOT_IN_FORCE:
            return f"Not checked: {gap.subject}."
        case Gap.IN_PART:
            return f"Checked in part, without {', '.join(gap.rules)}: {gap.subject}."
        case _:
            return f"Not checked: {gap.subject}: {gap.why}."
