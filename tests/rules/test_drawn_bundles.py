"""Breakers on cables that are drawn together, with nothing typed of a bundle: the figures that trainers and forums work out.

More than two NM cables in one sealed hole or in insulation start from the 90 C column and end no higher than the 60 C one
(334.80; https://forums.mikeholt.com/threads/bundling-nm.14282): 4 to 6 conductors 80 percent, 7 to 9 70, 10 to 20 50
(Table 310.15(C)(1)). Four 12-2 keep 21 A, five 15 A; four 10-2 keep 28 A, which the next standard breaker up lets stand at 30 A,
and so are 12.5 A of five 14-2 under a 15 A breaker that feeds no several receptacles (240.4(B)).
"""

from typing import Any

import pytest

from rules.judging import answers, loaded, packs, told

WALL = {"level": "m", "from": [0, 0], "to": [200, 0], "kind": "exterior", "thickness": 5, "cavity": "spray_foam"}


def house(number: int, size: str, amperes: int, apart: float, **wall: Any) -> dict[str, Any]:
    """Cables of one size through the studs of a wall, ``apart`` inches one above the other."""
    names = [f"c{each}" for each in range(number)]
    return {
        "plan_format": 1,
        "name": "wall",
        "basis": {"edition": "2023"},
        "levels": {"m": {"kind": "storey"}},
        "walls": {"w": {**WALL, **wall}},
        "panels": {"p": {"kind": "subpanel"}},
        "boxes": {name: {} for name in names},
        "circuits": {
            name: {
                "voltage": 240,
                "breaker": {"rating": amperes, "poles": 2},
                "conductor": {"size": size, "material": "copper", "type": "NM-B"},
            }
            for name in names
        },
        "devices": {name: {"kind": "connection", "box": name, "circuit": name} for name in names},
        "cables": {
            name: {
                "type": "NM-B",
                "size": size,
                "insulated": 2,
                "circuit": name,
                "ends": [{"panel": "p"}, {"box": name}],
                "route": [
                    {
                        "level": "m",
                        "wall": "w",
                        "points": [[10, 0], [150, 0]],
                        "heights": [20 + place * apart] * 2,
                        "how": "bored",
                        "bundle": "none",
                        "sealed": False,
                        "ambient": "30 C",
                    }
                ],
            }
            for place, name in enumerate(names)
        },
    }


def outcome(plan: dict[str, Any]) -> str:
    rule = packs().rules["conductor-protection"]
    [said] = {told(at, answer)["outcome"] for at, answer in answers(rule, loaded(plan)) if at == "/circuits/c0"}
    return str(said)


@pytest.mark.parametrize(
    ("number", "size", "amperes", "says"),
    [
        (3, "12 AWG", 20, "pass"),
        (4, "12 AWG", 20, "pass"),
        (5, "12 AWG", 20, "violation"),
        (4, "14 AWG", 15, "pass"),
        (5, "14 AWG", 15, "pass"),
        (4, "10 AWG", 30, "pass"),
        (5, "10 AWG", 30, "violation"),
    ],
)
def test_cables_drawn_on_one_line_in_foam_count_together(number: int, size: str, amperes: int, says: str) -> None:
    assert outcome(house(number, size, amperes, apart=0)) == says


@pytest.mark.parametrize("apart", [1.0, 2.0])
def test_the_same_cables_an_inch_apart_do_not(apart: float) -> None:
    assert outcome(house(5, "12 AWG", 20, apart)) == "pass"


def test_cables_that_nearly_touch_are_for_the_authority_to_judge() -> None:
    """Three of the others are within half an inch of the first and make 8 conductors; the fourth, at 0.6 in, makes 10."""
    assert outcome(house(5, "12 AWG", 20, apart=0.15)) == "judgement"


@pytest.mark.parametrize("number", [5, 6])
def test_a_bundle_longer_than_24_inches_counts_in_an_empty_wall_too(number: int) -> None:
    assert outcome(house(number, "12 AWG", 20, apart=0, cavity="none")) == "violation"
