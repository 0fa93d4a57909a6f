"""The service's calls from another process: ``Client("http://127.0.0.1:8080").check(plan)``.

Every call may be repeated safely, so connection errors and the answers 429, 502, 503 and 504 are tried again; but not a call that
was cut off or gave up after long work, nor a plan that takes too long to check.

    ClientError
        Unreachable (no answer came, however often it was tried)
        Unreadable (an answer came that this client does not understand)
        Refused (the service answered with a problem; carries its type, status, detail, errors and request id)
            NotAuthorized (401), NotFound (404), TooLarge (413), Invalid (400 and 422: what was sent is wrong), ServerFault (5xx)

Whatever is sent may hold pint quantities: ``{"depth": Q(63, "mm")}``. One that no plan can state raises ``units.QuantityError``.
"""

import json
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any
from urllib.parse import quote, urlencode

import requests
from requests.auth import AuthBase

from nailplate import __version__

if TYPE_CHECKING:
    from nailplate.quantities import Registry

SHORT_WORK = 5.0
"""Seconds after which a call that was cut off is not sent again: whatever took that long would take it once more."""
TRY_AGAIN = frozenset({429, 502, 503, 504})
LONGEST_WAIT = 10.0
"""Seconds waited at most between two tries, whatever ``Retry-After`` says."""
FIRST_WAIT = 0.25
_PROBLEM = "application/problem+json"
_NDJSON = "application/x-ndjson"


class ClientError(Exception):
    """A call that brought no result."""


class Unreachable(ClientError):
    """No answer came."""


class Unreadable(ClientError):
    """An answer that is not one of this service's."""


class Refused(ClientError):
    """The service answered with a problem."""

    def __init__(self, problem: Mapping[str, Any]) -> None:
        super().__init__(f"{problem.get('status')} {problem.get('title')} {problem.get('detail')}")
        self.type = str(problem.get("type", "about:blank"))
        self.status = int(problem.get("status", 0))
        self.title = str(problem.get("title", ""))
        self.detail = str(problem.get("detail", ""))
        self.request_id = str(problem.get("request_id", ""))
        self.errors: tuple[Mapping[str, str], ...] = tuple(problem.get("errors", ()))
        self.total = int(problem.get("total", len(self.errors)))


class Invalid(Refused):
    """What was sent is not JSON, no plan, or asks for what there is not."""


class NotAuthorized(Refused):
    """The token is missing or not known."""


class NotFound(Refused):
    """There is no such rule, calculation or resource."""


class TooLarge(Refused):
    """The plan is larger than the service takes."""


class ServerFault(Refused):
    """Something went wrong in the service."""


_KINDS: Mapping[int, type[Refused]] = {400: Invalid, 401: NotAuthorized, 404: NotFound, 413: TooLarge, 422: Invalid}


class _Bearer(AuthBase):
    """Puts the token on a request; as an auth object it also keeps a netrc file from replacing it."""

    def __init__(self, token: str | None) -> None:
        self._token = token

    def __call__(self, request: requests.PreparedRequest) -> requests.PreparedRequest:
        if self._token:
            request.headers["Authorization"] = f"Bearer {self._token}"
        return request


