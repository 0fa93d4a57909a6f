"""The one shape of an error: RFC 9457 problem details, whatever went wrong and wherever.

Problem (one request that cannot be answered; carries its type and what callers are told)
"""

import json
import traceback
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from http import HTTPStatus
from typing import TYPE_CHECKING, Any

from flask import Flask, Response, current_app, g
from werkzeug.exceptions import HTTPException, MethodNotAllowed

from nailplate.calc.work import at_work_on

if TYPE_CHECKING:  # the service starts without them
    from nailplate.plan import Fault, PlanRefused, Pointer
    from nailplate.review import OverBudget
    from nailplate.wire import NotJson

MEDIA_TYPE = "application/problem+json"
LONGEST_POINTER = 200
"""A hostile key can make a pointer as long as the body; a longer one is left out."""
MOST_ERRORS = 100
"""Errors that one problem lists; ``total`` tells how many there are."""


@dataclass(frozen=True, slots=True)
class ProblemType:
    """A kind of error: the last part of its URI, its status, and what it means to a caller."""

    name: str
    status: HTTPStatus
    title: str
    meaning: str

    @property
    def uri(self) -> str:
        """Where its meaning can be read."""
        return f"/v1/problems/{self.name}"


MALFORMED_JSON = ProblemType(
    "malformed-json",
    HTTPStatus.BAD_REQUEST,
    "The body is not JSON as this service takes it.",
    "The body is empty, no JSON, not UTF-8, too deeply nested, doubles a key, or holds NaN or a number beyond bounds. "
    "Its one error has a code that says which.",
)
BAD_PARAMETER = ProblemType(
    "bad-parameter",
    HTTPStatus.BAD_REQUEST,
    "A query parameter is not known or has a value that cannot be.",
    "Parameters are never ignored, so that a misspelt one is noticed.",
)
BAD_REQUEST = ProblemType(
    "bad-request",
    HTTPStatus.BAD_REQUEST,
    "The request cannot be understood.",
    "Something in the request's head is not sound HTTP.",
)
UNAUTHORIZED = ProblemType(
    "unauthorized",
    HTTPStatus.UNAUTHORIZED,
    "A token is wanted.",
    "Send Authorization: Bearer and a token that this service's operator has given out.",
)
NOT_FOUND = ProblemType("not-found", HTTPStatus.NOT_FOUND, "There is nothing here.", "No resource has this address.")
METHOD_NOT_ALLOWED = ProblemType(
    "method-not-allowed",
    HTTPStatus.METHOD_NOT_ALLOWED,
    "The resource does not take this method.",
    "The Allow header lists those that it takes.",
)
NOT_ACCEPTABLE = ProblemType(
    "not-acceptable",
    HTTPStatus.NOT_ACCEPTABLE,
    "There is no such representation.",
    "Neither the Accept header nor the format parameter names a representation that the resource has; the detail lists them.",
)
BODY_TOO_LARGE = ProblemType(
    "body-too-large",
    HTTPStatus.REQUEST_ENTITY_TOO_LARGE,
    "The body is too large.",
    "The largest body taken is given by /v1/version; a plan of a small house is far under it.",
)
UNSUPPORTED_MEDIA = ProblemType(
    "unsupported-media",
    HTTPStatus.UNSUPPORTED_MEDIA_TYPE,
    "The body is of a kind that is not taken.",
    "Send application/json in UTF-8, as it is or as gzip.",
)
INVALID_PLAN = ProblemType(
    "invalid-plan",
    HTTPStatus.UNPROCESSABLE_ENTITY,
    "The body is JSON but no plan.",
    "A field, a unit, a reference or the drawing itself is wrong, so no judgement is possible. Each error has a pointer into "
    "the body as sent. A fact that is merely left out is no error: the report tells where it leaves something undetermined.",
)
INVALID_REQUEST = ProblemType(
    "invalid-request",
    HTTPStatus.UNPROCESSABLE_ENTITY,
    "The body is JSON but not what this resource takes.",
    "A field is missing, not known or has a value that cannot be; each error has a pointer into the body as sent.",
)
TOO_MUCH_WORK = ProblemType(
    "too-much-work",
    HTTPStatus.UNPROCESSABLE_ENTITY,
    "This takes more work than one request may do.",
    "Work is counted in steps, never in time, so the same plan ends the same way again: do not retry. The steps that a check may "
    "take are given by /v1/version; an ordinary house takes one or two in a hundred of them. The detail names the rule, the sheet or the "
    "calculation at which they were used up, and the error of a plan names the part; nothing was judged. Look for something drawn "
    "many times over, or check a part of the plan by itself.",
)
REQUEST_TIMEOUT = ProblemType(
    "request-timeout",
    HTTPStatus.REQUEST_TIMEOUT,
    "The request did not arrive in time.",
    "The connection was silent for too long, or the request came too slowly.",
)
URI_TOO_LONG = ProblemType(
    "uri-too-long", HTTPStatus.REQUEST_URI_TOO_LONG, "The address is too long.", "No address of this service is that long."
)
EXPECTATION_FAILED = ProblemType(
    "expectation-failed", HTTPStatus.EXPECTATION_FAILED, "What is expected cannot be met.", "Only 100-continue is."
)
HEADERS_TOO_LARGE = ProblemType(
    "headers-too-large",
    HTTPStatus.REQUEST_HEADER_FIELDS_TOO_LARGE,
    "The head of the request is too large.",
    "There are too many header fields, or one is too long.",
)
NOT_IMPLEMENTED = ProblemType(
    "not-implemented",
    HTTPStatus.NOT_IMPLEMENTED,
    "The transfer coding is not known here.",
    "Send the body with its length, or in chunks.",
)
TOO_LONG = ProblemType(
    "check-too-long",
    HTTPStatus.SERVICE_UNAVAILABLE,
    "The check takes too long.",
    "The plan takes more computation than one request is given here (time_limit of /v1/version). The detail names what it was at. "
    "Sending it again brings the same; "
    "look for lengths in a wrong unit, or for very many parts.",
)
BUSY = ProblemType(
    "busy",
    HTTPStatus.SERVICE_UNAVAILABLE,
    "The service is busy.",
    "Other checks were ahead for too long. Nothing was judged; send it again after the time that Retry-After gives.",
)
NOT_READY = ProblemType(
    "not-ready", HTTPStatus.SERVICE_UNAVAILABLE, "The service cannot judge plans now.", "Its own check of itself failed."
)
INTERNAL = ProblemType(
    "internal",
    HTTPStatus.INTERNAL_SERVER_ERROR,
    "Something went wrong in the service.",
    "This is a fault of the service, never of the plan. Report it with the request id; nothing was judged.",
)

