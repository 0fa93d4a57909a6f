"""What an operator and a design tool rely on: origins, gzip, keep-alive, the time limit, metrics, the platform's own variables."""

import gzip
import hashlib
import http.client
import json
import socket
import time
import zlib
from pathlib import Path
from typing import Any

import pytest
import requests

from nailplate.web import SettingsError, read_settings
from nailplate.web.access import read_tokens
from nailplate.web.settings import Settings
from web.plans import SMALL
from web.served import Served, raw, served
from web.test_hostile_bodies import problem

TOOL = "https://draw.example"


@pytest.fixture(scope="module")
def tuned(tmp_path_factory: pytest.TempPathFactory) -> Any:
    folder = tmp_path_factory.mktemp("tuned")
    token = folder / "tokens"
    token.write_text(hashlib.sha256(b"open sesame").hexdigest() + "\n")
    settings = {"NAILPLATE_ORIGINS": f"{TOOL}, http://localhost:5173", "NAILPLATE_METRICS": "1", "NAILPLATE_TOKENS": str(token)}
    with served(folder, settings, workers=2) as running:
        yield running


AUTH = {"Authorization": "Bearer open sesame"}


def test_named_origins_may_call_and_others_are_told_nothing(tuned: Served) -> None:
    asked = {
        "Origin": TOOL,
        "Access-Control-Request-Method": "POST",
        "Access-Control-Request-Headers": "authorization, content-type",
    }
    preflight = requests.options(tuned.base + "/v1/checks", headers=asked, timeout=30)
    assert preflight.status_code == 200
    assert preflight.headers["Access-Control-Allow-Origin"] == TOOL
    assert "POST" in preflight.headers["Access-Control-Allow-Methods"]
    assert {"Authorization", "Content-Type"} <= {
        each.strip() for each in preflight.headers["Access-Control-Allow-Headers"].split(",")
    }
    answer = tuned.check(SMALL, Origin=TOOL, **AUTH)
    assert answer.headers["Access-Control-Allow-Origin"] == TOOL
    assert answer.headers["Cross-Origin-Resource-Policy"] == "cross-origin"
    assert "Origin" in answer.headers["Vary"]
    assert "Access-Control-Allow-Credentials" not in answer.headers
    refused = tuned.check(SMALL, Origin=TOOL)
    assert (refused.status_code, refused.headers["Access-Control-Allow-Origin"]) == (401, TOOL)
    for other in ("https://draw.example.evil.example", "null", "https://other.example"):
        assert "Access-Control-Allow-Origin" not in tuned.check(SMALL, Origin=other, **AUTH).headers


def test_metrics_count_over_all_workers(tuned: Served) -> None:
    before = _counted(tuned)
    for _ in range(12):
        assert tuned.check(SMALL, **AUTH).status_code == 200
    assert _counted(tuned) - before == 12
    assert requests.get(tuned.base + "/metrics", timeout=30).status_code == 401


def _counted(service: Served) -> float:
    text = service.get("/metrics", headers=AUTH).text
    wanted = 'nailplate_requests_total{route="/v1/checks",status="200"} '
    return next((float(line.removeprefix(wanted)) for line in text.splitlines() if line.startswith(wanted)), 0.0)


def test_metrics_are_off_unless_asked_for(service: Served) -> None:
    problem(service.get("/metrics"), 404, "not-found")


def test_the_address_itself_says_what_answers_here(service: Served) -> None:
    home = service.get("/").json()
    for link in home["links"].values():
        assert service.get(link).status_code in (200, 405), link
    page = service.get("/", headers={"Accept": "text/html"})
    assert page.headers["Content-Type"].startswith("text/html")
    assert 'href="/docs"' in page.text


def test_gzip_bodies_are_taken_up_to_the_cap_of_plain_ones(service: Served) -> None:
    body = json.dumps(SMALL).encode()
    assert service.send(gzip.compress(body), Content_Encoding="gzip").content == service.send(body).content
    bomb = gzip.compress(b" " * 200_000_000)
    problem(service.send(bomb, Content_Encoding="gzip"), 413, "body-too-large")
    problem(service.send(gzip.compress(body)[:-4], Content_Encoding="gzip"), 400, "bad-request")
    problem(service.send(gzip.compress(body) + b"x", Content_Encoding="gzip"), 400, "bad-request")
    problem(service.send(body, Content_Encoding="gzip"), 400, "bad-request")
    problem(service.send(body, Content_Encoding="br"), 415, "unsupported-media")


