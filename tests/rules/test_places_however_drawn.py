"""Laws of the rules about places: moved, turned, mirrored or drawn in millimetres, a house is answered the same."""

from collections.abc import Callable, Mapping
from typing import Any

import pytest

from nailplate.rulekit import Rule
from rules.judging import NAMES, all_cases, answers, document, loaded
from rules.turned import in_millimetres, mirrored, moved, turned

PLACES = frozenset(
    {
        *("outdoor-receptacles", "deck-receptacle", "laundry-receptacle", "garage-receptacles", "basement-receptacle"),
        *("equipment-receptacle", "heater-below-receptacle", "working-space", "dedicated-space", "panel-place"),
        *("usual-heights", "fan-clearance"),
    }
)
WAYS: dict[str, Callable[[dict[str, Any]], dict[str, Any]]] = {
    "moved": moved,
    "a quarter turned": lambda plan: turned(plan, 90),
    "turned by 33 degrees": lambda plan: turned(plan, 33),
    "mirrored": mirrored,
    "in millimetres": in_millimetres,
}
CASES = [
    pytest.param(rule, case, id=f"{rule.id}: {case['description']} [{case['edition']}]")
    for rule, case in all_cases()
    if rule.id in PLACES
]


def told(rule: Rule, plan: dict[str, Any]) -> list[tuple[str, str, str, float]]:
    return sorted((at, outcome.facet, NAMES[type(outcome)], _figure(outcome)) for at, outcome in answers(rule, loaded(plan)))


def _figure(outcome: object) -> float:
    """What was measured; -1 where nothing was."""
    measured = getattr(outcome, "measured", None)
    return -1.0 if measured is None else round(measured.value, 4)


def test_every_rule_about_places_has_cases_here() -> None:
    assert {rule.id for rule, _ in all_cases()} >= PLACES


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("rule", "case"), CASES)
def test_a_house_is_answered_the_same_however_it_is_drawn(rule: Rule, case: Mapping[str, Any], way: str) -> None:
    plan = document(case)
    assert told(rule, WAYS[way](plan)) == told(rule, plan)
