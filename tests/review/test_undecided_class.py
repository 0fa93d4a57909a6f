"""Where the class of the house is not said, a rule for dwelling units makes no violation but a question with both readings."""

from typing import Any

import jsonpatch
import pytest

from houses import house as whole_house
from nailplate.catalog import catalog
from nailplate.review import check
from nailplate.review.report import Finding
from nailplate.wire import read_plan_value

BARE: dict[str, Any] = {
    "plan_format": 1,
    "name": "a bedroom without a receptacle",
    "basis": {"edition": "2023"},
    "levels": {"m": {"kind": "storey"}},
    "rooms": {"r": {"level": "m", "uses": ["bedroom"], "outline": [[0, 0], [120, 0], [120, 120], [0, 120]]}},
    "walls": {
        "s": {"level": "m", "from": [-2, -2], "to": [122, -2], "thickness": 4, "kind": "exterior"},
        "e": {"level": "m", "from": [122, -2], "to": [122, 122], "thickness": 4, "kind": "exterior"},
        "n": {"level": "m", "from": [122, 122], "to": [-2, 122], "thickness": 4, "kind": "exterior"},
        "w": {"level": "m", "from": [-2, 122], "to": [-2, -2], "thickness": 4, "kind": "exterior"},
    },
}


def found(basis: dict[str, Any], rule: str) -> list[Finding]:
    report = check(read_plan_value({**BARE, "basis": {**BARE["basis"], **basis}}), catalog())
    return [each for each in report.findings if each.rule == rule]


@pytest.mark.parametrize("basis", [{}, {"regime": "undecided"}])
def test_violation_becomes_a_judgement_with_both_readings(basis: dict[str, Any]) -> None:
    (broken,) = found({"regime": "dwelling"}, "wall-space")
    (asked,) = found(basis, "wall-space")
    assert (broken.outcome, asked.outcome) == ("violation", "judgement")
    assert asked.message.startswith(broken.message)
    assert [reading.gives for reading in asked.readings] == ["violation", "pass"]
    assert (asked.severity, asked.where.pointer, asked.remedies) == (broken.severity, broken.where.pointer, broken.remedies)


def test_rules_of_every_house_still_make_violations() -> None:
    house = whole_house("tamarack-wren")
    thin = jsonpatch.apply_patch(
        house,
        [
            {"op": "remove", "path": "/basis/regime"},
            {"op": "replace", "path": "/circuits/water-heater/breaker/rating", "value": 30},
        ],
    )
    report = check(read_plan_value(thin), catalog())
    assert {(each.rule, each.outcome) for each in report.findings if each.rule == "conductor-protection"} == {
        ("conductor-protection", "violation")
    }


def test_an_undecided_class_is_not_clear() -> None:
    house = whole_house("tamarack-wren")
    assert check(read_plan_value(house), catalog()).verdict == "clear"
    house["basis"]["regime"] = "undecided"
    assert check(read_plan_value(house), catalog()).verdict == "incomplete"
