"""The calculation of switch wiring, as a caller without a plan asks for it."""

from typing import Any

import pytest

from nailplate.plan import PlanRefused
from nailplate.wire import calculate

THREE_WAY: dict[str, Any] = {
    "edition": "2023",
    "boxes": ["entry", "hall", "light"],
    "feed": "entry",
    "cables": [{"from": "entry", "to": "hall", "conductors": 3}, {"from": "hall", "to": "light", "conductors": 2}],
    "switches": [{"box": "entry", "kind": "three_way"}, {"box": "hall", "kind": "three_way"}],
    "outlets": [{"box": "light"}],
}
LOOP: dict[str, Any] = {
    "edition": "2020",
    "boxes": ["light", "door"],
    "feed": "light",
    "cables": [{"from": "light", "to": "door", "conductors": 2, "size": "14 AWG"}],
    "switches": [{"box": "door", "kind": "single_pole"}],
    "outlets": [{"box": "light"}],
}


def result(request: dict[str, Any], **changes: Any) -> dict[str, Any]:
    answer: dict[str, Any] = calculate("switching", {**request, **changes})["result"]
    return answer


def carried(answer: dict[str, Any]) -> list[dict[str, str]]:
    return [{each["color"]: each["carries"] for each in cable["conductors"]} for cable in answer["roles"]]


def test_three_way_switches_with_the_feed_at_the_first() -> None:
    # Common practice: 14-2 to the first switch, 14-3 between them, 14-2 to the light; the light is live when both switches stand
    # alike or both unlike, and either switch changes that.
    answer = result(THREE_WAY)
    assert answer["feasible"] is True
    assert answer["shortages"] == []
    assert carried(answer) == [
        {"black": "traveler", "red": "traveler", "white": "neutral"},
        {"black": "switched hot", "white": "neutral"},
    ]
    assert [(row["positions"], row["live"]) for row in answer["truth_table"]] == [
        (["down", "down"], [True]),
        (["down", "up"], [False]),
        (["up", "down"], [False]),
        (["up", "up"], [True]),
    ]


def test_a_cable_that_is_short_is_named_with_the_one_that_would_do() -> None:
    answer = result(THREE_WAY, cables=[{"from": "entry", "to": "hall", "conductors": 2}, THREE_WAY["cables"][1]])
    assert answer["feasible"] is False
    assert answer["shortages"] == [{"cable": 0, "has": 2, "needs": 3, "equivalent": "3 insulated conductors with ground"}]


def test_an_old_switch_loop_works_with_its_white_marked_and_not_with_a_neutral() -> None:
    answer = result(LOOP)
    assert answer["feasible"] is True
    assert carried(answer) == [{"black": "switched hot", "white": "hot"}]
    assert answer["roles"][0]["conductors"][-1]["marked"] is True
    short = result(LOOP, neutral_at_switches=True)["shortages"]
    assert short == [{"cable": 0, "has": 2, "needs": 3, "equivalent": "14-3 with ground"}]


def test_cables_without_a_number_are_given_what_they_need() -> None:
    answer = result(THREE_WAY, cables=[{"from": "entry", "to": "hall"}, {"from": "hall", "to": "light"}])
    assert [cable["needs"] for cable in answer["roles"]] == [3, 2]
    assert answer["feasible"] is True


def test_several_controls_and_what_is_always_live_share_cables() -> None:
    # Common practice: fan and light on two switches and a receptacle in the ceiling box: two switched hots, hot, neutral.
    answer = result(
        {
            "edition": "2017",
            "boxes": ["door", "ceiling"],
            "feed": "door",
            "cables": [{"from": "door", "to": "ceiling"}],
            "switches": [
                {"box": "door", "kind": "single_pole", "control": "fan"},
                {"box": "door", "kind": "single_pole", "control": "light"},
            ],
            "outlets": [{"box": "ceiling", "control": "light"}, {"box": "ceiling", "control": "fan"}],
            "constant": [{"box": "ceiling"}],
        }
    )
    assert answer["roles"][0]["needs"] == 4
    assert [(row["positions"], row["live"]) for row in answer["truth_table"]] == [
        (["off", "off"], [False, False]),
        (["off", "on"], [True, False]),
        (["on", "off"], [False, True]),
        (["on", "on"], [True, True]),
    ]


REFUSED: list[tuple[dict[str, Any], dict[str, Any], list[str]]] = [
    (THREE_WAY, {"switches": THREE_WAY["switches"][:1]}, ["/switches/0"]),
    (THREE_WAY, {"switches": [*THREE_WAY["switches"], {"box": "light", "kind": "three_way"}]}, ["/switches/0"]),
    (THREE_WAY, {"switches": [{"box": "hall", "kind": "four_way"}, *THREE_WAY["switches"][:1]]}, ["/switches/0"]),
    (THREE_WAY, {"switches": []}, ["/switches"]),
    (THREE_WAY, {"feed": "porch"}, ["/feed"]),
    (THREE_WAY, {"cables": [*THREE_WAY["cables"], {"from": "light", "to": "entry"}]}, ["/cables/2"]),
    (THREE_WAY, {"cables": THREE_WAY["cables"][:1]}, ["/outlets/0/box"]),
    (THREE_WAY, {"cables": [*THREE_WAY["cables"], {"from": "hall", "to": "porch"}]}, ["/cables/2/to"]),
    (THREE_WAY, {"switches": [THREE_WAY["switches"][0], {"box": "porch", "kind": "three_way"}]}, ["/switches/1/box"]),
    (THREE_WAY, {"constant": [{"box": "porch"}]}, ["/constant/0/box"]),
    (THREE_WAY, {"boxes": ["entry", "hall", "light", "hall"]}, ["/boxes/3"]),
    (THREE_WAY, {"outlets": [{"box": "light", "control": "a"}]}, ["/switches/0", "/outlets/0"]),
    (LOOP, {"cables": [{"from": "light", "to": "door", "conductors": 1}]}, ["/cables/0/conductors"]),
    (LOOP, {"cables": [{"from": "light", "to": "light"}, *LOOP["cables"]]}, ["/cables/0"]),
    (LOOP, {"switches": [{"box": "door", "kind": "single_pole"}] * 9}, ["/switches"]),
]


@pytest.mark.parametrize(("request_", "changes", "pointers"), REFUSED)
def test_what_cannot_be_wired_is_told_by_its_pointer(
    request_: dict[str, Any], changes: dict[str, Any], pointers: list[str]
) -> None:
    with pytest.raises(PlanRefused) as caught:
        calculate("switching", {**request_, **changes})
    assert [str(fault.pointer) for fault in caught.value.faults] == pointers
