"""A remedy's patch makes its own finding go away and brings no violation of its rule elsewhere."""

from collections.abc import Iterator, Mapping
from typing import Any

import pytest

from nailplate.rulekit import Judgement, Rule, Violation
from rules.judging import all_cases, answers, document, loaded, patched


def _remedied() -> Iterator[Any]:
    for rule, case in all_cases():
        for at, outcome in answers(rule, loaded(document(case))):
            if isinstance(outcome, Violation | Judgement):
                for number, remedy in enumerate(outcome.remedies):
                    if remedy.patch:
                        name = f"{rule.id}: {case['description']} [{case['edition']}] {at} {outcome.facet} #{number}"
                        yield pytest.param(rule, case, at, outcome.facet, remedy.patch, id=name)


@pytest.mark.parametrize(("rule", "case", "at", "facet", "patch"), list(_remedied()))
def test_remedy_removes_its_finding(rule: Rule, case: Mapping[str, Any], at: str, facet: str, patch: Any) -> None:
    before = document(case)
    after = answers(rule, loaded(patched(before, patch)))
    open_before = {(where, outcome.facet) for where, outcome in answers(rule, loaded(before)) if isinstance(outcome, Violation)}
    open_after = {(where, outcome.facet) for where, outcome in after if isinstance(outcome, Violation | Judgement)}
    assert (at, facet) not in open_after
    assert open_after <= open_before
