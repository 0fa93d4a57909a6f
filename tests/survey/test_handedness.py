"""A house drawn with y down is told as that, and a sound one is taken."""

from typing import Any

import pytest

from houses import house as whole_house
from nailplate.plan import PlanRefused
from nailplate.wire import read_plan_value

HOUSES = ("wren", "heron", "osprey")
_POINTS = ("from", "to", "point")
_LINES = ("outline", "points", "bowl", "footprint", "back", "opening", "track", "line")


def house(name: str) -> dict[str, Any]:
    plan: dict[str, Any] = whole_house(f"tamarack-{name}")
    return plan


def with_y_down(value: Any) -> Any:
    if isinstance(value, list):
        return [with_y_down(each) for each in value]
    if not isinstance(value, dict):
        return value
    return {name: _turned(name, member) for name, member in value.items()}


def _turned(name: str, value: Any) -> Any:
    if name in _POINTS and isinstance(value, list):
        return [value[0], -value[1]]
    if name in _LINES and isinstance(value, list):
        return [[x, -y] for x, y in value]
    return with_y_down(value)


@pytest.mark.parametrize("name", HOUSES)
def test_house_with_y_down_is_one_fault_that_says_so(name: str) -> None:
    with pytest.raises(PlanRefused) as refused:
        read_plan_value(with_y_down(house(name)))
    (fault,) = refused.value.faults
    assert str(fault.pointer) == "/devices"
    assert "y down" in fault.detail


def test_few_outlets_drawn_outdoors_are_no_mirrored_house() -> None:
    plan = house("wren")
    plan.pop("cables"), plan.pop("controls", None)
    outdoors = {
        name: each for name, each in plan["devices"].items() if name.startswith("out-") and each["kind"] == "receptacle"
    }
    assert outdoors
    read_plan_value({**plan, "devices": outdoors, "appliances": {}})