PROBLEM_TYPES: Mapping[str, ProblemType] = {
    each.name: each
    for each in (
        MALFORMED_JSON,
        BAD_PARAMETER,
        BAD_REQUEST,
        UNAUTHORIZED,
        NOT_FOUND,
        METHOD_NOT_ALLOWED,
        NOT_ACCEPTABLE,
        BODY_TOO_LARGE,
        UNSUPPORTED_MEDIA,
        INVALID_PLAN,
        INVALID_REQUEST,
        TOO_MUCH_WORK,
        REQUEST_TIMEOUT,
        URI_TOO_LONG,
        EXPECTATION_FAILED,
        HEADERS_TOO_LARGE,
        NOT_IMPLEMENTED,
        TOO_LONG,
        BUSY,
        NOT_READY,
        INTERNAL,
    )
}


@dataclass
class Problem(Exception):
    """A request that cannot be answered, as its caller is told."""

    type: ProblemType
    detail: str
    faults: Sequence[Mapping[str, str]] = ()
    headers: Mapping[str, str] = field(default_factory=dict)

    def value(self, request_id: str) -> dict[str, Any]:
        """The problem's members."""
        value: dict[str, Any] = {
            "type": self.type.uri,
            "title": self.type.title,
            "status": int(self.type.status),
            "detail": self.detail,
            "request_id": request_id,
        }
        if self.faults:
            value |= {"errors": list(self.faults[:MOST_ERRORS]), "total": len(self.faults)}
            if len(self.faults) > MOST_ERRORS:
                value["by_code"] = counted(self.faults)
        return value


