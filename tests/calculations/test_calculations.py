"""Requests of calculations are held to the same door as a plan; the figures themselves are tested where they are worked out."""

import json
from typing import Any

import jsonschema
import pytest

from nailplate.plan import PlanRefused
from nailplate.wire import calculate
from nailplate.wire.calculations import calculation_schemas

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
    # http://ecmweb.com/nec/code_quiz/electric_quizzes_code_5/ question 1: nine 14 AWG allowances, a 4 x 2-1/8 octagonal box.
    (
        "box-fill",
        {
            "edition": "2023",
            "conductors": [{"size": "14 AWG", "count": 4}],
            "grounding_conductors": [{"size": "14 AWG", "count": 2}],
            "support_fittings": [{"kind": "stud"}, {"kind": "hickey"}],
            "fixture_wires": [{"size": "14 AWG", "count": 2, "through_canopy": True}],
            "trade_size": ["4 x 1-1/2 round"],
        },
        {
            "counted": {"value": 18.0, "unit": "in3"},
            "fits": False,
            "spare": {"value": -2.5, "unit": "in3"},
            "smallest_standard": "4 x 2-1/8 round",
        },
    ),
    # https://www.doityourself.com/forum/electrical-ac-dc/160003-how-many-cables-2-gang-box.html: 33.75 in3 under older rules;
    # with clamps 2.25 more. A quarter more for the fifth ground from 2020: https://forums.mikeholt.com/threads/egc-fill.2566828
    *[
        (
            "box-fill",
            {
                "edition": year,
                "conductors": [{"size": "12 AWG", "count": 10}],
                "grounding_conductors": [{"size": "12 AWG", "count": 5}],
                "devices": [{"size": "12 AWG"}, {"size": "12 AWG"}],
                "internal_clamps": clamps,
                "volume": "35 in3",
            },
            {"counted": {"value": counted, "unit": "in3"}, "fits": counted <= 35},
        )
        for year, clamps, counted in (
            ("2017", False, 33.75),
            ("2017", True, 36.0),
            ("2020", False, 34.3125),
            ("2023", True, 36.5625),
            ("2026", False, 34.3125),
        )
    ],
    # 12 in loop, twice the free length of 300.14: https://coconote.app/notes/56e1c20d-d2f5-4ea9-bc75-546d8840e2e8
    (
        "box-fill",
        {
            "edition": "2020",
            "conductors": [{"size": "12 AWG", "count": 2, "loop": "12 in"}, {"size": "12 AWG", "count": 2, "loop": "11.9 in"}],
            "trade_size": ["4 x 1-1/2 square", "4 x 1-1/2 square"],
        },
        {"counted": {"value": 13.5, "unit": "in3"}, "volume": {"value": 42.0, "unit": "in3"}},
    ),
    # NEC Table 310.16 (2020 on): 12 AWG copper, 60 degC column: 20 A; 334.80 keeps NM-B to that column.
    (
        "ampacity",
        {"edition": "2023", "size": "12 AWG", "method": "NM-B"},
        {"ampacity": {"value": 20.0, "unit": "A"}},
    ),
    # 2/0 copper, 175 A, for a dwelling's 200 A service: https://electricalcodeconnection.com/?p=3533
    (
        "ampacity",
        {
            "edition": "2017",
            "size": "2/0 AWG",
            "method": "raceway",
            "insulation": "75 C",
            "whole_dwelling": True,
        },
        {
            "limited_by": "310.15(B)(16)",
            "whole_dwelling": {"largest_rating": {"value": 200.0, "unit": "A"}, "by": "310.15(B)(7)"},
        },
    ),
    # 4 AWG copper, 85 A, behind 100 A; 8 AWG has no relief: https://learnmetrics.com/nec-310-12-table/ (whose text ends on 3 AWG)
    (
        "ampacity",
        {"edition": "2023", "size": "4 AWG", "method": "SE", "insulation": "75 C", "whole_dwelling": True},
        {"whole_dwelling": {"largest_rating": {"value": 100.0, "unit": "A"}, "by": "310.12"}},
    ),
    (
        "ampacity",
        {"edition": "2023", "size": "8 AWG", "method": "SE", "insulation": "75 C", "whole_dwelling": True},
        {"whole_dwelling": {"by": "310.12"}},
    ),
    # a storage water heater of 4500 W at 240 V: 23.4 A at 125 percent, at least 25 A, and 12 AWG cable is short;
    # https://forums.mikeholt.com/threads/422-11-e-3.2555687
    (
        "ampacity",
        {"edition": "2020", "size": "12 AWG", "method": "NM-B", "continuous": "18.75 A"},
        {
            "load": {
                "counted": {"value": 23.4375, "unit": "A"},
                "carried": False,
                "least_overcurrent": {"value": 25.0, "unit": "A"},
            }
        },
    ),
    # 10 AWG SE cable in thermal insulation goes by 60 degC, 338.10(B)(4)(a):
    # https://gitea.zanemeyers.com/ZaneMeyers/zmVault/commit/ded28a372d97dfb4aded64bbc7966368131c2b9d?files=nfpa-70_338_se-cable.md
    (
        "ampacity",
        {
            "edition": "2017",
            "size": "10 AWG",
            "method": "SE",
            "insulation": "90 C",
            "terminations": "75 C",
            "in_thermal_insulation": True,
        },
        {"ampacity": {"value": 30.0, "unit": "A"}, "limited_by": "338.10(B)(4)(a)"},
    ),
    # NEC 210.52(A)(1): no point of a wall's floor line over 6 ft from a receptacle: 12 ft need one, a little more need two.
    ("spacing", {"edition": "2020", "kind": "wall", "run": "12 ft"}, {"required": 1}),
    ("spacing", {"edition": "2020", "kind": "wall", "run": "12 ft 1 in"}, {"required": 2}),
    # https://journeymaniq.com/states/california/voltage-drop-practice: 4.43 V, 3.69 percent
    (
        "voltage-drop",
        {"edition": "2023", "voltage": 120, "current": 16, "length": "70 ft", "size": "12 AWG", "method": "k_factor"},
        {"drop": {"value": 4.425115, "unit": "V"}, "smallest_size_for": {"3 %": "10 AWG", "5 %": "12 AWG"}},
    ),
    # https://www.inwindustrialtraining.com/post/code-talk-episode-32-notes: 2 AWG; 250.66(A): no more than 6 AWG to a rod
    (
        "grounding-conductor",
        {
            "edition": "2020",
            "overcurrent": 300,
            "upsized": {"from": "250 kcmil", "to": "350 kcmil"},
            "electrode": {"service_size": "2/0 AWG", "electrode_kind": "rod"},
        },
        {"size": "2 AWG", "by_table": "4 AWG", "electrode_conductor": "6 AWG"},
    ),
    # NEC Annex D, example D1(a): 18600 VA, 77.5 A, a neutral of 60.6 A
    (
        "dwelling-load",
        {
            "edition": "2017",
            "method": "standard",
            "floor_area": "1500 ft2",
            "appliances": [{"kind": "range", "power": "12 kW"}, {"kind": "dryer", "current": 27.5, "voltage": 200}],
        },
        {
            "total": {"value": 18600.0, "unit": "VA"},
            "current": {"value": 77.5, "unit": "A"},
            "neutral": {"value": 60.625, "unit": "A"},
            "service": {"value": 100.0, "unit": "A"},
        },
    ),
    # NEC 551.42: two to five circuits, 30 A (from memory)
    (
        "small-supply",
        {
            "edition": "2023",
            "regime": "recreational_vehicle",
            "supply": {"voltage": "120", "rating": 20},
            "circuits": [{"rating": 20, "count": 4}],
            "appliances": [{"kind": "microwave", "power": 1500, "voltage": 120, "leg": "A"}],
        },
        {"legs": [{"value": 12.5, "unit": "A"}], "fits": False, "smallest_supply": {"value": 30.0, "unit": "A"}},
    ),
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


