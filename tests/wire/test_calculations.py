"""Requests of calculations are held to the same door as a plan; the figures themselves are tested where they are worked out."""

import json
from typing import Any

import pytest

from nailplate.plan import PlanRefused
from nailplate.wire import calculate

ANSWERED: list[tuple[str, dict[str, Any], dict[str, Any]]] = [
    # NEC 314.16(B)(1)-(5), volumes of Table 314.16(B): 14 AWG counts 2.00 in³; four conductors, one for all grounds, two for a yoke.
    (
        "box-fill",
        {
            "edition": "2017",
            "conductors": [{"size": "14 AWG", "count": 4}],
            "grounding_conductors": [{"size": "14 AWG", "count": 2}],
            "devices": [{"size": "14 AWG"}],
            "trade_size": "3 x 2 x 2-1/2 device",
        },
        {"counted": {"value": 14.0, "unit": "in3"}, "volume": {"value": 12.5, "unit": "in3"}, "fits": False},
    ),
    # NEC Table 310.16 (2020 on): 12 AWG copper, 60 degC column: 20 A; 334.80 keeps NM-B to that column.
    (
        "ampacity",
        {"edition": "2023", "size": "12 AWG", "method": "NM-B"},
        {"ampacity": {"value": 20.0, "unit": "A"}},
    ),
    # NEC 210.52(A)(1): no point of a wall's floor line over 6 ft from a receptacle: 12 ft need one, a little more need two.
    ("spacing", {"edition": "2020", "kind": "wall", "run": "12 ft"}, {"required": 1}),
    ("spacing", {"edition": "2020", "kind": "wall", "run": "12 ft 1 in"}, {"required": 2}),
]


@pytest.mark.parametrize(("name", "request_", "wanted"), ANSWERED)
def test_a_figure_comes_with_its_steps_and_sections(name: str, request_: dict[str, Any], wanted: dict[str, Any]) -> None:
    answer = calculate(name, request_)
    assert {key: answer["result"][key] for key in wanted} == wanted
    assert answer["edition"] == request_["edition"]
    assert all({"what", "value", "unit", "citation"} <= step.keys() for step in answer["steps"])
    assert answer["steps"]
    assert answer["citations"]
    assert answer["cautions"]
    assert "null" not in json.dumps(answer, allow_nan=False)


REFUSED: list[tuple[str, object, str]] = [
    ("spacing", [], ""),
    ("spacing", {"edition": "2023", "kind": "wall", "run": "12 ft", "walls": 1}, "/walls"),
    ("spacing", {"edition": "2023", "kind": "wall", "run": True}, "/run"),
    ("spacing", {"edition": "2023", "kind": "wall", "run": "1001 ft"}, "/run"),
    ("spacing", {"kind": "wall", "run": 12}, "/edition"),
    ("ampacity", {"edition": "2023", "size": "14"}, "/size"),
    ("ampacity", {"edition": "2023", "size": "none"}, "/size"),
    ("ampacity", {"edition": "2023", "size": "14 AWG", "ambient": 30}, "/ambient"),
    ("box-fill", {"edition": "2023", "devices": [{"size": "14 AWG", "gangs": 0}]}, "/devices/0/gangs"),
    ("box-fill", {"edition": "2023", "trade_size": "4 x 4"}, "/trade_size/0"),
]


@pytest.mark.parametrize(("name", "request_", "pointer"), REFUSED)
def test_what_cannot_be_worked_out_is_told_by_its_pointer(name: str, request_: object, pointer: str) -> None:
    with pytest.raises(PlanRefused) as caught:
        calculate(name, request_)
    assert [str(fault.pointer) for fault in caught.value.faults] == [pointer]


def test_a_name_that_is_no_calculation_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        calculate("box-fil", {})
