"""What holds for every resource: methods, addresses, headers, ids, caching, logs."""

import re

import pytest
import requests

from web.plans import SMALL
from web.served import Served, raw
from web.test_hostile_bodies import problem

GETS = (
    "/v1/rules",
    "/v1/rules/box-volume",
    "/v1/editions",
    "/v1/units",
    "/v1/schemas",
    "/v1/schemas/plan-1",
    "/v1/examples",
    "/v1/calculations",
    "/v1/problems",
    "/v1/problems/invalid-plan",
    "/v1/version",
    "/openapi.json",
    "/docs",
)
POSTS = ("/v1/checks", "/v1/plan-lints", "/v1/calculations/box-fill")


@pytest.mark.parametrize("path", GETS)
def test_reference_carries_an_etag_and_answers_304(service: Served, path: str) -> None:
    first = service.get(path)
    assert first.status_code == 200
    tag = first.headers["ETag"]
    assert re.fullmatch(r'(W/)?"[^"]+"', tag)
    again = service.get(path, headers={"If-None-Match": tag})
    assert again.status_code == 304
    assert again.content == b""
    assert again.headers["ETag"] == tag
    assert service.get(path, headers={"If-None-Match": '"another"'}).content == first.content


@pytest.mark.parametrize("path", [*GETS, "/healthz", "/readyz"])
def test_head_and_options_answer(service: Served, path: str) -> None:
    head = requests.head(service.base + path, timeout=30)
    assert head.status_code == 200
    assert head.content == b""
    assert int(head.headers["Content-Length"]) == len(service.get(path).content)
    options = requests.options(service.base + path, timeout=30)
    assert options.status_code == 200
    assert {"GET", "HEAD", "OPTIONS"} == set(options.headers["Allow"].split(", "))


@pytest.mark.parametrize("path", POSTS)
def test_options_of_a_post_tells_what_it_takes(service: Served, path: str) -> None:
    options = requests.options(service.base + path, timeout=30)
    assert options.status_code == 200
    assert {"POST", "OPTIONS"} == set(options.headers["Allow"].split(", "))


def test_wrong_method_is_405_with_allow(service: Served) -> None:
    for path in POSTS:
        answer = service.get(path)
        problem(answer, 405, "method-not-allowed")
        assert {"POST", "OPTIONS"} == set(answer.headers["Allow"].split(", "))
    answer = requests.delete(service.base + "/v1/rules", timeout=30)
    problem(answer, 405, "method-not-allowed")
    assert {"GET", "HEAD", "OPTIONS"} == set(answer.headers["Allow"].split(", "))


@pytest.mark.parametrize("path", ["/v1", "/v1/checks/", "/v1/rules/", "/v1/nothing", "/static/x", "/v1/rules/Box-Volume"])
def test_unknown_address_is_404_and_never_a_redirect(service: Served, path: str) -> None:
    problem(service.get(path, allow_redirects=False), 404, "not-found")
    if not path.startswith("/v1/rules/"):
        problem(service.send(b"{}", path, Accept="text/html"), 404, "not-found")


def test_doubled_slash_is_404_and_no_redirect(service: Served) -> None:
    answer = raw(service.port, [b"GET /v1//rules HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n"])
    assert answer.startswith(b"HTTP/1.1 404 ")
    assert b"application/problem+json" in answer


@pytest.mark.parametrize("path", ["/v1/rules/box-volum", "/v1/schemas/plan", "/v1/problems/invalid-plans", "/v1/examples/none"])
def test_unknown_name_is_404(service: Served, path: str) -> None:
    detail = problem(service.get(path), 404, "not-found")["detail"]
    assert path.rpartition("/")[2] in detail


def test_misspelt_rule_id_gets_a_suggestion(service: Served) -> None:
    assert "'box-volume'" in problem(service.get("/v1/rules/box-volum"), 404, "not-found")["detail"]


@pytest.mark.parametrize("path", [*GETS, "/healthz", "/nothing"])
def test_security_headers_are_on_every_answer(service: Served, path: str) -> None:
    headers = service.get(path).headers
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "no-referrer"
    assert headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert headers["Content-Security-Policy"].startswith("default-src 'none'")
    assert "Access-Control-Allow-Origin" not in headers
    assert re.search(r"total;dur=[0-9.]+", headers["Server-Timing"])


def test_pages_need_no_script_and_no_other_host(service: Served) -> None:
    pages = [service.get("/docs"), service.get("/v1/rules/box-volume?format=html"), service.check(SMALL, Accept="text/html")]
    for page in pages:
        assert page.headers["Content-Type"] == "text/html; charset=utf-8"
        assert "script-src" not in page.headers["Content-Security-Policy"]
        assert "style-src 'unsafe-inline'" in page.headers["Content-Security-Policy"]
        assert "<script" not in page.text
        assert not re.search(r"""(?:src|href|url)\s*[=(]\s*["']?(?:https?:)?//""", page.text)


def test_request_id_is_echoed_if_sound(service: Served) -> None:
    assert service.get("/healthz", headers={"X-Request-Id": "order-7.b_2"}).headers["X-Request-Id"] == "order-7.b_2"
    for bad in ("a b", "x" * 65, "é", "a;b", ""):
        made = service.get("/healthz", headers={"X-Request-Id": bad.encode()}).headers["X-Request-Id"]
        assert re.fullmatch(r"[0-9a-f]{32}", made)


def test_one_line_of_log_for_a_request_and_never_the_plan(service: Served) -> None:
    secret = "Hawthorn Lane 12"
    service.check({**SMALL, "name": secret}, X_Request_Id="logged-1")
    service.check({**SMALL, "name": secret, secret: 1}, X_Request_Id="logged-2")
    service.send(f'{{"name": "{secret}"'.encode(), X_Request_Id="logged-3")
    lines = {line["id"]: line for line in service.log_lines() if line["id"].startswith("logged-")}
    assert [lines[f"logged-{number}"]["status"] for number in (1, 2, 3)] == [200, 422, 400]
    first = lines["logged-1"]
    assert first["route"] == "/v1/checks"
    assert first["verdict"] == "violations"
    assert first["plan"].startswith("sha256:")
    assert first["bytes_in"] > 0
    assert first["bytes_out"] > 0
    assert first["milliseconds"] > 0
    assert len([line for line in service.log_lines() if line["id"] == "logged-1"]) == 1
    assert secret not in service.log.read_text()
    assert secret not in service.log.with_name("errors.log").read_text()


def test_results_of_a_post_are_not_kept(service: Served) -> None:
    assert service.check(SMALL).headers["Cache-Control"] == "no-store"
    assert "ETag" not in service.check(SMALL).headers


def test_every_problem_type_can_be_looked_up(service: Served) -> None:
    for kind in service.get("/v1/problems").json()["problems"]:
        assert service.get(kind["type"]).json() == kind


def test_health_and_readiness(service: Served) -> None:
    for path in ("/healthz", "/readyz"):
        answer = service.get(path)
        assert answer.status_code == 200
        assert answer.json() == {"status": "pass"}
