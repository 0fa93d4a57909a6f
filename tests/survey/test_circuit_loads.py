"""What a circuit feeds and what that draws: each load once, as a span from the least to the most that a plan can mean."""

import json
from math import inf
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nailplate.codes import EDITIONS, edition
from nailplate.survey import Survey
from nailplate.survey.loads.appliance_trades import Attached
from nailplate.survey.loads.circuit_loads import Fed, fed_by, total
from nailplate.survey.wiring.bearings import circuit_wire
from nailplate.wire import read_plan

CIRCUIT = {"voltage": 120, "breaker": {"rating": 20, "poles": 1}}


def surveyed(appliances: dict[str, Any], devices: dict[str, Any], circuit: dict[str, Any] | None = None) -> Survey:
    plan = {
        "plan_format": 1,
        "name": "p",
        "basis": {"edition": "2023"},
        "circuits": {"c": circuit or CIRCUIT},
        "appliances": appliances,
        "devices": devices,
    }
    return Survey(read_plan(json.dumps(plan).encode()))


def fed(appliances: dict[str, Any], devices: dict[str, Any] | None = None) -> Fed:
    survey = surveyed(appliances, devices or {})
    return fed_by(survey, survey.plan.circuits["c"])


def test_a_fan_drawn_as_device_and_as_appliance_counts_once() -> None:
    fan = {"kind": "exhaust_fan", "volts": 120, "power": "60 W", "connection": "hard_wired", "outlet": "f", "circuit": "c"}
    found = fed({"fan": fan}, {"f": {"kind": "exhaust_fan", "circuit": "c", "power": "60 W"}})
    assert [each.part.id for each in found.loads] == ["fan"]
    assert found.outlets == 1
    assert total(found.loads)[:2] == (0.5, 0.5)


def test_an_appliance_is_on_the_circuit_of_the_outlet_it_uses() -> None:
    washer = {"kind": "clothes_washer", "volts": 120, "current": 9, "connection": "cord", "outlet": "r"}
    found = fed({"washer": washer}, {"r": {"kind": "receptacle", "circuit": "c"}})
    assert [each.id for each in found.appliances] == ["washer"]
    assert found.free == ()


def test_a_kettle_leaves_its_receptacle_free_for_others() -> None:
    kettle = {"kind": "kettle", "volts": 120, "power": "1500 W", "outlet": "r", "circuit": "c"}
    found = fed({"kettle": kettle}, {"r": {"kind": "receptacle", "circuit": "c"}})
    assert found.appliances == ()
    assert [each.id for each in found.receptacles_for_use] == ["r"]
    assert [each.attached for each in found.loads] == [Attached.CARRIED]


@pytest.mark.parametrize(
    ("facts", "attached"),
    [
        ({"kind": "dishwasher", "connection": "cord"}, Attached.FASTENED),
        ({"kind": "other", "connection": "hard_wired"}, Attached.FASTENED),
        ({"kind": "microwave", "connection": "cord", "fastened": True}, Attached.FASTENED),
        ({"kind": "microwave", "connection": "cord", "fastened": False}, Attached.CORD),
        ({"kind": "refrigerator", "connection": "cord"}, Attached.CORD),
        ({"kind": "hair_dryer", "connection": "cord"}, Attached.CARRIED),
        ({"kind": "microwave", "connection": "cord"}, None),
    ],
)
def test_how_an_appliance_is_joined(facts: dict[str, Any], attached: Attached | None) -> None:
    [load] = fed({"a": {"volts": 120, "current": 5, "circuit": "c", **facts}}).loads
    assert load.attached is attached


def test_what_is_not_said_is_a_span_and_names_what_is_missing() -> None:
    lights = {"l": {"kind": "luminaire", "circuit": "c"}, "f": {"kind": "fan", "circuit": "c"}}
    least, most, needs = total(fed({"a": {"kind": "other", "volts": 120, "circuit": "c"}}, lights).loads)
    assert (least, most) == (0.0, inf)
    assert set(needs) == {"/appliances/a/current", "/appliances/a/fastened", "/devices/f/power"}
    assert total(fed({}, lights).loads)[1] == pytest.approx(175 / 120)


@given(currents=st.lists(st.floats(min_value=0.1, max_value=40), min_size=1, max_size=8))
def test_another_load_never_lowers_the_total(currents: list[float]) -> None:
    appliances = {
        f"a{number}": {"kind": "other", "volts": 120, "current": round(each, 3), "connection": "hard_wired", "circuit": "c"}
        for number, each in enumerate(currents)
    }
    every = total(fed(appliances).loads)
    fewer = total(fed(dict(list(appliances.items())[:-1])).loads)
    assert every[0] >= fewer[0]
    assert every[1] >= fewer[1]


# 60 C column of Table 310.16, https://www.scribd.com/document/602627451/NEC-Table-310-16-Penghantar
@pytest.mark.parametrize("year", EDITIONS)
@pytest.mark.parametrize(("size", "bears"), [("14 AWG", 15), ("12 AWG", 20), ("10 AWG", 30), ("8 AWG", 40), ("6 AWG", 55)])
def test_what_nonmetallic_sheathed_cable_bears_before_correction(year: str, size: str, bears: float) -> None:
    conductor = {"size": size, "material": "copper", "type": "NM-B", "ambient": "50 degC"}
    survey = surveyed({}, {}, {**CIRCUIT, "conductor": conductor})
    wire = circuit_wire(survey, survey.plan.circuits["c"], edition(year))
    assert (wire.worst, wire.best, wire.known) == (bears, bears, True)


def test_wire_that_is_not_drawn_is_named_as_missing() -> None:
    survey = surveyed({}, {})
    wire = circuit_wire(survey, survey.plan.circuits["c"], edition("2023"))
    assert not wire.known
    assert wire.needs == ("/circuits/c/conductor/size",)