def test_answers_are_deflated_where_asked(service: Served) -> None:
    plain = service.check(SMALL, Accept_Encoding="identity")
    assert "Content-Encoding" not in plain.headers
    with requests.post(
        f"{service.base}/v1/checks", json=SMALL, headers={"Accept-Encoding": "gzip"}, timeout=30, stream=True
    ) as answer:
        raw_bytes = answer.raw.read(decode_content=False)
    assert answer.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(raw_bytes) == plain.content
    assert len(raw_bytes) < len(plain.content) / 3
    assert "Accept-Encoding" in plain.headers["Vary"]
    assert service.check(SMALL, Accept_Encoding="gzip;q=0").headers.get("Content-Encoding") is None


def test_an_etag_holds_for_the_deflated_answer_too(service: Served) -> None:
    first = service.get("/v1/rules", headers={"Accept-Encoding": "gzip"})
    assert first.headers["ETag"].startswith("W/")
    for coding in ("gzip", "identity"):
        again = service.get("/v1/rules", headers={"Accept-Encoding": coding, "If-None-Match": first.headers["ETag"]})
        assert again.status_code == 304


def test_a_connection_is_kept_for_the_next_request(service: Served) -> None:
    connection = http.client.HTTPConnection("127.0.0.1", service.port, timeout=10)
    connection.connect()
    first = connection.sock
    for path, body in (("/healthz", None), ("/v1/checks", json.dumps(SMALL)), ("/v1/checks", "{"), ("/healthz", None)):
        connection.request("POST" if body else "GET", path, body, {"Content-Type": "application/json"})
        assert connection.getresponse().read()
        assert connection.sock is first
    connection.close()


def test_idle_and_dripping_connections_hold_nobody_up(service: Served) -> None:
    idle = [socket.create_connection(("127.0.0.1", service.port), timeout=30) for _ in range(10)]
    for number, connection in enumerate(idle):
        if number % 2:
            connection.sendall(b"POST /v1/checks HTTP/1.1\r\nHost: a\r\nContent-Le")
    began = time.monotonic()
    assert service.check(SMALL).status_code == 200
    assert time.monotonic() - began < 3
    for connection in idle:
        connection.close()


def test_more_slow_and_silent_senders_than_threads_leave_some_for_others(service: Served) -> None:
    """Two workers of 16 threads: 40 connections say nothing and 40 more begin a request that never ends."""
    begun = b"POST /v1/checks HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\nContent-Length: 900\r\n\r\n{"
    held = [socket.create_connection(("127.0.0.1", service.port), timeout=30) for _ in range(80)]
    for connection in held[::2]:
        connection.sendall(begun)
    began = time.monotonic()
    assert service.get("/healthz").status_code == 200
    assert time.monotonic() - began < 4, "the first would otherwise be let go after ten seconds"
    answers = {connection.recv(65536).split(b" ")[1] for connection in held[::2]}
    for connection in held:
        connection.close()
    assert answers == {b"408"}


HEADS = [
    (
        "two lengths",
        b"POST /v1/checks HTTP/1.1\r\nHost: a\r\nContent-Length: 2\r\nContent-Length: 3\r\n\r\n{}",
        400,
        "bad-request",
    ),
    ("a length that is none", b"POST /v1/checks HTTP/1.1\r\nHost: a\r\nContent-Length: two\r\n\r\n{}", 400, "bad-request"),
    ("a long address", b"GET /" + b"a" * 9000 + b" HTTP/1.1\r\nHost: a\r\n\r\n", 414, "uri-too-long"),
    ("a long field", b"GET / HTTP/1.1\r\nHost: a\r\nX-A: " + b"a" * 20_000 + b"\r\n\r\n", 431, "headers-too-large"),
    ("many fields", b"GET / HTTP/1.1\r\nHost: a\r\n" + b"X-A: a\r\n" * 300 + b"\r\n", 431, "headers-too-large"),
    (
        "an expectation",
        b"POST /v1/checks HTTP/1.1\r\nHost: a\r\nExpect: pony\r\nContent-Length: 2\r\n\r\n{}",
        417,
        "expectation-failed",
    ),
    ("a transfer coding", b"POST /v1/checks HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: pony\r\n\r\n", 501, "not-implemented"),
    ("no HTTP", b"secret-word\r\n\r\n", 400, "bad-request"),
]


