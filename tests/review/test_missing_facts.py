"""What an undetermined finding says is missing, in the words of the plan's contract and never as a pointer."""

import json
from typing import Any

import pytest

from nailplate.catalog import catalog
from nailplate.plan import Pointer
from nailplate.review import check
from nailplate.review.missing_facts import not_said
from nailplate.wire import read_plan

PLAN: dict[str, Any] = {
    "plan_format": 1,
    "name": "p",
    "basis": {"edition": "2023"},
    "levels": {"m": {"kind": "storey"}},
    "panels": {"p": {"kind": "subpanel"}},
    "circuits": {"c": {"label": "Kitchen"}},
    "boxes": {"b": {}},
    "devices": {"r": {"kind": "receptacle"}},
    "appliances": {"w": {"kind": "water_heater", "label": "Heater"}},
    "cables": {"x": {"ends": [{"box": "b"}, {"panel": "p"}]}},
}


@pytest.mark.parametrize(
    ("needs", "words"),
    [
        (["/basis/regime"], "Not said: which rules it is built under."),
        (["/devices", "/controls"], "Not said: devices and outlets; what switches what."),
        (["/boxes/b/at"], "Not said of box 'b': where its center is."),
        (
            ["/devices/r/tamper_resistant", "/devices/r/rating"],
            "Not said of receptacle 'r': whether it is listed tamper-resistant; its ampere rating.",
        ),
        (["/appliances/w/continuous"], "Not said of water heater 'Heater': whether it runs three hours or more at full load."),
        (["/circuits/c/breaker/rating"], "Not said of circuit 'Kitchen': breaker, its rating."),
        (["/circuits/c/conductor/size"], "Not said of circuit 'Kitchen': conductor, size of the ungrounded conductors."),
        (
            ["/boxes/b/access", "/devices/r/circuit"],
            "Not said of box 'b': how it is reached when finished. Not said of receptacle 'r':",
        ),
        (["/cables/x/route/0/heights"], "Not said of cable 'x': route, heights of each point above that level's floor."),
        ([], "The plan does not say enough."),
    ],
)
def test_what_is_missing_is_said_in_words(needs: list[str], words: str) -> None:
    assert not_said(read_plan(json.dumps(PLAN).encode()), tuple(Pointer(each) for each in needs)).startswith(words)


def test_a_message_names_a_few_and_counts_the_rest() -> None:
    needs = tuple(
        Pointer(f"/devices/r/{name}") for name in ("box", "at", "circuit", "rating", "voltage", "power", "poles", "gangs")
    )
    said = not_said(read_plan(json.dumps(PLAN).encode()), needs)
    assert said.endswith("what it draws. And 2 more.")


def test_no_message_holds_a_pointer() -> None:
    findings = check(read_plan(json.dumps(PLAN).encode()), catalog()).findings
    undetermined = [each for each in findings if each.outcome == "undetermined"]
    assert len(undetermined) > len(PLAN)
    assert not [each.message for each in undetermined if any(need in each.message for need in each.needs)]
