"""What a caller selects is listed; what is left out is counted and never makes a plan look clear. Baselines tell findings apart."""

from typing import Any

import jsonpatch
import pytest

from houses import house as whole_house
from nailplate.catalog import catalog
from nailplate.review import Options, Report, Selection, SelectionError
from nailplate.review.threshold import Threshold
from nailplate.rulekit import Severity
from nailplate.wire import read_baseline, report_on, report_value
from web.plans import SMALL


def report(value: Any, **options: Any) -> Report:
    return report_on(value, catalog(), Options(**options))


def test_what_is_not_listed_never_makes_a_plan_clear() -> None:
    house = whole_house("tamarack-wren")
    assert report(house).verdict == "clear"
    wrong = jsonpatch.apply_patch(house, [{"op": "replace", "path": "/circuits/water-heater/breaker/rating", "value": 50}])
    assert report(wrong).verdict == "violations"
    hidden = report(wrong, selection=Selection(rooms=("bath",)))
    assert hidden.verdict == "incomplete"
    assert hidden.selection is not None
    assert hidden.selection.hidden > 0
    only = report(wrong, selection=Selection(rules=("box-volume",)))
    assert {each.why for each in only.coverage.not_in_force} >= {"left out by the caller's selection"}
    assert len(only.coverage.rules) == 1


def test_a_selection_names_rules_and_families_or_is_refused() -> None:
    families = report(SMALL, selection=Selection(rules=("box_fill", "switch-works"), ignore=("box-volume",)))
    ran = {each.rule for each in families.coverage.rules}
    assert "switch-works" in ran
    assert "box-depth" in ran
    assert "box-volume" not in ran
    with pytest.raises(SelectionError, match="did you mean 'box-volume'"):
        report(SMALL, selection=Selection(rules=("box-volum",)))


def test_nothing_is_said_against_the_suppression_of_a_rule_that_did_not_run() -> None:
    accepted = {"rule": "box-volume", "part": "/boxes/porch", "reason": "r", "accepted_by": "b"}
    plan = {**SMALL, "suppressions": {"s": accepted}}
    assert "suppression-holds" in {each.rule for each in report(plan).findings}
    assert "suppression-holds" not in {each.rule for each in report(plan, selection=Selection(ignore=("box-volume",))).findings}


def test_a_baseline_calls_nothing_gone_of_rules_that_did_not_run() -> None:
    before = read_baseline(report_value(report(SMALL)))
    unchanged = report(SMALL, baseline=before).baseline
    assert unchanged is not None
    assert (unchanged.new, unchanged.absent) == (0, ())
    partly = report(SMALL, baseline=before, selection=Selection(rules=("box-volume",))).baseline
    assert partly is not None
    assert partly.absent == ()
    larger = {**SMALL, "boxes": {**SMALL["boxes"], "hall": {"volume": "20 in3", "clamps": "none"}}}
    gone = report(larger, baseline=before).baseline
    assert gone is not None
    assert [(each.rule, each.pointer) for each in gone.absent] == [("box-volume", "/boxes/hall")]


def test_only_what_is_new_fails_against_a_baseline() -> None:
    before = read_baseline(report_value(report(SMALL)))
    strict = Threshold(Severity.ADVICE, Severity.ADVICE)
    old = report(SMALL, baseline=before)
    assert not any(strict.fails(each) or strict.undecided(each) for each in old.findings)
    smaller = {**SMALL, "boxes": {**SMALL["boxes"], "porch": {"volume": "5 in3", "clamps": "none"}}}
    assert [each.where.pointer for each in report(smaller, baseline=before).findings if strict.fails(each)] == ["/boxes/porch"]


def test_a_pass_nearest_to_its_limit_is_told() -> None:
    larger = {**SMALL, "boxes": {**SMALL["boxes"], "hall": {"volume": "14.5 in3", "clamps": "none"}}}
    coverage = next(each for each in report(larger).coverage.rules if each.rule == "box-volume")
    # 314.16(B): two 14-2 cables and a switch count for 14 in³.
    assert coverage.nearest is not None
    assert (coverage.nearest.at, coverage.nearest.limit.value) == ("/boxes/hall", 14.0)
    assert coverage.nearest.margin == pytest.approx(0.5 / 14)
