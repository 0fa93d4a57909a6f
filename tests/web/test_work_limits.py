"""Every route that works on a plan is held to the steps and the seconds of one request, and tells what it was at."""

import json
from typing import Any

import pytest
from flask.testing import FlaskClient

from bench import dense
from nailplate.sheets.registry import SHEETS
from nailplate.web import create_app
from nailplate.web.settings import Settings

pytestmark = pytest.mark.long
FEW = 3500


def client(budget: int) -> FlaskClient:
    """The service with that budget, in this process: the budget is the operator's, not the caller's."""
    return create_app(Settings(check_budget=budget)).test_client()


@pytest.fixture(scope="module")
def narrow() -> FlaskClient:
    return client(FEW)


def stopped(answer: Any, at: str) -> None:
    assert answer.status_code == 422, answer.get_data(as_text=True)[:300]
    assert answer.content_type == "application/problem+json"
    assert answer.json["type"] == "/v1/problems/too-much-work"
    assert at in answer.json["detail"], answer.json["detail"]


PLAN = dense.same_railing(150)


def joined_boxes(number: int) -> dict[str, Any]:
    """Boxes on a wall, each joined to the next by a cable whose way is not drawn."""
    boxes = {f"b{n}": {"at": {"wall": "w0", "along": 12 + 20 * n, "height": 16 + n % 7, "side": "left"}} for n in range(number)}
    ends = [({"box": f"b{n}"}, {"box": f"b{n + 1}"}) for n in range(number - 1)]
    cables = {f"c{n}": dense.cable(*each, circuit="c") for n, each in enumerate(ends)}
    return dense.house(**dense.shell(20 * number + 40), **dense.PANEL, boxes=boxes, cables=cables)


ON_THE_WAY = [
    pytest.param("/v1/checks", PLAN, "at rule ", id="check"),
    *(pytest.param(f"/v1/sheets/{name}", PLAN, "at rule ", id=name) for name in SHEETS),
    pytest.param("/v1/comparisons", {"old": PLAN, "new": PLAN}, "at rule ", id="comparison"),
    pytest.param("/v1/fix-previews", {"plan": PLAN, "patches": [[{"op": "remove", "path": "/rooms"}]]}, "at rule ", id="fixes"),
    pytest.param("/v1/resolved-plans", joined_boxes(150), "at routes, lengths and loads", id="resolved plan"),
]


@pytest.mark.parametrize(("path", "body", "at"), ON_THE_WAY)
def test_a_route_that_runs_out_of_steps_says_where(narrow: FlaskClient, path: str, body: Any, at: str) -> None:
    stopped(narrow.post(path, json=body), at)


def test_a_sheet_has_steps_of_its_own_and_says_that_it_used_them_up() -> None:
    wide = client(60_000)
    plan = dense.cables_in_a_box(100)
    assert wide.post("/v1/checks", json=plan).status_code == 200
    stopped(wide.post("/v1/sheets/boxes?format=pdf", json=plan), "at the sheet boxes")


def test_a_batch_tells_it_of_the_one_plan_and_goes_on(narrow: FlaskClient) -> None:
    small = {"plan_format": 1, "name": "small", "basis": {"edition": "2023"}}
    answer = narrow.post("/v1/batch-checks", json=[{"key": "a", "plan": PLAN}, {"key": "b", "plan": small}])
    first, second, _ = map(json.loads, answer.get_data(as_text=True).splitlines())
    assert (first["status"], second["status"]) == ("refused", "checked")
    assert "steps of work" in json.dumps(first)