class Client:
    """Calls one service. ``tries`` is how often a call is sent at most; ``timeout`` is in seconds, for each try.

    With a pint ``registry`` the figures of findings and calculations come as quantities of it, lengths in the plan's own unit.
    """

    def __init__(
        self,
        base_url: str,
        token: str | None = None,
        *,
        timeout: float = 35.0,
        tries: int = 4,
        registry: "Registry | None" = None,
        sleep: Callable[[float], None] = time.sleep,
    ) -> None:
        self._base = base_url.rstrip("/")
        self._timeout, self._tries, self._sleep = timeout, max(1, tries), sleep
        self._registry = registry
        self._session = requests.Session()
        self._session.auth = _Bearer(token)
        self._session.headers["User-Agent"] = f"nailplate-client/{__version__}"

    def check(
        self,
        plan: Mapping[str, Any],
        *,
        baseline: Mapping[str, Any] | None = None,
        suppressions: Mapping[str, Any] | None = None,
        **options: Any,
    ) -> dict[str, Any]:
        """The report on a plan. Raises Invalid with every fault where the document is no plan.

        ``baseline`` is an earlier report, ``suppressions`` are accepted findings beside the plan's own. Options are
        ``max_findings``, ``rules``, ``ignore``, ``severities``, ``rooms`` and ``show_accepted``.
        """
        return self._json("POST", "/v1/checks", _submission(plan, baseline, suppressions, options))

    def check_page(
        self,
        plan: Mapping[str, Any],
        media: str = "text/markdown",
        *,
        baseline: Mapping[str, Any] | None = None,
        suppressions: Mapping[str, Any] | None = None,
        **options: Any,
    ) -> str:
        """The same report in another form: ``text/markdown``, ``text/html``, ``text/csv``, ``application/sarif+json`` and others."""
        return self._call("POST", "/v1/checks", _submission(plan, baseline, suppressions, options), media).text

    def sheet(self, name: str, plan: Mapping[str, Any], media: str = "image/svg+xml", **parameters: str) -> bytes:
        """A sheet to build from: ``sheet("drawing", plan, wall="north")`` as ``image/svg+xml`` or ``application/pdf``; every other one as
        ``application/json``, ``text/markdown``, ``text/html``, ``text/csv`` or PDF: ``sheet("take-off", plan, "text/csv", waste="10%")``."""
        path = f"/v1/sheets/{quote(name, safe='')}"
        return self._call("POST", f"{path}?{urlencode(parameters)}" if parameters else path, {"plan": plan}, media).content

    def check_many(
        self, items: Iterable[Mapping[str, Any]], *, head: Mapping[str, Any] | None = None
    ) -> Iterator[dict[str, Any]]:
        """The records of a batch as they come, in the order of its items; the last one is the summary.

        An item is ``{"key": ..., "plan": ...}`` or one with a ``base`` of the head and ``model_options``. Where the connection is
        lost, the batch is sent again and goes on after the last record received; its summary is then of the rest, and says so.
        """
        lines = [json.dumps(_plain(each)) for each in items]
        asked = dict(_plain(head or {}))
        lost = 0
        while True:
            try:
                for record in self._records([json.dumps({"batch_format": 1, **asked}), *lines]):
                    if "key" in record:
                        asked["resume_after"], lost = record["key"], 0
                    yield record
                    if record.get("status") == "summary":
                        return
                raise requests.ConnectionError("the records ended without a summary")
            except (requests.ConnectionError, requests.Timeout, requests.exceptions.ChunkedEncodingError) as error:
                lost += 1
                if lost >= self._tries:
                    raise Unreachable(f"{self._base} was lost {lost} times without a further record") from error
                self._sleep(_wait(None, lost))

    def _records(self, lines: Sequence[str]) -> Iterator[dict[str, Any]]:
        headers = {"Accept": f"{_NDJSON}, {_PROBLEM};q=0.5", "Content-Type": _NDJSON}
        body = "".join(f"{line}\n" for line in lines).encode()
        address = f"{self._base}/v1/batch-checks"
        with self._session.post(
            address, data=body, headers=headers, timeout=self._timeout, stream=True, allow_redirects=False
        ) as answer:
            _result(answer)
            for line in answer.iter_lines():
                yield self._measured(json.loads(line))

    def preview_fixes(
        self,
        plan: Mapping[str, Any],
        *,
        findings: Sequence[str | Mapping[str, Any]] = (),
        patches: Sequence[Sequence[Mapping[str, Any]]] = (),
    ) -> dict[str, Any]:
        """What patches make of a plan: of findings named by fingerprint, or given. Nothing is changed anywhere."""
        body = {"plan": plan, "findings": list(findings), "patches": [list(each) for each in patches]}
        return self._json("POST", "/v1/fix-previews", body)

    def lint(self, plan: Mapping[str, Any]) -> dict[str, Any]:
        """Whether the document is a plan, and its faults; no rule is run."""
        return self._json("POST", "/v1/plan-lints", {"plan": plan})

    def resolve(self, plan: Mapping[str, Any]) -> dict[str, Any]:
        """The plan with its defaults in its parts and, under ``derived``, all that follows from it."""
        return self._json("POST", "/v1/resolved-plans", {"plan": plan})

    def compare(
        self, old: Mapping[str, Any], new: Mapping[str, Any] | None = None, *, edition_of_second: str | None = None
    ) -> dict[str, Any]:
        """What changes from one plan to another, or to the same by another edition."""
        said = {"new": new, "edition_of_second": edition_of_second}
        return self._json(
            "POST", "/v1/comparisons", {"old": old, **{key: value for key, value in said.items() if value is not None}}
        )

    def calculate(self, name: str, request: Mapping[str, Any]) -> dict[str, Any]:
        """One figure with its steps and citations."""
        return self._json("POST", f"/v1/calculations/{quote(name, safe='')}", request)

    def rules(self, *, edition: str | None = None) -> list[dict[str, Any]]:
        """The rules in force."""
        found: list[dict[str, Any]] = self._json("GET", "/v1/rules", edition=edition)["rules"]
        return found

    def explain(self, rule_id: str, *, edition: str | None = None) -> dict[str, Any]:
        """What a rule asks, why, how to fix it, its citations and cases."""
        return self._json("GET", f"/v1/rules/{quote(rule_id, safe='/')}", edition=edition)

    def explain_page(self, rule_id: str, media: str = "text/markdown", *, edition: str | None = None) -> str:
        """The rule's page for people, as ``text/markdown`` or ``text/html``."""
        return self._call("GET", f"/v1/rules/{quote(rule_id, safe='/')}", None, media, edition).text

    def version(self) -> dict[str, Any]:
        """Versions, rule packs and limits of the service."""
        return self._json("GET", "/v1/version")

    def _json(self, method: str, path: str, body: object = None, edition: str | None = None) -> dict[str, Any]:
        answer = self._call(method, path, body, "application/json", edition)
        value = _object(answer)
        if value is None:
            raise Unreadable(f"{method} {path} answered with something that is no JSON object")
        return self._measured(value)

    def _measured(self, value: dict[str, Any]) -> dict[str, Any]:
        """An answer with its figures as quantities, where the caller gave a registry to make them of."""
        if self._registry is None:
            return value
        from nailplate.quantities import in_registry

        return in_registry(value, self._registry)

    def _call(self, method: str, path: str, body: object, media: str, edition: str | None = None) -> requests.Response:
        """Sends until an answer stands, at most ``tries`` times. Raises ClientError.

        Not urllib3's Retry: it sees neither how long a call worked before it was lost, after which a check is not sent again, nor the
        problem in an answer's body that says that this plan takes too long.
        """
        answer: requests.Response | None = None
        last: Exception | None = None
        for number in range(self._tries):
            if number:
                self._sleep(_wait(answer, number))
            began = time.monotonic()
            try:
                answer = self._send(method, path, body, media, edition)
            except (requests.ConnectionError, requests.Timeout) as error:
                answer, last = None, error
                if time.monotonic() - began > SHORT_WORK:
                    raise Unreachable(f"{self._base} did not answer {method} {path} in time") from error
                continue
            except (requests.RequestException, ValueError) as error:
                raise ClientError(f"{method} {path} could not be sent: {error}") from error
            if answer.status_code not in TRY_AGAIN or _is_too_long(answer):
                break
        if answer is None:
            raise Unreachable(f"{self._base} did not answer, tried {self._tries} times") from last
        return _result(answer)

    def _send(self, method: str, path: str, body: object, media: str, edition: str | None) -> requests.Response:
        parameters = {"edition": edition} if edition else None
        return self._session.request(
            method,
            f"{self._base}{path}",
            json=_plain(body),
            params=parameters,
            headers={"Accept": f"{media}, {_PROBLEM};q=0.5"},
            timeout=self._timeout,
            allow_redirects=False,
        )


