"""Whatever comes in: the right status, a problem that says where and what, and a service that goes on."""

import gzip
import json
import time
from typing import Any

import pytest
import requests

from web.plans import DRAWN, SMALL, with_change
from web.served import Served, raw

pytestmark = pytest.mark.long
MOST = 2_000_000


def problem(answer: requests.Response, status: int, name: str) -> dict[str, Any]:
    assert answer.status_code == status, answer.text[:500]
    assert answer.headers["Content-Type"] == "application/problem+json"
    value: dict[str, Any] = answer.json()
    assert value["type"] == f"/v1/problems/{name}"
    assert value["status"] == status
    assert value["title"]
    assert value["detail"]
    assert value["request_id"] == answer.headers["X-Request-Id"]
    return value


@pytest.fixture(autouse=True)
def service_goes_on(service: Served) -> Any:
    yield
    answer = service.check(SMALL)
    assert answer.status_code == 200
    assert answer.json()["verdict"] == "violations"


@pytest.mark.parametrize(
    ("body", "code", "pointer"),
    [
        pytest.param(b"", "empty", "", id="empty"),
        pytest.param(b" \n", "empty", "", id="blank"),
        pytest.param(b"[" * 100_000, "too-deep", "", id="100,000 opening brackets"),
        pytest.param(b'{"a":' * 50_000 + b"1" + b"}" * 50_000, "too-deep", "", id="50,000 objects in one another"),
        pytest.param(b'{"plan_format": NaN}', "not-a-number", "/plan_format", id="NaN"),
        pytest.param(b'{"plan_format": -Infinity}', "not-a-number", "/plan_format", id="infinity"),
        pytest.param(b'{"plan_format": 1e999}', "number-range", "/plan_format", id="1e999"),
        pytest.param(b'{"plan_format": ' + b"9" * 5000 + b"}", "number-range", "/plan_format", id="5,000 digits"),
        pytest.param(b'{"name": "a", "name": "b"}', "doubled-key", "", id="doubled key"),
        pytest.param(b'{"name": "\\ud800"}', "surrogate", "/name", id="half a surrogate pair"),
        pytest.param(b'["\\ud800"]', "surrogate", "/0", id="half a surrogate pair outside every object"),
        pytest.param(b'{"name": "a\\u0000b"}', "control-character", "/name", id="control character"),
        pytest.param(json.dumps(SMALL).encode("utf-16"), "encoding", "", id="UTF-16"),
        pytest.param(b"\xef\xbb\xbf" + json.dumps(SMALL).encode(), "encoding", "", id="byte order mark"),
        pytest.param(gzip.compress(json.dumps(SMALL).encode()), "encoding", "", id="gzip that does not say so"),
        pytest.param(b'{"plan_format": 1,}', "malformed", "", id="trailing comma"),
        pytest.param(b'{"' + b"a" * 300 + b'": NaN}', "not-a-number", "", id="a pointer too long to send back"),
        pytest.param(b"plan_format: 1", "malformed", "", id="not JSON"),
        pytest.param(b'{"plan_format": 1', "malformed", "", id="cut short"),
    ],
)
def test_what_is_not_json_is_400(service: Served, body: bytes, code: str, pointer: str) -> None:
    for path in ("/v1/checks", "/v1/plan-lints", "/v1/calculations/box-fill"):
        errors = problem(service.send(body, path), 400, "malformed-json")["errors"]
        assert [(error["pointer"], error["code"]) for error in errors] == [(pointer, code)]
        assert errors[0]["detail"]


@pytest.mark.parametrize("body", [b"[]", b"null", b"1", b'"plan"', b"true"])
def test_json_that_is_no_object_is_422(service: Served, body: bytes) -> None:
    found = problem(service.send(body), 422, "invalid-plan")
    assert [(error["pointer"], error["code"]) for error in found["errors"]] == [("", "wrong-type")]


