"""Plans resolved and compared over HTTP: the same as in this process, and every fault with its pointer into the body."""

import json
from typing import Any

import pytest

from nailplate.wire import resolved
from web.plans import SMALL
from web.served import Served


def post(service: Served, path: str, value: Any, **headers: str) -> Any:
    return service.send(json.dumps(value).encode(), path, **headers)


def test_resolved_plan_is_that_of_the_library_and_is_taken_as_a_plan(service: Served) -> None:
    answer = post(service, "/v1/resolved-plans", SMALL)
    assert answer.status_code == 200
    assert answer.json() == resolved(SMALL)
    assert post(service, "/v1/resolved-plans", {"plan": answer.json()}).json() == answer.json()
    fingerprints = [[each["fingerprint"] for each in service.check(plan).json()["findings"]] for plan in (SMALL, answer.json())]
    assert fingerprints[0] == fingerprints[1]


def test_resolving_no_plan_is_refused_with_pointers_into_the_body(service: Served) -> None:
    answer = post(service, "/v1/resolved-plans", {"plan": {**SMALL, "boxs": {}}})
    assert answer.status_code == 422
    assert [each["pointer"] for each in answer.json()["errors"]] == ["/plan/boxs"]


LARGER = {**SMALL, "boxes": {**SMALL["boxes"], "hall": {**SMALL["boxes"]["hall"], "volume": "40 in3"}}}


def test_comparison_names_what_is_gone_and_the_part_touched(service: Served) -> None:
    found = post(service, "/v1/comparisons", {"old": SMALL, "new": LARGER}).json()
    assert [(each["rule"], each["where"]["pointer"]) for each in found["gone"]] == [("box-volume", "/boxes/hall")]
    assert found["parts"] == [{"at": "/boxes/hall", "change": "changed", "fields": ["volume"]}]
    page = post(service, "/v1/comparisons", {"old": SMALL, "new": LARGER}, Accept="text/markdown")
    assert "## Findings gone" in page.text


def test_one_plan_by_another_edition(service: Served) -> None:
    found = post(service, "/v1/comparisons", {"old": SMALL, "edition_of_second": "2017"}).json()
    assert [found[side]["edition"] for side in ("old", "new")] == ["2023", "2017"]
    assert found["provisions"]


WRONG: list[tuple[Any, int, str]] = [
    ([], 422, ""),
    ({}, 422, "/old"),
    ({"old": SMALL}, 422, "/new"),
    ({"old": SMALL, "new": SMALL, "extra": 1}, 422, "/extra"),
    ({"old": SMALL, "edition_of_second": "2021"}, 422, "/edition_of_second"),
    ({"old": SMALL, "edition_of_second": ["2020"]}, 422, "/edition_of_second"),
    ({"old": {**SMALL, "boxs": {}}, "new": SMALL}, 422, "/old/boxs"),
    ({"old": SMALL, "new": {**SMALL, "boxs": {}}}, 422, "/new/boxs"),
    ({"old": SMALL, "new": 3}, 422, "/new"),
]


@pytest.mark.parametrize(("body", "status", "pointer"), WRONG, ids=[f"{each[2]}-{number}" for number, each in enumerate(WRONG)])
def test_wrong_comparisons_are_refused_with_pointers(service: Served, body: Any, status: int, pointer: str) -> None:
    answer = post(service, "/v1/comparisons", body)
    assert answer.status_code == status
    assert pointer in [each["pointer"] for each in answer.json()["errors"]]
