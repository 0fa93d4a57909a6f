"""Every rule in force, put to its cases as a client would: its answers, its remedies, the facts it needs, and what its page shows.

One test a question, one parameter a rule: pytest runs a rule's questions together, so its cases are read and answered once.
"""

import copy
from collections.abc import Iterator
from typing import Any

import pytest

from nailplate.codes import EDITIONS
from nailplate.plan import MAP_NAMES
from nailplate.review.trials import Trial
from nailplate.rulekit import Judgement, NotConcerned, Operation, Rule, Undetermined, Violation
from rules.judging import answers, loaded, packs, patched, trials

ASK_ONLY = ("bundles-stated",)
"""Rules that ask for a fact once a plan and leave its judging to others: they have no violation to show."""


@pytest.fixture(scope="module", params=list(packs().rules.values()), ids=list(packs().rules))
def rule(request: pytest.FixtureRequest) -> Rule:
    found: Rule = request.param
    return found


def name(trial: Trial) -> str:
    return f"{trial.case.description} [{trial.year}]"


# Its answers


def test_every_case_is_answered_as_its_file_says(rule: Rule) -> None:
    wrong = [
        f"{name(trial)}: missed {list(trial.missed)}, unexpected {list(trial.unexpected)}, crashed {trial.crashed}"
        for trial in trials(rule)
        if not trial.passes
    ]
    assert wrong == []


def test_cases_bring_a_pass_a_violation_and_an_undetermined(rule: Rule) -> None:
    brought = {expectation["outcome"] for case in rule.cases for expectation in case.expect}
    assert {"pass", "undetermined", *(() if rule.id in ASK_ONLY else ("violation",))} <= brought


def test_cases_name_editions_that_exist_oldest_first(rule: Rule) -> None:
    names = [f"nec-{year}" for year in EDITIONS]
    for case in rule.cases:
        assert list(case.editions) == [each for each in names if each in case.editions], case.description


# Its remedies


def remedied(trial: Trial) -> Iterator[tuple[str, str, tuple[Operation, ...]]]:
    """Pointer, facet and patch of each remedy that has one."""
    for at, outcome in trial.answers:
        if isinstance(outcome, Violation | Judgement):
            yield from ((at, outcome.facet, remedy.patch) for remedy in outcome.remedies if remedy.patch)


@pytest.mark.long
def test_a_remedy_removes_its_finding_and_brings_no_violation_elsewhere(rule: Rule) -> None:
    for trial in trials(rule):
        before = {(where, outcome.facet) for where, outcome in trial.answers if isinstance(outcome, Violation)}
        for at, facet, patch in remedied(trial):
            answered = answers(rule, loaded(patched(trial.case.document(trial.year), patch)))
            after = {(where, outcome.facet) for where, outcome in answered if isinstance(outcome, Violation | Judgement)}
            assert (at, facet) not in after, f"{name(trial)}: {patch}"
            assert after <= before, f"{name(trial)}: {patch}"


# The facts it needs


def holder_of(plan: dict[str, Any], pointer: str, need: str) -> tuple[dict[str, Any], str]:
    """Where a needed fact of a part stands, and its name there."""
    _, map_name, part_id = pointer.split("/")
    *inner, last = need.split(".")
    holder = plan[map_name][part_id]
    for each in inner:
        holder = holder.get(each, {})
    return holder, last


def concerned(rule: Rule, need: str) -> Iterator[tuple[dict[str, Any], str]]:
    """Plans in which the fact is stated, and the pointer of a part that the rule speaks of."""
    kind = MAP_NAMES[rule.over[0]]  # type: ignore[index]  # rules over the whole plan declare no needs
    for trial in trials(rule):
        plan = trial.case.document(trial.year)
        for pointer in (f"/{kind}/{part_id}" for part_id in plan.get(kind, {})):
            holder, last = holder_of(plan, pointer, need)
            outcomes = [outcome for at, outcome in trial.answers if at == pointer]
            if last in holder and outcomes and not all(isinstance(outcome, NotConcerned) for outcome in outcomes):
                yield plan, pointer


def test_taking_away_a_need_leaves_it_undetermined(rule: Rule) -> None:
    for need in rule.needs:
        plan, pointer = next(concerned(rule, need))
        without = copy.deepcopy(plan)
        holder, last = holder_of(without, pointer, need)
        del holder[last]
        (outcome,) = [outcome for at, outcome in answers(rule, loaded(without)) if at == pointer]
        assert isinstance(outcome, Undetermined)
        assert outcome.needs == (f"{pointer}/{need.replace('.', '/')}",)


# What its page shows


def test_two_to_four_cases_are_shown_a_violation_and_a_pass_among_them(rule: Rule) -> None:
    shown = [case for case in rule.cases if case.shown]
    assert 2 <= len(shown) <= 4
    wanted = {"pass"} if rule.id in ASK_ONLY else {"pass", "violation"}
    assert wanted <= {expectation["outcome"] for case in shown for expectation in case.expect}
