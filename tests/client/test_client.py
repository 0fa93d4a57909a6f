"""The client against the real service, and against one that fails in known ways."""

import http.server
import json
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

import pytest

from nailplate import __version__
from nailplate.catalog import catalog
from nailplate.client import (
    LONGEST_WAIT,
    Client,
    ClientError,
    Invalid,
    NotAuthorized,
    NotFound,
    Refused,
    ServerFault,
    TooLarge,
    Unreachable,
    Unreadable,
)
from nailplate.codes import EDITIONS
from nailplate.render import rule_page
from nailplate.wire import read_plan_value, resolved
from web.plans import SMALL
from web.served import Served, free_port, served


@pytest.fixture(scope="session")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("client"), {}) as running:
        yield running


@pytest.fixture
def client(service: Served) -> Client:
    return Client(service.base + "/")


def test_a_sheet_comes_as_it_is_ordered(client: Client) -> None:
    room = {"level": "m", "uses": ["living"], "outline": [[0, 0], [99, 0], [99, 99]]}
    drawn = {**SMALL, "levels": {"m": {"kind": "storey"}}, "rooms": {"r": room}}
    svg = client.sheet("drawing", drawn, level="m", paper="tabloid")
    assert svg.startswith(b"<svg")
    assert b'width="17in"' in svg
    assert client.sheet("drawing", drawn, "application/pdf").startswith(b"%PDF-")
    with pytest.raises(Refused, match="letter or tabloid"):
        client.sheet("drawing", drawn, paper="a4")


def test_calls_give_what_the_service_gives(client: Client, service: Served) -> None:
    assert client.check(SMALL) == service.check(SMALL).json()
    assert len(client.check(SMALL, max_findings=1)["findings"]) == 1
    assert client.check_page(SMALL) == service.check(SMALL, Accept="text/markdown").text
    assert client.lint(SMALL)["valid"] is True
    assert client.lint({**SMALL, "boxs": 1})["faults"][0]["pointer"] == "/boxs"
    assert [rule["id"] for rule in client.rules()] == list(catalog().rules)
    assert client.explain("box-volume", edition="2023")["id"] == "box-volume"
    page = rule_page(catalog().rules["box-volume"], EDITIONS, catalog(), read_plan_value)
    assert client.explain_page("box-volume") == page
    assert client.version()["version"] == __version__
    request = {"edition": "2023", "conductors": [{"size": "14 AWG", "count": 4}]}
    assert client.calculate("box-fill", request)["result"]["counted"] == {"value": 8.0, "unit": "in3"}


def test_plans_are_resolved_and_compared(client: Client) -> None:
    whole = client.resolve(SMALL)
    assert whole == resolved(SMALL)
    assert not client.compare(SMALL, whole)["parts"]
    assert client.compare(SMALL, edition_of_second="2017")["new"]["edition"] == "2017"


def test_refusals_are_typed_and_carry_the_problem(client: Client) -> None:
    with pytest.raises(Invalid) as invalid:
        client.check({**SMALL, "boxs": 1})
    assert invalid.value.status == 422
    assert invalid.value.type == "/v1/problems/invalid-plan"
    assert invalid.value.errors[0]["pointer"] == "/plan/boxs"
    assert invalid.value.total == 1
    assert invalid.value.request_id
    with pytest.raises(NotFound, match="did you mean 'box-volume'"):
        client.explain("box-volum")
    with pytest.raises(NotFound):
        client.calculate("../rules", {})
    with pytest.raises(Invalid):
        client.rules(edition="2018")
    with pytest.raises(TooLarge):
        client.check({**SMALL, "name": "n" * 2_100_000})
    with pytest.raises(ClientError):
        client.check({**SMALL, "name": float("nan")})


def test_no_answer_is_unreachable_after_some_tries() -> None:
    waits: list[float] = []
    with pytest.raises(Unreachable, match="tried 3 times"):
        Client(f"http://127.0.0.1:{free_port()}", tries=3, sleep=waits.append).version()
    assert waits == [0.25, 0.5]


@dataclass
class Stub:
    """Answers from a list, the last one for ever; keeps what it was sent."""

    answers: list[tuple[int, dict[str, str], bytes]]
    seen: list[tuple[str, str, dict[str, str], bytes]] = field(default_factory=list)
    base: str = ""


