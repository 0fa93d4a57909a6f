"""Every case of every rule in force, run as a client would run it."""

from collections.abc import Mapping
from typing import Any

import pytest

from nailplate.rulekit import Rule
from rules.judging import OPEN, all_cases, answers, document, fits, loaded, told

CASES = [pytest.param(rule, case, id=f"{rule.id}: {case['description']} [{case['edition']}]") for rule, case in all_cases()]


@pytest.mark.parametrize(("rule", "case"), CASES)
def test_case_is_answered_as_its_rule_page_says(rule: Rule, case: Mapping[str, Any]) -> None:
    said = [told(at, outcome) for at, outcome in answers(rule, loaded(document(case)))]
    wanted = list(case["expect"])
    left = list(said)
    for expectation in wanted:
        match = next((each for each in left if fits(expectation, each)), None)
        assert match is not None, f"wanted {expectation}, got {said}"
        left.remove(match)
    assert [each for each in left if each["outcome"] in OPEN] == []
