"""JSON objects have no order: the same plan with its keys in another order gets the same report, word for word."""

import copy
import random
from collections.abc import Mapping
from typing import Any

import pytest

from fuzz.invariants import OPTIONS, judged
from fuzz.mutants import shuffled
from fuzz.seeds import cases, houses, packs
from nailplate.review import check
from nailplate.wire import plan_digest, read_plan_value

SHARE = 9
"""One case of so many is shuffled; every case takes part in the fuzzer."""


def findings(document: Mapping[str, Any]) -> Any:
    report = check(read_plan_value(copy.deepcopy(document)), packs(), OPTIONS, plan_digest(document))
    return report.findings, report.accepted, report.verdict, report.summary


def in_another_order(document: Mapping[str, Any], seed: int) -> Mapping[str, Any]:
    other = copy.deepcopy(dict(document))
    shuffled(random.Random(seed), other)
    return other


@pytest.mark.parametrize("number", range(6))
def test_example_houses_and_their_faults_are_judged_alike_in_any_order(number: int) -> None:
    house = houses()[number]
    other = in_another_order(house, number)
    assert list(other) != list(house)
    assert findings(other) == findings(house)


@pytest.mark.long
@pytest.mark.parametrize("first", range(SHARE))
def test_cases_are_judged_alike_in_any_order(first: int) -> None:
    for name, document in cases()[first :: SHARE * SHARE]:
        if judged(document) is not None:
            assert findings(in_another_order(document, first)) == findings(document), name
