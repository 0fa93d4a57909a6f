"""An authority's answer settles a judgement, danger too, with who and when; one that answers nothing is told."""

import json
from typing import Any

import pytest

from nailplate.catalog import catalog
from nailplate.review import check
from nailplate.review.report import Report
from nailplate.wire import read_plan_value, report_json

BAR: dict[str, Any] = {
    "plan_format": 1,
    "name": "kitchen of a vehicle",
    "levels": {"main": {"kind": "storey"}},
    "rooms": {"kit": {"level": "main", "outline": [[0, 0], [60, 0], [60, 72], [0, 72]], "uses": ["kitchen"]}},
    "fixtures": {"s": {"kind": "kitchen_sink", "room": "kit", "bowl": [[10, 4], [26, 4], [26, 18], [10, 18]]}},
    "circuits": {"c": {"voltage": 120, "breaker": {"rating": 20, "protects": "none"}}},
    "devices": {
        "r": {
            "kind": "receptacle", "rating": 20, "voltage": 125, "gfci": False, "circuit": "c",
            "at": {"room": "kit", "point": [30, 2], "height": 42},
        }
    },
}  # fmt: skip
RULING = {"rule": "gfci-other-classes", "part": "/devices/r", "by": "J. Doe, building official", "date": "2026-10-01"}


def report(**ruling: str) -> Report:
    basis: dict[str, Any] = {"edition": "2023", "regime": "recreational_vehicle"}
    if ruling:
        basis["rulings"] = {"sink": {**RULING, **ruling}}
    return check(read_plan_value({**BAR, "basis": basis}), catalog())


def outcomes(answer: Report) -> list[tuple[str, str]]:
    return [(each.outcome, each.severity) for each in answer.findings if each.rule == "gfci-other-classes"]


def test_a_judgement_of_severity_danger_stands_until_somebody_answers_it() -> None:
    assert outcomes(report()) == [("judgement", "danger")]


def test_an_answer_that_it_passes_is_listed_with_who_and_when() -> None:
    answer = report(reading="pass", note="letter 12")
    assert outcomes(answer) == []
    (accepted,) = json.loads(report_json(answer))["accepted"]
    assert accepted["accepted"]["accepted_by"] == "J. Doe, building official"
    assert "2026-10-01" in accepted["accepted"]["reason"]
    assert "letter 12" in accepted["accepted"]["reason"]


def test_an_answer_that_it_is_required_makes_a_violation() -> None:
    answer = report(reading="violation")
    assert outcomes(answer) == [("violation", "danger")]
    assert "J. Doe, building official ruled on 2026-10-01" in answer.findings[0].message


@pytest.mark.parametrize("wrong", [{"part": "/devices/other"}, {"rule": "box-volume"}])
def test_an_answer_to_no_judgement_settles_nothing_and_is_told(wrong: dict[str, str]) -> None:
    answer = report(reading="pass", **wrong)
    assert outcomes(answer) == [("judgement", "danger")]
    assert "settles nothing" in next(each.message for each in answer.findings if each.rule == "ruling-holds")