@contextmanager
def stub(*answers: tuple[int, dict[str, str], bytes]) -> Iterator[Stub]:
    kept = Stub(list(answers))

    class Handler(http.server.BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            body = self.rfile.read(int(self.headers.get("Content-Length", 0)))
            kept.seen.append((self.command, self.path, dict(self.headers), body))
            status, headers, text = kept.answers.pop(0) if len(kept.answers) > 1 else kept.answers[0]
            if status == 0:
                return  # hangs up without a word
            self.send_response(status)
            for name, value in headers.items():
                self.send_header(name, value)
            self.send_header("Content-Length", str(len(text)))
            self.end_headers()
            self.wfile.write(text)

        do_GET = do_POST  # noqa: N815 - the library's own naming

        def log_message(self, *_: object) -> None:
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    kept.base = f"http://127.0.0.1:{server.server_port}"
    try:
        yield kept
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


GOOD = (200, {"Content-Type": "application/json"}, b'{"verdict": "clear"}')


def statuses(*numbers: int, retry_after: str | None = None) -> Sequence[tuple[int, dict[str, str], bytes]]:
    headers = {} if retry_after is None else {"Retry-After": retry_after}
    return [(number, headers, b"busy") for number in numbers]


@pytest.mark.parametrize("status", [429, 502, 503, 504, 0])
def test_passing_trouble_is_tried_again_with_the_same_body(status: int) -> None:
    waits: list[float] = []
    with stub(*statuses(status, status), GOOD) as service:
        assert Client(service.base, sleep=waits.append).check(SMALL) == {"verdict": "clear"}
    assert [body for *_, body in service.seen] == [json.dumps({"plan": SMALL}).encode()] * 3
    assert waits == [0.25, 0.5]


@pytest.mark.parametrize(
    ("said", "waited"),
    [("2", 2.0), ("0", 0.0), ("86400", LONGEST_WAIT), ("9" * 400, LONGEST_WAIT), ("soon", 0.25), ("-1", 0.25), ("٣", 0.25)],
)
def test_retry_after_is_kept_up_to_a_low_cap(said: str, waited: float) -> None:
    waits: list[float] = []
    headers = {"Retry-After": said.encode().decode("latin-1")}
    with stub((503, headers, b""), GOOD) as service:
        Client(service.base, sleep=waits.append).check(SMALL)
    assert waits == [waited]


def never(_: float) -> None:
    raise AssertionError("it waits to try again")


@pytest.mark.parametrize("status", [400, 401, 404, 413, 422, 500, 501])
def test_other_refusals_are_not_tried_again(status: int) -> None:
    with stub(*statuses(status)) as service, pytest.raises(Refused) as refused:
        Client(service.base, sleep=never).check(SMALL)
    assert refused.value.status == status
    assert len(service.seen) == 1


def test_trouble_that_does_not_pass_is_told_as_it_is() -> None:
    problem = {"type": "/v1/problems/not-ready", "title": "Not now.", "status": 503, "detail": "d", "request_id": "r"}
    answer = (503, {"Content-Type": "application/problem+json"}, json.dumps(problem).encode())
    with stub(answer) as service, pytest.raises(ServerFault, match=r"503 Not now\. d"):
        Client(service.base, tries=3, sleep=lambda _: None).check(SMALL)
    assert len(service.seen) == 3


@pytest.mark.parametrize(
    "answer", [(200, {}, b"<html>"), (200, {}, b"[]"), (302, {"Location": "http://127.0.0.1:1/"}, b""), (204, {}, b"")]
)
def test_answers_of_something_else_are_unreadable(answer: Any) -> None:
    with stub(answer) as service, pytest.raises(Unreadable):
        Client(service.base).check(SMALL)
    assert len(service.seen) == 1


def test_token_is_sent_and_its_refusal_is_typed(tmp_path: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "netrc").write_text("machine 127.0.0.1 login someone password else\n")
    monkeypatch.setenv("NETRC", str(tmp_path / "netrc"))
    with stub(GOOD) as service:
        Client(service.base, "secret-7").check(SMALL)
        Client(service.base).check(SMALL)
    assert service.seen[0][2]["Authorization"] == "Bearer secret-7"
    assert "Authorization" not in service.seen[1][2]
    with stub(*statuses(401)) as service, pytest.raises(NotAuthorized):
        Client(service.base, "wrong").check(SMALL)


def test_a_batch_is_streamed_in_order_with_its_summary(client: Client) -> None:
    items = [{"key": f"m{number}", "base": "finch"} for number in range(3)]
    *records, summary = client.check_many(items, head={"bases": {"finch": SMALL}})
    assert [each["key"] for each in records] == ["m0", "m1", "m2"]
    assert records[0]["findings"] == client.check(SMALL)["findings"]
    assert summary["records"] == 3


def test_a_batch_goes_on_after_the_last_record_when_the_connection_is_lost() -> None:
    first = (200, {"Content-Type": "application/x-ndjson"}, b'{"key": "a", "status": "checked"}\n')
    rest = (200, {"Content-Type": "application/x-ndjson"}, b'{"key": "b", "status": "checked"}\n{"status": "summary"}\n')
    with stub(first, rest) as service:
        found = list(Client(service.base, sleep=lambda _: None).check_many([{"key": "a"}, {"key": "b"}]))
    assert [each.get("key") for each in found] == ["a", "b", None]
    heads = [json.loads(body.splitlines()[0]) for *_, body in service.seen]
    assert [each.get("resume_after") for each in heads] == [None, "a"]


def test_a_batch_that_brings_no_further_record_is_given_up() -> None:
    with stub((200, {}, b"")) as service, pytest.raises(Unreachable, match="lost 3 times"):
        list(Client(service.base, tries=3, sleep=lambda _: None).check_many([{"key": "a"}]))
    with stub(*statuses(422)) as service, pytest.raises(Invalid):
        list(Client(service.base).check_many([{"key": "a"}]))


def test_a_plan_that_takes_too_long_is_not_sent_again() -> None:
    problem = {"type": "/v1/problems/check-too-long", "title": "t", "status": 503, "detail": "d", "request_id": "r"}
    answer = (503, {"Content-Type": "application/problem+json"}, json.dumps(problem).encode())
    with stub(answer) as service, pytest.raises(ServerFault):
        Client(service.base, sleep=never).check(SMALL)
    assert len(service.seen) == 1


def test_a_call_cut_off_after_long_work_is_not_sent_again(monkeypatch: pytest.MonkeyPatch) -> None:
    clock = iter(range(0, 1000, 30))
    monkeypatch.setattr("nailplate.client.time.monotonic", lambda: float(next(clock)))
    with stub(*statuses(0)) as service, pytest.raises(Unreachable, match="in time"):
        Client(service.base, sleep=never).check(SMALL)
    assert len(service.seen) == 1


def test_fixes_are_previewed(client: Client) -> None:
    crowded = next(each for each in client.check(SMALL)["findings"] if each["rule"] == "box-volume")
    made = client.preview_fixes(SMALL, findings=[crowded["fingerprint"]])
    assert crowded["fingerprint"] in {each["fingerprint"] for each in made["cleared"]}
