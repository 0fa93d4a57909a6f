"""What a device is called where it is bought, on the take-off and on the box sheet."""

import copy
from typing import Any

import pytest

from nailplate.plan import Plan
from nailplate.sheets.devices_told import kind_of_device
from nailplate.survey import Survey
from nailplate.wire import read_plan_value
from sheets.houses import house, plan_of


def _heron(**changes: Any) -> Plan:
    value = copy.deepcopy(house("tamarack-heron"))
    for pointer, new in changes.items():
        map_name, id_, fact = pointer.split("__")
        value[map_name][id_.replace("_", "-")][fact] = new
    return read_plan_value(value)


def _told(plan: Plan, device: str) -> str:
    return kind_of_device(Survey(plan), plan.devices[device])


@pytest.mark.parametrize(
    ("neutral", "told"),
    [(True, "50 A 125/250 V receptacle, single"), (False, "50 A 250 V receptacle, single")],
)
def test_a_receptacle_with_a_neutral_is_bought_as_125_250_volts(neutral: bool, told: str) -> None:
    """Ranges take the four-wire 14-50, a welder the 6-50 without neutral (NEMA WD 6, from memory): not the same on the shelf."""
    assert _told(_heron(circuits__range__neutral=neutral), "range-receptacle") == told


@pytest.mark.parametrize(
    ("house_name", "device", "told"),
    [
        ("tamarack-heron", "back-luminaire", "surface luminaire, for wet places"),
        ("tamarack-heron", "kitchen-2-luminaire", "lighting track"),
        ("tamarack-heron", "basin-wall-receptacle", "20 A receptacle, duplex, GFCI, tamper resistant"),
        ("tamarack-heron", "living-east-1-receptacle", "15 A receptacle, duplex, tamper resistant, with USB"),
        ("tamarack-osprey", "living-south-receptacle", "15 A receptacle, duplex, tamper resistant, lower half switched"),
        (
            "tamarack-heron",
            "out-back-receptacle",
            "20 A receptacle, duplex, tamper resistant, weather resistant, extra duty in use cover",
        ),
    ],
)
def test_a_device_is_told_as_a_supplier_asks(house_name: str, device: str, told: str) -> None:
    assert _told(plan_of(house_name), device) == told
