"""The document whole: what is not said, what is not drawn yet, and what editors alone read."""

from typing import Any

import pytest

from nailplate.plan import PlanRefused
from nailplate.wire import read_plan_value

BARE: dict[str, Any] = {"plan_format": 1, "name": "shed", "basis": {"edition": "2023"}, "units": {"length": "in"}}


def test_a_map_left_out_is_not_said_and_an_empty_one_says_that_nothing_is_drawn_yet() -> None:
    unsaid, none_yet = read_plan_value(BARE), read_plan_value({**BARE, "devices": {}})
    assert not unsaid.knows("devices")
    assert none_yet.knows("devices")
    assert unsaid.devices == none_yet.devices == {}


def test_the_schema_that_an_editor_completes_by_is_taken() -> None:
    plan = read_plan_value({"$schema": "https://checks.example/v1/schemas/plan-1", **BARE})
    assert plan.schema_address == "https://checks.example/v1/schemas/plan-1"


def test_a_schema_that_is_no_text_is_refused_where_it_stands() -> None:
    with pytest.raises(PlanRefused) as refused:
        read_plan_value({"$schema": 1, **BARE})
    assert [str(fault.pointer) for fault in refused.value.faults] == ["/$schema"]