QUANTITY = ("boxes", "hall", "volume")
WRONG_PLANS = [
    ("arithmetic", with_change(SMALL, "circuits", "lights", to={"length": "9**9**9 ft"}), None),
    ("arithmetic as a volume", with_change(SMALL, *QUANTITY, to="9**9**9 in3"), ("/boxes/hall/volume", "bad-quantity")),
    ("letters up to the cap", with_change(SMALL, *QUANTITY, to="a" * (MOST - 5000)), ("/boxes/hall/volume", "bad-quantity")),
    (
        "inches over eleven",
        with_change(DRAWN, "walls", "north", "thickness", to="7'-12\""),
        ("/walls/north/thickness", "bad-quantity"),
    ),
    (
        "arithmetic as a length",
        with_change(DRAWN, "walls", "north", "thickness", to="9**9**9 ft"),
        ("/walls/north/thickness", "bad-quantity"),
    ),
    (
        "digits of another script",
        with_change(DRAWN, "walls", "north", "thickness", to="٣ ft"),
        ("/walls/north/thickness", "bad-quantity"),
    ),
    ("quoted number", with_change(DRAWN, "walls", "north", "thickness", to="4.5"), ("/walls/north/thickness", "bad-quantity")),
    ("two corners", with_change(DRAWN, "rooms", "hall", "outline", to=[[0, 0], [9, 9]]), ("/rooms/hall/outline", "bad-value")),
    (
        "outline that crosses itself",
        with_change(DRAWN, "rooms", "hall", "outline", to=[[0, 0], [99, 99], [99, 0], [0, 99]]),
        ("/rooms/hall/outline", "bad-geometry"),
    ),
    (
        "box in no wall",
        with_change(DRAWN, "boxes", to={"hall": {"at": {"wall": "nowhere", "along": 3, "height": 40}}}),
        ("/boxes/hall/at/wall", "dangling-reference"),
    ),
    (
        "cable from a box to itself",
        with_change(SMALL, "cables", "feed", "ends", to=[{"box": "hall"}, {"box": "hall"}]),
        ("/cables/feed/ends", "contradiction"),
    ),
    (
        "circuit on no panel",
        with_change(SMALL, "circuits", "lights", to={"panel": "none"}),
        ("/circuits/lights/panel", "dangling-reference"),
    ),
    (
        "id of a device as a room",
        with_change(DRAWN, "devices", to={"lamp": {"kind": "luminaire", "at": {"room": "lamp", "point": [1, 1]}}}),
        ("/devices/lamp/at/room", "dangling-reference"),
    ),
    ("id of 65 characters", with_change(SMALL, "boxes", "b" * 65, to={}), ("/boxes/" + "b" * 65, "bad-id")),
    ("id of other letters", with_change(SMALL, "boxes", "küche", to={}), ("/boxes/küche", "bad-id")),
    ("id with a slash", with_change(SMALL, "boxes", "a/b", to={}), ("/boxes/a~1b", "bad-id")),
    ("unknown edition", with_change(SMALL, "basis", "edition", to="2018"), ("/basis/edition", "bad-choice")),
    ("unknown field", with_change(SMALL, "devices", "switch", "boks", to="hall"), ("/devices/switch/boks", "unknown-field")),
    ("null", with_change(SMALL, *QUANTITY, to=None), ("/boxes/hall/volume", "wrong-type")),
    ("no edition", with_change(SMALL, "basis", to={}), ("/basis/edition", "missing-field")),
]


@pytest.mark.parametrize(
    ("plan", "expected"), [pytest.param(plan, fault, id=name) for name, plan, fault in WRONG_PLANS if fault]
)
def test_json_that_is_no_plan_is_422_with_its_pointer(service: Served, plan: dict[str, Any], expected: tuple[str, str]) -> None:
    found = problem(service.check(plan), 422, "invalid-plan")
    assert expected in [(error["pointer"], error["code"]) for error in found["errors"]]
    assert found["total"] == len(found["errors"])
    assert all(0 < len(error["detail"]) < 2000 for error in found["errors"])
    enveloped = problem(service.check({"plan": plan}), 422, "invalid-plan")
    assert ("/plan" + expected[0], expected[1]) in [(error["pointer"], error["code"]) for error in enveloped["errors"]]


@pytest.mark.parametrize(
    ("plan", "expected"), [pytest.param(plan, fault, id=name) for name, plan, fault in WRONG_PLANS if fault]
)
def test_lint_tells_the_same_faults_with_200(service: Served, plan: dict[str, Any], expected: tuple[str, str]) -> None:
    answer = service.send(json.dumps(plan).encode(), "/v1/plan-lints")
    assert answer.status_code == 200
    found = answer.json()
    assert found["valid"] is False
    assert expected in [(fault["pointer"], fault["code"]) for fault in found["faults"]]


def test_plan_over_the_cap_is_413(service: Served) -> None:
    body = json.dumps(with_change(SMALL, *QUANTITY, to="a" * 3_000_000)).encode()
    for path in ("/v1/checks", "/v1/plan-lints", "/v1/calculations/box-fill"):
        assert str(MOST) in problem(service.send(body, path), 413, "body-too-large")["detail"]


def test_body_in_chunks_over_the_cap_is_413(service: Served) -> None:
    piece = b"a" * 65_536

    def pieces() -> Any:
        yield b'{"name": "'
        yield from (piece for _ in range(40))
        yield b'"}'

    answer = requests.post(service.base + "/v1/checks", data=pieces(), headers={"Content-Type": "application/json"}, timeout=30)
    problem(answer, 413, "body-too-large")


def test_body_in_chunks_under_the_cap_is_checked(service: Served) -> None:
    body = json.dumps(SMALL).encode()
    halves = iter([body[:300], body[300:]])
    answer = requests.post(service.base + "/v1/checks", data=halves, headers={"Content-Type": "application/json"}, timeout=30)
    assert answer.status_code == 200


