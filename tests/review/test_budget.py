"""A check is bounded in steps of work, not in time: the same plan ends the same way, and ordinary houses are far under the bound."""

import json
from contextlib import suppress
from importlib.resources import files

import pytest

from bench import dense
from nailplate.calc.work import Meter, metered, spend
from nailplate.catalog import catalog
from nailplate.review import BUDGET, Options, OverBudget, check
from nailplate.wire import read_plan, read_plan_value

HOUSES = ("tamarack-wren", "tamarack-heron", "tamarack-osprey")


def steps_to_a_byte(source: bytes) -> float:
    plan, meter = read_plan(source), Meter(BUDGET)
    with metered(meter):
        check(plan, catalog(), Options(budget=None))
    return meter.spent / len(source)


@pytest.mark.parametrize("house", HOUSES)
def test_a_body_full_of_ordinary_houses_is_within_half_the_budget(house: str) -> None:
    source = files("nailplate").joinpath("examples", f"{house}.json").read_bytes()
    assert 0 < steps_to_a_byte(source) * 2_000_000 < BUDGET / 2


def test_past_the_budget_the_error_names_rule_and_part_and_is_the_same_again() -> None:
    plan = read_plan_value(dense.same_railing(100))
    ends = []
    for _ in range(2):
        with pytest.raises(OverBudget) as over:
            check(plan, catalog(), Options(budget=3000))
        ends.append((over.value.doing, over.value.part, over.value.budget))
    assert ends[0] == ends[1]
    assert ends[0][0].removeprefix("rule ") in catalog().rules
    assert ends[0][2] == 3000
    assert over.value.faults[0].detail == f"{over.value.doing} went past the 3000 steps of work that one check may take"


def test_a_rule_cannot_go_on_past_the_budget() -> None:
    """As a careless rule would: it catches every exception."""
    with metered(Meter(2)), pytest.raises(BaseException, match="more than 2 steps"), suppress(Exception):
        spend(3)


DENSE_WITHIN_TEN = (
    "devices_on_a_wall",
    "cables_in_a_box",
    "switches_in_a_box",
    "comb_of_jogs",
    "maze_of_rooms",
    "open_maze",
    "chain_of_gfcis",
    "chain_of_boxes",
    "controls_of_the_same",
    "bundled_cables",
    "circuits_of_a_panel",
    "appliances_of_a_circuit",
)


@pytest.mark.parametrize("name", DENSE_WITHIN_TEN)
def test_dense_plans_stay_within_the_budget_or_end_there(name: str) -> None:
    """A tenth of each, so that the quick line stays quick; the table of the whole ones is printed by ``bench/dense.py``."""
    build = dense.PLANS[name]
    size = (build.__defaults__ or (0,))[0] // 10
    source = json.dumps(build(max(size, 5))).encode()
    ordinary = steps_to_a_byte(files("nailplate").joinpath("examples", "tamarack-wren.json").read_bytes())
    assert steps_to_a_byte(source) < 40 * ordinary
