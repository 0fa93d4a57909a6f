"""Voltage drop, ampacity, grounding conductors and loads over HTTP, and that no body brings the service down."""

import copy
import json
from collections.abc import Iterator
from typing import Any

import pytest

from web.served import Served
from web.test_calculations import calculation
from web.test_hostile_bodies import problem

pytestmark = pytest.mark.long
DROP = {"edition": "2023", "voltage": 120, "current": 16, "length": "70 ft", "size": "12 AWG", "method": "k_factor", "k": 12.9}
GROUND = {
    "edition": "2020",
    "overcurrent": 300,
    "material": "copper",
    "upsized": {"from": "250 kcmil", "to": "350 kcmil"},
    "electrode": {"service_size": "2/0 AWG", "material": "copper", "electrode_kind": "rod"},
}
WIRE = {
    "edition": "2023",
    "size": "2/0 AWG",
    "material": "copper",
    "method": "raceway",
    "insulation": "75 C",
    "ambient": "86 degF",
    "current_carrying": 3,
    "terminations": "75 C",
    "in_thermal_insulation": False,
    "continuous": 80,
    "noncontinuous": "40 A",
    "whole_dwelling": True,
}
HOUSE = {
    "edition": "2017",
    "method": "standard",
    "floor_area": "1500 ft2",
    "small_appliance_circuits": 2,
    "laundry_circuits": 1,
    "voltage": "120/240",
    "appliances": [
        {"kind": "range", "power": "12 kW", "name": "range", "count": 1},
        {"kind": "dryer", "current": 25, "voltage": 220},
    ],
}
TRAILER = {
    "edition": "2023",
    "regime": "park_trailer",
    "supply": {"voltage": "120", "rating": 30},
    "circuits": [{"rating": 20, "count": 4, "voltage": 120, "purpose": "small_appliance", "multiwire": False}],
    "length": "24 ft",
    "width": "8 ft 6 in",
    "appliances": [{"kind": "air_conditioner", "power": 1440, "voltage": 120, "leg": "A", "motor": True, "units": 1}],
    "energy_management": False,
    "gas_heat_and_cooking": False,
}
ASKED: dict[str, dict[str, Any]] = {
    "voltage-drop": DROP,
    "grounding-conductor": GROUND,
    "ampacity": WIRE,
    "dwelling-load": HOUSE,
    "small-supply": TRAILER,
}


def test_voltage_drop_as_in_print(service: Served) -> None:
    # https://journeymaniq.com/states/california/voltage-drop-practice: 4.43 V, 3.69 percent
    value = calculation(service, "voltage-drop", DROP)
    assert round(value["result"]["drop"]["value"], 2) == 4.43
    assert round(value["result"]["percent"]["value"], 2) == 3.69
    assert any("informational notes" in citation for citation in value["citations"])


def test_conductors_of_a_dwellings_service(service: Served) -> None:
    # https://electricalcodeconnection.com/?p=3533: 2/0 copper, 175 A, behind 200 A; 40 A and 80 A continuous count for 140 A
    value = calculation(service, "ampacity", WIRE)
    assert value["result"]["ampacity"] == {"value": 175.0, "unit": "A"}
    assert value["result"]["whole_dwelling"]["largest_rating"] == {"value": 200.0, "unit": "A"}
    assert value["result"]["load"] == {
        "counted": {"value": 140.0, "unit": "A"},
        "carried": True,
        "least_overcurrent": {"value": 150.0, "unit": "A"},
    }
    assert any("out of scope" in step.get("note", "") for step in value["steps"])
    assert {"310.12", "210.20(A)", "240.6(A)"} <= set(value["citations"])


def test_a_grounding_conductor_as_in_print(service: Served) -> None:
    # https://www.inwindustrialtraining.com/post/code-talk-episode-32-notes: 2 AWG
    assert calculation(service, "grounding-conductor", GROUND)["result"] == {
        "size": "2 AWG",
        "by_table": "4 AWG",
        "electrode_conductor": "6 AWG",
    }