@pytest.mark.parametrize(
    ("headers", "name"),
    [
        ({"Content_Type": "text/plain"}, "text"),
        ({"Content_Type": "application/xml"}, "XML"),
        ({"Content_Type": "application/x-www-form-urlencoded"}, "form"),
        ({"Content_Type": "application/json; charset=utf-16"}, "UTF-16"),
        ({"Content_Encoding": "br"}, "br"),
        ({"Content_Encoding": "gzip, gzip"}, "gzip twice"),
    ],
    ids=lambda each: each if isinstance(each, str) else "",
)
def test_body_of_another_kind_is_415(service: Served, headers: dict[str, str], name: str) -> None:
    for path in ("/v1/checks", "/v1/plan-lints", "/v1/calculations/box-fill"):
        problem(service.send(gzip.compress(json.dumps(SMALL).encode()), path, **headers), 415, "unsupported-media")


def test_body_without_a_content_type_is_415(service: Served) -> None:
    answer = requests.post(service.base + "/v1/checks", data=json.dumps(SMALL).encode(), timeout=30)
    problem(answer, 415, "unsupported-media")
    assert answer.headers["Accept-Post"] == "application/json"


def test_other_json_types_are_taken(service: Served) -> None:
    for kind in ("application/json; charset=UTF-8", "application/vnd.example+json"):
        assert service.check(SMALL, Content_Type=kind).status_code == 200


def test_at_most_100_errors_are_listed_and_all_are_counted(service: Served) -> None:
    plan = {**SMALL, **{f"field{number}": 1 for number in range(250)}}
    found = problem(service.check(plan), 422, "invalid-plan")
    assert len(found["errors"]) == 100
    assert found["total"] == 250


@pytest.mark.parametrize(
    ("name", "plan"),
    [
        ("unknown fields", {**SMALL, **{f"boxx{number}": 1 for number in range(100_000)}}),
        (
            "references to nothing",
            {
                **SMALL,
                "boxes": {f"box{number:05}": {} for number in range(15_000)},
                "devices": {f"d{number}": {"kind": "switch", "box": f"bax{number}"} for number in range(15_000)},
            },
        ),
        ("misspelt kinds", {**SMALL, "devices": {f"d{number}": {"kind": "swich"} for number in range(40_000)}}),
        (
            "rooms of 200 corners",
            {
                **DRAWN,
                "rooms": {
                    f"room{number}": {
                        "level": "main",
                        "uses": ["hallway"],
                        "outline": [[x, (x * 7919) % 997] for x in range(200)],
                    }
                    for number in range(600)
                },
            },
        ),
    ],
    ids=lambda each: each if isinstance(each, str) else "",
)
def test_many_faults_are_told_in_time(service: Served, name: str, plan: dict[str, Any]) -> None:
    body = json.dumps(plan, separators=(",", ":")).encode()
    assert len(body) < MOST
    began = time.monotonic()
    problem(service.send(body), 422, "invalid-plan")
    assert time.monotonic() - began < 20


def test_envelope_with_unknown_fields_or_wrong_options_is_422(service: Served) -> None:
    found = problem(
        service.check({"plan": SMALL, "optoins": {}, "options": {"max_findings": 0, "today": "2020-01-01"}}),
        422,
        "invalid-request",
    )
    assert {(error["pointer"], error["code"]) for error in found["errors"]} == {
        ("/optoins", "unknown-field"),
        ("/options/today", "unknown-field"),
        ("/options/max_findings", "bad-value"),
    }
    assert problem(service.check({"plan": SMALL, "options": []}), 422, "invalid-request")["errors"][0]["pointer"] == "/options"


def test_hostile_heads_are_refused_without_a_crash(service: Served) -> None:
    for head in (
        b"GET /v1/rules/%FF%FE%00 HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n",
        b"GET /v1/rules/../../etc/passwd HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n",
        b"GET /v1/schemas/..%2f..%2fsettings HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n",
        b"GET /v1/rules?edition=%ED%A0%80 HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n",
        b"GET /v1/version HTTP/1.1\r\nHost: bad host!\r\nConnection: close\r\n\r\n",
        b"GET /v1/version HTTP/1.1\r\nHost: localhost\r\nX-Request-Id: a\xffb\r\nConnection: close\r\n\r\n",
        b"GET /v1/version HTTP/1.1\r\nHost: localhost\r\nAccept: ;;;,,,q=\r\nConnection: close\r\n\r\n",
        b"POST /v1/checks HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: -1\r\n\r\n",
        b"POST /v1/checks HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json; charset=\xff\r\nContent-Length: 2\r\n\r\n{}",
    ):
        answer = raw(service.port, [head])
        status = int(answer.split(b" ")[1])
        assert status < 500, (head, answer[:300])


def test_chunks_that_are_none_are_refused(service: Served) -> None:
    head = (
        b"POST /v1/checks HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n"
    )
    for chunks in (b"zz\r\n{}\r\n0\r\n\r\n", b"2\r\n{}0\r\n\r\n", b"2\r\n{}\r\n0\r\nno trailer\r\n\r\n", b"-2\r\n{}\r\n"):
        answer = raw(service.port, [head, chunks])
        assert answer.startswith(b"HTTP/1.1 4"), (chunks, answer[:300])
