"""All sheets and drawings of the largest house are made in the time of two checks, in CPU time and the best of three."""

import time
from collections.abc import Callable
from importlib.resources import files

import pytest

from nailplate.catalog import catalog
from nailplate.codes import edition
from nailplate.render.tables import FORMS
from nailplate.review import check
from nailplate.sheets.drawing import PAPERS, Stamp, level_sheet, levels_drawn, wall_sheet, walls_with_boxes
from nailplate.sheets.orders import Order
from nailplate.sheets.registry import TABLES
from nailplate.survey import Survey
from nailplate.wire import read_plan

pytestmark = pytest.mark.long
HOUSE = files("nailplate").joinpath("examples", "tamarack-osprey.json").read_bytes()


def test_all_sheets_take_less_than_two_checks() -> None:
    assert _timed(_sheets) < 2 * _timed(lambda: check(read_plan(HOUSE), catalog()))


def _sheets() -> object:
    plan = read_plan(HOUSE)
    survey, stamp = Survey(plan, edition("2023")), Stamp(plan.name, "2023")
    tables = [FORMS["text/html"](each.make(Order(survey, stamp, ""))) for each in TABLES.values()]
    levels = [level_sheet(survey, level, PAPERS["letter"], stamp) for level in levels_drawn(survey)]
    return tables, levels, [wall_sheet(survey, wall, PAPERS["letter"], stamp) for wall in walls_with_boxes(survey)]


def _timed(made: Callable[[], object]) -> float:
    times = []
    for _ in range(3):
        began = time.process_time()
        made()
        times.append(time.process_time() - began)
    return min(times)