def test_a_dwelling_as_in_annex_d(service: Served) -> None:
    # NEC Annex D, example D1(a): 18600 VA, 77.5 A, a service of 100 A
    value = calculation(service, "dwelling-load", HOUSE)["result"]
    assert value["total"] == {"value": 18_600.0, "unit": "VA"}
    assert value["service"] == {"value": 100.0, "unit": "A"}
    assert sum(line["value"] for line in value["lines"]) == 18_600.0
    assert value["other_readings"]


def test_a_park_trailer_of_our_own(service: Served) -> None:
    # our own, published nowhere: 612 VA of lighting, four small-appliance circuits, an air conditioner of 12 A
    value = calculation(service, "small-supply", TRAILER)["result"]
    assert value["legs"] == [{"value": round((3_000 + 0.35 * 3_612) / 120 + 15, 6), "unit": "A"}]
    assert (value["fits"], value["by"]) == (True, "552.46")


@pytest.mark.parametrize(
    ("name", "change", "pointer"),
    [
        ("ampacity", {"size": "16 AWG"}, ""),
        ("ampacity", {"whole_dwelling": 1}, "/whole_dwelling"),
        ("ampacity", {"continuous": True}, "/continuous"),
        ("dwelling-load", {"floor_area": 1500}, "/floor_area"),
        ("dwelling-load", {"laundry_circuits": True}, "/laundry_circuits"),
        ("dwelling-load", {"appliances": {"kind": "range"}}, "/appliances"),
        ("dwelling-load", {"appliances": [{"kind": "range", "power": 10**9}]}, "/appliances/0/power"),
        ("small-supply", {"supply": {"voltage": 120, "rating": 30}}, "/supply/voltage"),
        ("small-supply", {"circuits": [{"rating": 20, "multiwire": "no"}]}, "/circuits/0/multiwire"),
        ("voltage-drop", {"length": "9**9**9 ft"}, "/length"),
        ("voltage-drop", {"voltage": False}, "/voltage"),
        ("grounding-conductor", {"electrode": True}, "/electrode"),
    ],
)
def test_what_is_wrong_is_told_by_its_pointer(service: Served, name: str, change: dict[str, Any], pointer: str) -> None:
    body = json.dumps({**ASKED[name], **change}).encode()
    found = problem(service.send(body, f"/v1/calculations/{name}"), 422, "invalid-request")
    assert [error["pointer"] for error in found["errors"]] == [pointer]


HOSTILE: list[Any] = [
    *(0, -1, 1e308, -1e308, 5e-324, 10**300, True, False, None),
    *("", "0", "1e400 A", "-5 ft", "nan", "9" * 400 + " W", "٣ ft", "120/240", "none", "A" * 10_000),
    *([], {}, [[]], [{"kind": "range"}], {"voltage": True}, [1] * 5_000),
]


def leaves(value: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """The place of every member, at every depth."""
    members: Any = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, each in members:
        yield (*path, key)
        yield from leaves(each, (*path, key))


def put(request: dict[str, Any], path: tuple[str | int, ...], value: Any) -> dict[str, Any]:
    changed: Any = copy.deepcopy(request)
    place = changed
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    return dict(changed)


@pytest.mark.parametrize("name", ASKED)
def test_no_member_however_hostile_brings_the_service_down(service: Served, name: str) -> None:
    assert calculation(service, name, ASKED[name])["result"]
    answered = 0
    for path in leaves(ASKED[name]):
        for value in HOSTILE:
            answer = service.send(json.dumps(put(ASKED[name], path, value)).encode(), f"/v1/calculations/{name}")
            assert answer.status_code in (200, 400, 422), (path, str(value)[:80], answer.text[:300])
            if answer.status_code == 200:
                answered += 1
                assert "NaN" not in answer.text
                assert "Infinity" not in answer.text
            else:
                assert all(len(error["detail"]) < 2_000 for error in answer.json()["errors"])
    assert answered  # some of these values are lawful somewhere
    assert calculation(service, name, ASKED[name])["result"]
