"""Laws of the rules about places: moved, turned, mirrored or drawn in millimetres, a house is answered the same."""

from collections.abc import Callable, Iterable
from typing import Any

import pytest

from nailplate.rulekit import Outcome, Rule
from rules.judging import answers, loaded, packs, trials
from rules.turned import in_millimetres, mirrored, moved, turned

pytestmark = pytest.mark.long
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


def told(rule: Rule, plan: dict[str, Any]) -> list[tuple[str, str, str, float]]:
    return _told(answers(rule, loaded(plan)))


def _told(answered: Iterable[tuple[str, Outcome]]) -> list[tuple[str, str, str, float]]:
    return sorted((at, outcome.facet, type(outcome).__name__, _figure(outcome)) for at, outcome in answered)


def _figure(outcome: object) -> float:
    """What was measured; -1 where nothing was."""
    measured = getattr(outcome, "measured", None)
    return -1.0 if measured is None else round(measured.value, 4)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("rule_id", sorted(PLACES))
def test_a_house_is_answered_the_same_however_it_is_drawn(rule_id: str, way: str) -> None:
    rule = packs().rules[rule_id]
    for trial in trials(rule):
        assert told(rule, WAYS[way](trial.case.document(trial.year))) == _told(trial.answers), trial.case.description