HOUSE = {"edition": "2023", "method": "standard", "floor_area": "400 ft2"}
VEHICLE = {
    "edition": "2023",
    "regime": "park_trailer",
    "supply": {"voltage": "120", "rating": 30},
    "circuits": [{"rating": 20, "count": 4}],
}
REFUSED: list[tuple[str, object, str]] = [
    ("spacing", [], ""),
    ("spacing", {"edition": "2023", "kind": "wall", "run": "12 ft", "walls": 1}, "/walls"),
    ("spacing", {"edition": "2023", "kind": "wall", "run": True}, "/run"),
    ("spacing", {"edition": "2023", "kind": "wall", "run": "1001 ft"}, "/run"),
    ("spacing", {"kind": "wall", "run": "12 ft"}, "/edition"),
    ("ampacity", {"edition": "2023", "size": "14"}, "/size"),
    ("ampacity", {"edition": "2023", "size": "none"}, "/size"),
    ("ampacity", {"edition": "2023", "size": "14 AWG", "ambient": 30}, "/ambient"),
    ("ampacity", {"edition": "2023", "size": "16 AWG"}, ""),
    ("ampacity", {"edition": "2023", "size": "14 AWG", "current_carrying": 10**30}, "/current_carrying"),
    ("ampacity", {"edition": "2023", "size": "14 AWG", "whole_dwelling": 1}, "/whole_dwelling"),
    ("ampacity", {"edition": "2023", "size": "14 AWG", "continuous": True}, "/continuous"),
    ("ampacity", {"edition": "2023", "size": "14 AWG", "continuous": 10**9}, "/continuous"),
    ("box-fill", {"edition": "2023", "devices": [{"size": "14 AWG", "gangs": 0}]}, "/devices/0/gangs"),
    ("box-fill", {"edition": "2023", "trade_size": "4 x 4"}, "/trade_size"),
    ("box-fill", {"edition": "2023", "trade_size": 4}, "/trade_size"),
    ("box-fill", {"edition": "2023", "trade_size": []}, "/trade_size"),
    ("box-fill", {"edition": "2023", "trade_size": ["4 x 1-1/2 square", "4 x 4"]}, "/trade_size/1"),
    ("box-fill", {"edition": "2023", "conductors": [{"size": "14 AWG", "count": 1, "loop": -1}]}, "/conductors/0/loop"),
    ("voltage-drop", {"edition": "2023", "voltage": 120, "current": 16, "length": "10 ft", "size": "12 AWG", "k": 0}, "/k"),
    ("voltage-drop", {"edition": "2023", "voltage": 120, "current": 16, "length": "10 ft", "size": "12 AWG", "phases": 2}, ""),
    ("grounding-conductor", {"edition": "2023"}, "/overcurrent"),
    ("grounding-conductor", {"edition": "2023", "overcurrent": 20, "upsized": {"from": "12 AWG"}}, "/upsized/to"),
    ("dwelling-load", {"edition": "2023", "method": "standard", "floor_area": 400}, "/floor_area"),
    ("dwelling-load", {**HOUSE, "small_appliance_circuits": 10**400}, "/small_appliance_circuits"),
    ("dwelling-load", {**HOUSE, "appliances": [{"kind": "range", "power": 8000, "count": 10**9}]}, "/appliances/0/count"),
    ("dwelling-load", {**HOUSE, "appliances": [{"kind": "microwave", "power": 1500}]}, "/appliances/0/fastened"),
    ("dwelling-load", {**HOUSE, "appliances": [{"kind": "range", "current": 20}]}, "/appliances/0/power"),
    ("small-supply", {**VEHICLE, "circuits": []}, "/circuits"),
    ("small-supply", {**VEHICLE, "length": "30 ft"}, ""),
]


@pytest.mark.parametrize(("name", "request_", "pointer"), REFUSED)
def test_what_cannot_be_worked_out_is_told_by_its_pointer(name: str, request_: object, pointer: str) -> None:
    with pytest.raises(PlanRefused) as caught:
        calculate(name, request_)
    assert [str(fault.pointer) for fault in caught.value.faults] == [pointer]


def test_one_trade_size_may_stand_without_its_list_and_the_schema_says_so() -> None:
    alone, listed = (
        calculate("box-fill", {"edition": "2023", "trade_size": said}) for said in ("4 x 1-1/2 square", ["4 x 1-1/2 square"])
    )
    assert alone == listed
    schema = calculation_schemas()["box-fill"]
    wanted = jsonschema.Draft202012Validator(schema)
    assert [
        wanted.is_valid({"edition": "2023", "trade_size": said}) for said in ("4 x 1-1/2 square", ["4 x 1-1/2 square"])
    ] == [
        True,
        True,
    ]
    assert not wanted.is_valid({"edition": "2023", "trade_size": "4 x 4"})


def test_a_name_that_is_no_calculation_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        calculate("box-fil", {})