@pytest.mark.parametrize(("head", "status", "name"), [each[1:] for each in HEADS], ids=[each[0] for each in HEADS])
def test_what_gunicorn_refuses_is_a_problem_too(service: Served, head: bytes, status: int, name: str) -> None:
    answer = raw(service.port, [head])
    said, _, body = answer.partition(b"\r\n\r\n")
    assert said.startswith(f"HTTP/1.1 {status} ".encode()), answer[:300]
    assert b"Content-Type: application/problem+json" in said
    value = json.loads(body)
    assert (value["type"], value["status"]) == (f"/v1/problems/{name}", status)
    assert service.get(value["type"]).json()["status"] == status
    assert "secret-word" not in service.log.read_text() + service.log.with_name("errors.log").read_text()


def test_a_body_that_ends_too_soon_is_not_taken_as_whole(service: Served) -> None:
    body = json.dumps({"plan_format": 1, "name": "x", "basis": {"edition": "2023"}}).encode()
    head = f"POST /v1/checks HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\nContent-Length: {len(body) + 9}\r\nConnection: close\r\n\r\n"
    with socket.create_connection(("127.0.0.1", service.port), timeout=30) as connection:
        connection.sendall(head.encode() + body)
        connection.shutdown(socket.SHUT_WR)
        answer = b"".join(iter(lambda: connection.recv(65536), b""))
    assert answer.startswith(b"HTTP/1.1 400 ")
    assert b"ends after" in answer


def test_a_length_beyond_everything_is_refused_at_once(service: Served) -> None:
    head = b"POST /v1/checks HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\nContent-Length: 10000000000\r\n\r\n"
    began = time.monotonic()
    with socket.create_connection(("127.0.0.1", service.port), timeout=30) as connection:
        connection.sendall(head)
        answer = connection.recv(65536)
    assert answer.startswith(b"HTTP/1.1 413 ")
    assert time.monotonic() - began < 3


def test_a_silent_sender_is_told_and_let_go(service: Served) -> None:
    hello = b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03"
    began = time.monotonic()
    answer = raw(service.port, [hello])
    assert b" 408 " in answer.partition(b"\r\n")[0] or answer.startswith(b"HTTP/1.1 400 ")
    assert time.monotonic() - began < 15


SLOW = """
import nailplate.review as r
whole = r.check
def check(plan, *words, **more):
    if plan.name == "slow":
        while True:
            sum(range(1000))
    return whole(plan, *words, **more)
r.check = check
import nailplate.wire.judging as j
j.check = check
"""