def _plain(body: Any) -> Any:
    """What is sent, quantities as text. Who holds a quantity has imported pint; for all others it stays unimported."""
    if "pint" not in sys.modules:
        return body
    from nailplate.quantities import as_texts

    return as_texts(body)


def _submission(
    plan: Mapping[str, Any],
    baseline: Mapping[str, Any] | None,
    suppressions: Mapping[str, Any] | None,
    options: Mapping[str, Any],
) -> dict[str, Any]:
    given = {name: value for name, value in options.items() if value is not None}
    further = {"options": given, "baseline": baseline, "suppressions": suppressions}
    return {"plan": plan, **{name: value for name, value in further.items() if value}}


def _is_too_long(answer: requests.Response) -> bool:
    """Whether the service says that this plan takes too long, as it would again."""
    problem = _object(answer) or {}
    return str(problem.get("type", "")).endswith("/check-too-long")


def _wait(answer: requests.Response | None, number: int) -> float:
    """Seconds until the next try: what the service asks for, else twice as long each time; never very long."""
    asked = answer.headers.get("Retry-After", "") if answer is not None else ""
    seconds = float(asked[:9]) if asked.isascii() and asked.isdigit() else FIRST_WAIT * 2.0 ** (number - 1)
    return min(seconds, LONGEST_WAIT)


def _result(answer: requests.Response) -> requests.Response:
    if answer.status_code == requests.codes.ok:
        return answer
    problem = _object(answer) if answer.headers.get("Content-Type", "").startswith(_PROBLEM) else None
    status = answer.status_code
    if problem is None:
        problem = {"status": status, "title": answer.reason or "", "detail": "The answer has no problem body."}
        if status < 400:
            raise Unreadable(f"{answer.url} answered with {status}")
    kind = _KINDS.get(status, ServerFault if status >= 500 else Refused)
    raise kind({**problem, "status": status})


def _object(answer: requests.Response) -> dict[str, Any] | None:
    try:
        value = answer.json()
    except ValueError:
        return None
    return value if isinstance(value, dict) else None
