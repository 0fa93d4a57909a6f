"""Where a copy of a set of words had forked, the rules that asked it give one answer: a thermostat is no outlet anywhere."""

from typing import Any

import pytest

from rules.judging import answers, loaded, packs, told

CASE: dict[str, Any] = {"plan_format": 1, "name": "case", "basis": {"edition": "2023"}}


def outcomes(rule_id: str, plan: dict[str, Any]) -> set[tuple[str, str]]:
    return {(at, told(at, outcome)["outcome"]) for at, outcome in answers(packs().rules[rule_id], loaded({**CASE, **plan}))}


KITCHEN: dict[str, Any] = {
    "levels": {"m": {"kind": "storey"}},
    "rooms": {"k": {"level": "m", "uses": ["kitchen"]}, "hall": {"level": "m", "uses": ["hallway"]}},
    "circuits": {name: {"purpose": "small_appliance", "breaker": {"rating": 20}} for name in ("a", "b")},
    "devices": {
        name: {
            "kind": "receptacle",
            "rating": 20,
            "voltage": 125,
            "at": {"room": "k", "point": [0, 0], "height": 44},
            "circuit": name,
        }
        for name in ("a", "b")
    },
}


@pytest.mark.parametrize("kind", ["switch", "thermostat"])
def test_a_control_on_a_small_appliance_circuit_is_no_outlet(kind: str) -> None:
    control = {"kind": kind, "circuit": "a", "at": {"room": "hall", "point": [0, 0], "height": 48}}
    found = outcomes("small-appliance-circuits", {**KITCHEN, "devices": {**KITCHEN["devices"], "s": control}})
    assert {outcome for _, outcome in found} == {"pass"}


@pytest.mark.parametrize("kind", ["switch", "thermostat", "disconnect"])
def test_a_box_is_reached_by_taking_the_control_off_that_closes_it(kind: str) -> None:
    plan = {"boxes": {"b": {}}, "devices": {"s": {"kind": kind, "box": "b"}}}
    assert outcomes("box-accessible", plan) == {("/boxes/b", "pass")}


@pytest.mark.parametrize("kind", ["switch", "thermostat"])
def test_an_alarm_behind_a_control_is_switched(kind: str) -> None:
    alarm = {"kind": "smoke_alarm", "power_source": "building_and_battery"}
    plan = {"devices": {"a": alarm, "s": {"kind": kind}}, "controls": {"c": {"switches": ["s"], "outlets": ["a"]}}}
    assert ("/devices/a", "violation") in outcomes("alarm-unswitched", plan)


@pytest.mark.parametrize("kind", ["switch", "disconnect"])
def test_whether_a_switch_is_inside_the_shower_is_asked_of_disconnects_too(kind: str) -> None:
    plan = {
        "levels": {"m": {"kind": "storey"}},
        "walls": {"s": {"level": "m", "from": [0, -2.25], "to": [140, -2.25], "thickness": 4.5, "kind": "interior"}},
        "rooms": {"bath": {"level": "m", "uses": ["bathroom"], "outline": [[0, 0], [140, 0], [140, 96], [0, 96]]}},
        "fixtures": {"tub": {"room": "bath", "kind": "shower", "rim_height": 4, "enclosure": "glass"}},
        "devices": {"s": {"kind": kind, "at": {"wall": "s", "along": 20, "height": 48, "side": "left"}}},
    }
    assert outcomes("wet-switch", plan) == {("/devices/s", "undetermined")}


@pytest.mark.parametrize("kind", ["sliding_door", "pocket_door"])
def test_every_door_to_the_ground_has_a_light(kind: str) -> None:
    corners = [(0.0, 0.0), (144.0, 0.0), (144.0, 144.0), (0.0, 144.0)]
    sides = zip(corners, [*corners[1:], corners[0]], strict=True)
    walls = {
        f"w{number}": {"level": "m", "from": list(start), "to": list(end), "thickness": 4.5, "kind": "exterior"}
        for number, (start, end) in enumerate(sides)
    }
    plan = {
        "levels": {"m": {"kind": "storey"}, "g": {"kind": "grade"}},
        "walls": walls,
        "rooms": {
            "r": {"level": "m", "uses": ["living"], "outline": [[3, 3], [141, 3], [141, 141], [3, 141]]},
            "yard": {"level": "g", "uses": ["outdoors"], "outline": [[-100, -300], [244, -300], [244, -3], [-100, -3]]},
        },
        "openings": {"door": {"wall": "w0", "along": 32, "width": 36, "kind": kind, "leads_to": "yard"}},
        "devices": {"light": {"kind": "luminaire", "at": {"room": "r", "point": [70, 70], "height": 96}}},
    }
    assert outcomes("light-exterior-door", plan) == {("/openings/door", "violation")}


# 210.21(B)(4) and Table 220.55, column C: one range of 12 kW is 8 kW, 33.3 A at 240 V.
@pytest.mark.parametrize(("kilowatts", "outcome"), [(None, "pass"), (9.6, "pass"), (11.0, "violation")])
def test_a_local_change_of_the_cooking_table_reaches_the_receptacle_of_a_range(kilowatts: float | None, outcome: str) -> None:
    change = {"change": "value", "table": "cooking", "entry": "column_c.1", "value": kilowatts}
    amendments = {"local": {**change, "citation": "Ordinance 1", "reason": "here"}} if kilowatts else {}
    plan = {
        "basis": {"edition": "2023", "amendments": amendments},
        "circuits": {"c": {"breaker": {"rating": 50}}},
        "devices": {"r": {"kind": "receptacle", "circuit": "c", "rating": 40, "contacts": 1, "serves": ["range"]}},
        "appliances": {"range": {"kind": "range", "connection": "cord", "outlet": "r", "power": "12 kW", "volts": 240}},
    }
    assert {said for _, said in outcomes("receptacle-rating", plan)} == {outcome}