def test_a_check_over_the_time_limit_is_a_problem_and_the_service_goes_on(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(SLOW)
    from web.served import SERVICE

    with served(tmp_path, {"NAILPLATE_TIME_LIMIT": "2", "PYTHONPATH": f"{tmp_path}:{SERVICE}"}) as service:
        assert service.get("/v1/version").json()["limits"]["time_limit"] == 2
        began = time.monotonic()
        assert (
            "it was at reading the plan" in problem(service.check({**SMALL, "name": "slow"}), 503, "check-too-long")["detail"]
        )
        assert 1.5 < time.monotonic() - began < 8
        assert service.check(SMALL).json()["verdict"] == "violations"
        records = [
            json.loads(line)
            for line in service.send(
                json.dumps([{"key": "a", "plan": {**SMALL, "name": "slow"}}, {"key": "b", "plan": SMALL}]).encode(),
                "/v1/batch-checks",
            ).text.splitlines()
        ]
        assert [each["status"] for each in records] == ["failed", "checked", "summary"]
        assert records[0]["problem"] == "/v1/problems/check-too-long"


def test_the_platform_s_own_variables_are_not_settings() -> None:
    injected = {
        "NAILPLATE_SERVICE_HOST": "10.0.0.1",
        "NAILPLATE_SERVICE_PORT": "8080",
        "NAILPLATE_SERVICE_PORT_HTTP": "8080",
        "NAILPLATE_PORT": "tcp://10.0.0.1:8080",
        "NAILPLATE_PORT_8080_TCP": "tcp://10.0.0.1:8080",
        "NAILPLATE_PORT_8080_TCP_PROTO": "tcp",
        "NAILPLATE_PORT_8080_TCP_PORT": "8080",
        "NAILPLATE_PORT_8080_TCP_ADDR": "10.0.0.1",
        "NAILPLATE_WEB_SERVICE_HOST": "10.0.0.2",
        "NAILPLATE_WEB_PORT": "tcp://10.0.0.2:80",
    }
    assert read_settings(injected) == Settings()
    with pytest.raises(SettingsError, match="NAILPLATE_SERVICE_HOSTS"):
        read_settings({"NAILPLATE_SERVICE_HOSTS": "10.0.0.1"})
    with pytest.raises(SettingsError, match="NAILPLATE_PORT"):
        read_settings({"NAILPLATE_PORT": "http"})


def test_the_digest_of_nothing_is_no_token(tmp_path: Path) -> None:
    tokens = tmp_path / "tokens"
    tokens.write_text(f"everyone {hashlib.sha256(b'').hexdigest()}\n")
    with pytest.raises(SettingsError, match="SHA-256 of nothing"):
        read_tokens(tokens)


def batch(service: Served, body: bytes, media: str = "application/x-ndjson", **headers: str) -> list[dict[str, Any]]:
    answer = service.send(body, "/v1/batch-checks", Content_Type=media, **headers)
    assert answer.status_code == 200, answer.text
    assert answer.headers["Content-Type"] == "application/x-ndjson"
    return [json.loads(line) for line in answer.text.splitlines()]


LARGER = {"patch": [{"op": "replace", "path": "/boxes/hall/volume", "value": "20 in3"}]}


def lines(*values: object) -> bytes:
    return "".join(f"{json.dumps(value)}\n" for value in values).encode()


def test_a_batch_gives_a_record_for_each_case_and_a_summary(service: Served) -> None:
    head = {"batch_format": 1, "bases": {"finch": SMALL}, "editions": ["2020", "2023"]}
    items = [{"key": f"m{number}", "base": "finch", "model_options": {"larger": LARGER}} for number in range(3)]
    *records, summary = batch(service, lines(head, *items))
    assert [each["key"] for each in records] == [
        f"m{n}{o}@{e}" for n in range(3) for e in ("2020", "2023") for o in ("", "[larger]")
    ]
    crowded = [
        each["key"]
        for each in records
        if any(f["rule"] == "box-volume" and f["outcome"] == "violation" for f in each["findings"])
    ]
    assert crowded == [f"m{n}@{e}" for n in range(3) for e in ("2020", "2023")]
    assert (summary["status"], summary["records"]) == ("summary", 12)
    assert batch(service, json.dumps({**head, "items": items}).encode(), "application/json") == [*records, summary]
    assert batch(service, gzip.compress(lines(head, *items)), Content_Encoding="gzip") == [*records, summary]


def test_one_bad_item_never_fails_the_batch(service: Served) -> None:
    body = (
        lines({"key": "a", "plan": SMALL}) + b"{\n" + lines({"key": "b", "plan": 3}, {"key": "c"}, {"key": "d", "plan": SMALL})
    )
    *records, summary = batch(service, body)
    assert [each["status"] for each in records] == ["checked", "refused", "refused", "refused", "checked"]
    assert summary["statuses"] == {"checked": 2, "refused": 3, "failed": 0}


def test_a_batch_goes_on_after_the_last_record_received(service: Served) -> None:
    items = [{"key": f"m{number}", "plan": SMALL} for number in range(5)]
    whole = batch(service, lines(*items))
    rest = batch(service, lines({"resume_after": "m1"}, *items))
    assert rest[:-1] == whole[2:-1]
    assert rest[-1]["resumed_after"] == "m1"
    assert "no record has the key" in batch(service, lines({"resume_after": "m9"}, *items))[-1]["problem"]


def test_a_batch_s_head_and_body_are_held_to_their_limits(tmp_path: Path, service: Served) -> None:
    problem(
        service.send(lines({"editions": ["2019"]}), "/v1/batch-checks", Content_Type="application/x-ndjson"),
        422,
        "invalid-request",
    )
    problem(service.send(b"[", "/v1/batch-checks"), 400, "malformed-json")
    problem(service.send(b"{}", "/v1/batch-checks"), 422, "invalid-request")
    problem(service.send(b"[]", "/v1/batch-checks", Accept="text/html"), 406, "not-acceptable")
    with served(tmp_path, {"NAILPLATE_MAX_BATCH": "3000", "NAILPLATE_MAX_RECORDS": "2"}) as small:
        problem(
            small.send(
                lines({"key": "a", "plan": {**SMALL, "name": "n" * 3000}}),
                "/v1/batch-checks",
                Content_Type="application/x-ndjson",
            ),
            413,
            "body-too-large",
        )
        bomb = gzip.compress(b"\n" * 10_000_000)
        problem(
            small.send(bomb, "/v1/batch-checks", Content_Type="application/x-ndjson", Content_Encoding="gzip"),
            413,
            "body-too-large",
        )
        tiny = {"plan_format": 1, "name": "x", "basis": {"edition": "2023"}}
        found = batch(small, lines({"bases": {"t": tiny}}, *({"key": f"m{n}", "base": "t"} for n in range(4))))
        assert [each["status"] for each in found] == ["checked", "checked", "refused", "summary"]


def test_records_come_as_they_are_worked_out_deflated_or_not(service: Served) -> None:
    body = lines(*({"key": f"m{number}", "plan": SMALL} for number in range(6)))
    headers = {"Content-Type": "application/x-ndjson", "Accept-Encoding": "gzip"}
    with requests.post(f"{service.base}/v1/batch-checks", data=body, headers=headers, timeout=30, stream=True) as answer:
        reader = zlib.decompressobj(16 + zlib.MAX_WBITS)
        pieces = [reader.decompress(piece) for piece in answer.raw.stream(65536, decode_content=False)]
    assert len([piece for piece in pieces if piece]) > 1
    assert len(b"".join(pieces).splitlines()) == 7


def crowded(report: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = next(each for each in report["findings"] if each["rule"] == "box-volume")
    return found


def post(service: Served, value: object) -> requests.Response:
    return service.send(json.dumps(value).encode(), "/v1/fix-previews")


def test_a_fix_is_previewed_with_what_clears_and_what_comes(service: Served) -> None:
    finding = crowded(service.check(SMALL).json())
    made = post(service, {"plan": SMALL, "findings": [finding["fingerprint"]]}).json()
    assert finding["fingerprint"] in {each["fingerprint"] for each in made["cleared"]}
    assert made["conflicts"] == []
    assert made["still_open"] == []
    assert "box-volume" not in {
        each["rule"] for each in service.check(made["plan"]).json()["findings"] if each["outcome"] == "violation"
    }
    assert made["digest"] == service.check(made["plan"]).json()["plan"]["digest"]
    patch = made["applied"][0]["patch"]
    assert post(service, {"plan": SMALL, "patches": [patch]}).json()["plan"] == made["plan"]


def test_a_stale_fix_is_left_out_and_a_conflict_names_what_came_first(service: Served) -> None:
    patch = next(each["patch"] for each in crowded(service.check(SMALL).json())["remedies"] if "patch" in each)
    changed = {**SMALL, "boxes": {**SMALL["boxes"], "hall": {"volume": "5 in3", "clamps": "none"}}}
    stale = post(service, {"plan": changed, "patches": [patch]}).json()
    assert stale["applied"] == []
    assert "has changed at /boxes/hall" in stale["conflicts"][0]["why"]
    assert stale["plan"] == changed
    twice = post(service, {"plan": SMALL, "patches": [patch, patch]}).json()
    assert len(twice["applied"]) == 1
    assert "conflicts with the fix that came before it" in twice["conflicts"][0]["why"]
    broken = [{"op": "replace", "path": "/boxes/hall/volume", "value": "many"}]
    refused = post(service, {"plan": SMALL, "patches": [broken, patch]}).json()
    assert [each["why"].partition(":")[0] for each in refused["conflicts"]] == [
        "it conflicts with the fix that came before it, at /boxes/hall/volume",
        "the plan would be none",
    ]


def test_what_a_fix_introduces_is_told(service: Served) -> None:
    smaller = [{"op": "replace", "path": "/boxes/porch/volume", "value": "5 in3"}]
    made = post(service, {"plan": SMALL, "patches": [smaller]}).json()
    assert ("box-volume", "/boxes/porch") in {(each["rule"], each["where"]["pointer"]) for each in made["introduced"]}


@pytest.mark.parametrize(
    ("value", "pointer"),
    [
        ({"plan": SMALL}, "/findings"),
        ({"plan": SMALL, "findings": ["np1-none"]}, "/findings/0"),
        ({"plan": SMALL, "patches": [[{"op": "copy", "from": "", "path": "/x"}]]}, "/patches/0/0"),
        ({"plan": SMALL, "patches": [[]]}, "/patches/0"),
        ({"plan": SMALL, "fixes": []}, "/fixes"),
        ({"findings": []}, ""),
    ],
)
def test_what_is_no_request_for_fixes_is_422(service: Served, value: object, pointer: str) -> None:
    errors = problem(post(service, value), 422, "invalid-request")["errors"]
    assert pointer in {each["pointer"] for each in errors}
