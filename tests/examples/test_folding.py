"""The example houses state a fact once, as a default where many parts share it: with every fact in its part they are judged alike."""

from typing import Any

import pytest

from examples.folding import folded, size
from houses import HOUSES, as_written, house, whole
from nailplate.catalog import catalog
from nailplate.codes import EDITIONS
from nailplate.review import check
from nailplate.wire import read_plan_value


def judged(plan: Any, edition: str) -> Any:
    report = check(read_plan_value({**plan, "basis": {**plan["basis"], "edition": edition}}), catalog())
    found = [(each.fingerprint, each.outcome, each.message) for each in (*report.findings, *report.accepted)]
    return found, [(each.rule, each.passed, each.undetermined, each.not_concerned) for each in report.coverage.rules]


@pytest.mark.long
@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("name", HOUSES)
def test_a_house_with_defaults_is_judged_as_the_whole_one(name: str, edition: str) -> None:
    whole = judged(house(name), edition)
    assert judged(as_written(name), edition) == whole
    assert judged(folded(house(name)), edition) == whole


@pytest.mark.parametrize("name", HOUSES)
def test_defaults_and_continued_routes_save_three_fifths_of_a_house(name: str) -> None:
    assert size(folded(house(name))) <= 0.4 * size(house(name))


@pytest.mark.parametrize("name", HOUSES)
def test_the_folded_house_resolves_to_the_whole_one(name: str) -> None:
    found = whole(folded(house(name)))
    assert found.pop("defaults", {}).keys() <= {"segments"}
    assert found == {key: value for key, value in house(name).items() if key != "defaults"}
