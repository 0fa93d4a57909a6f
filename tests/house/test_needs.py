"""Taking away a fact that a rule needs gives ``undetermined`` with that fact's pointer, whatever the plan says besides."""

import copy
from collections.abc import Iterator
from typing import Any

import pytest

from nailplate.plan import MAP_NAMES
from nailplate.rulekit import NotConcerned, Rule, Undetermined
from rules.judging import all_cases, answers, document, loaded


def _needed() -> Iterator[Any]:
    """The first case of each rule and need in which the fact is stated and the part is concerned."""
    seen = set()
    for rule, case in all_cases():
        for need in rule.needs:
            plan = document(case)
            for part_id in plan.get(MAP_NAMES[rule.over[0]], {}):  # type: ignore[index]  # rules over the whole plan declare no needs
                pointer = f"/{MAP_NAMES[rule.over[0]]}/{part_id}"  # type: ignore[index]  # as above
                if (rule.id, need) in seen or not _stated(plan, pointer, need):
                    continue
                outcomes = [outcome for at, outcome in answers(rule, loaded(plan)) if at == pointer]
                if outcomes and not all(isinstance(outcome, NotConcerned) for outcome in outcomes):
                    seen.add((rule.id, need))
                    yield pytest.param(rule, plan, pointer, need, id=f"{rule.id} without {need}")


def _holder(plan: dict[str, Any], pointer: str, need: str) -> tuple[dict[str, Any], str]:
    _, map_name, part_id = pointer.split("/")
    *inner, last = need.split(".")
    holder = plan[map_name][part_id]
    for name in inner:
        holder = holder.get(name, {})
    return holder, last


def _stated(plan: dict[str, Any], pointer: str, need: str) -> bool:
    holder, last = _holder(plan, pointer, need)
    return last in holder


@pytest.mark.parametrize(("rule", "plan", "pointer", "need"), list(_needed()))
def test_taking_away_a_need_leaves_it_undetermined(rule: Rule, plan: dict[str, Any], pointer: str, need: str) -> None:
    without = copy.deepcopy(plan)
    holder, last = _holder(without, pointer, need)
    del holder[last]
    (outcome,) = [outcome for at, outcome in answers(rule, loaded(without)) if at == pointer]
    assert isinstance(outcome, Undetermined)
    assert outcome.needs == (f"{pointer}/{need.replace('.', '/')}",)
