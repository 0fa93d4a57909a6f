"""The example houses said with defaults: far fewer bytes, and the same findings, coverage and resolved plan in every edition."""

import json
from importlib.resources import files
from typing import Any

import pytest

from examples.folding import folded, unfolded
from nailplate.catalog import catalog
from nailplate.codes import EDITIONS
from nailplate.review import check
from nailplate.wire import read_plan_value, resolved

HOUSES = ("tamarack-wren", "tamarack-heron", "tamarack-osprey")


def house(name: str) -> Any:
    return json.loads(files("nailplate").joinpath("examples", f"{name}.json").read_text(encoding="utf-8"))


def judged(plan: Any, edition: str) -> Any:
    report = check(read_plan_value({**plan, "basis": {**plan["basis"], "edition": edition}}), catalog())
    found = [(each.fingerprint, each.outcome, each.message) for each in (*report.findings, *report.accepted)]
    return found, [(each.rule, each.passed, each.undetermined, each.not_concerned) for each in report.coverage.rules]


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("name", HOUSES)
def test_a_house_said_with_defaults_is_judged_alike(name: str, edition: str) -> None:
    assert judged(folded(unfolded(house(name))), edition) == judged(house(name), edition)


@pytest.mark.parametrize("name", HOUSES)
def test_defaults_and_continued_routes_save_nearly_half_of_a_house(name: str) -> None:
    whole = house(name)
    assert len(json.dumps(folded(unfolded(whole)))) < 0.55 * len(json.dumps(whole))


@pytest.mark.parametrize("name", HOUSES)
def test_the_folded_house_resolves_to_the_whole_one(name: str) -> None:
    whole, found = resolved(house(name)), resolved(folded(unfolded(house(name))))
    assert "defaults" not in found
    del whole["derived"]  # which tells where values stand: in other places of the folded plan
    assert {key: found[key] for key in whole} == whole
