"""What a check works with is let go when it ends: nothing of it waits in cycles for a collector, whose pauses others would feel."""

import gc
import json
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

import jsonpatch
import pytest

from nailplate.catalog import catalog
from nailplate.plan import Plan
from nailplate.review import Options, check
from nailplate.survey import Survey
from nailplate.wire import read_plan_value, report_json, report_on

HOUSES = ("tamarack-wren", "tamarack-heron", "tamarack-osprey")


@pytest.fixture
def uncollected() -> Iterator[None]:
    """The collector off, so that what is left in cycles stays to be counted."""
    gc.collect()
    gc.disable()
    yield
    gc.enable()


def example(house: str, *, faulty: bool) -> Any:
    folder = files("nailplate").joinpath("examples")
    plan = json.loads((folder / f"{house}.json").read_text(encoding="utf-8"))
    faults = json.loads((folder / f"{house}.faults.json").read_text(encoding="utf-8"))["faults"] if faulty else []
    for fault in faults:
        plan = jsonpatch.apply_patch(plan, fault["patch"])
    return plan


def plan_of(house: str, *, faulty: bool = False) -> Plan:
    return read_plan_value(example(house, faulty=faulty))


@pytest.mark.usefixtures("uncollected")
@pytest.mark.parametrize("faulty", [False, True])
@pytest.mark.parametrize("house", HOUSES)
def test_a_check_leaves_nothing_in_cycles(house: str, faulty: bool) -> None:
    plan, packs = plan_of(house, faulty=faulty), catalog()
    gc.collect()
    report = check(plan, packs)
    assert gc.collect() == 0
    assert bool(report.findings) is faulty


@pytest.mark.usefixtures("uncollected")
@pytest.mark.parametrize("house", HOUSES)
def test_reading_and_writing_leave_nothing_either(house: str) -> None:
    value = example(house, faulty=False)
    assert report_json(report_on(value, catalog(), Options()))  # what is made once and kept
    gc.collect()
    assert report_json(report_on(value, catalog(), Options()))
    assert gc.collect() == 0


@pytest.mark.usefixtures("uncollected")
def test_a_survey_that_is_not_let_go_would_be_seen() -> None:
    def surveyed() -> None:
        survey = Survey(plan_of("tamarack-wren"))
        survey.once(lambda asked: [asked])

    surveyed()
    assert gc.collect() > 0