def counted(faults: Sequence[Mapping[str, str]]) -> dict[str, int]:
    """How many faults there are of each code, most first: what a list that was cut short leaves unsaid."""
    return dict(Counter(fault["code"] for fault in faults).most_common())


def fault_value(fault: "Fault", within: str = "") -> dict[str, str]:
    """A fault as callers see it, its pointer beginning at ``within``."""
    return {"pointer": f"{within}{fault.pointer}", "code": fault.code.value, "detail": fault.detail}


def invalid_plan(refused: "PlanRefused", within: "Pointer") -> Problem:
    """The problem of a plan that was refused; it stands at ``within`` in the body."""
    number = len(refused.faults)
    said = "1 thing is" if number == 1 else f"{number} things are"
    return Problem(INVALID_PLAN, f"{said} wrong with the plan.", [fault_value(fault, within) for fault in refused.faults])


def over_budget(over: "OverBudget", within: "Pointer") -> Problem:
    """The problem of a plan that takes more steps than one check may."""
    faults = [fault_value(fault, within) for fault in over.faults]
    return Problem(TOO_MUCH_WORK, f"The work was stopped after {over.budget} steps, at {over.doing}.", faults)


def work_spent(limit: int) -> Problem:
    """The problem of a request that takes more steps than it may, wherever it is then."""
    return Problem(TOO_MUCH_WORK, f"The work was stopped after {limit} steps, at {at_work_on()}.")


def invalid_request(refused: "PlanRefused") -> Problem:
    """The problem of a calculation's request that was refused."""
    return Problem(INVALID_REQUEST, "Nothing can be worked out from this.", [fault_value(fault) for fault in refused.faults])


def malformed(error: "NotJson") -> Problem:
    """The problem of bytes that are not JSON as it is taken here."""
    pointer = error.pointer if len(error.pointer) <= LONGEST_POINTER else ""
    errors = [{"pointer": pointer, "code": error.code, "detail": str(error)}]
    return Problem(MALFORMED_JSON, f"This is not JSON as it is taken here: {error}.", errors)


def not_found(what: str, name: str, close: str | None) -> Problem:
    """The problem of a name that nothing has."""
    return Problem(NOT_FOUND, f"There is no {what} {name[:80]!r}" + (f"; did you mean {close!r}?" if close else "."))


def answer(problem: Problem) -> Response:
    """The problem as a response."""
    text = json.dumps(problem.value(g.request_id), ensure_ascii=False, indent=2) + "\n"
    response = Response(text, problem.type.status, dict(problem.headers), content_type=MEDIA_TYPE)
    response.headers["Cache-Control"] = "no-store"
    return response


def answer_problems(app: Flask) -> None:
    """Lets every error of ``app`` be answered in this shape."""
    app.register_error_handler(Problem, answer)
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(Exception, _unforeseen)


_BY_STATUS = {
    404: (NOT_FOUND, "No resource has this address."),
    405: (METHOD_NOT_ALLOWED, "The resource does not take this method."),
    413: (BODY_TOO_LARGE, "The body is larger than is taken here."),
    415: (UNSUPPORTED_MEDIA, "The body is of a kind that is not taken."),
}


def _http(error: HTTPException) -> Response:
    """What Flask and Werkzeug raise."""
    if (error.code or 500) >= 500:
        return _unforeseen(error)
    kind, detail = _BY_STATUS.get(error.code or 500, (BAD_REQUEST, "The request cannot be understood."))
    headers = {}
    if isinstance(error, MethodNotAllowed) and error.valid_methods:
        headers["Allow"] = ", ".join(sorted(error.valid_methods))
    return answer(Problem(kind, detail, headers=headers))


def _unforeseen(error: Exception) -> Response:
    """Logs where it happened and what kind it was; its message might quote the plan and stays unsaid."""
    where = "".join(traceback.format_tb(error.__traceback__))
    current_app.logger.error("request %s failed: %s\n%s", g.request_id, type(error).__name__, where)
    return answer(Problem(INTERNAL, "Something went wrong in the service; the request id tells its operator where to look."))
