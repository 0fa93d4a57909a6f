"""The API description, OpenAPI 3.1: made out of the routes themselves, the published schemas and the rules' own cases."""

import inspect
import json
import re
from collections.abc import Callable, Iterator, Mapping
from http import HTTPStatus
from typing import Any

from flask import Flask, Response, current_app
from werkzeug.routing import Rule as Route

from nailplate import __version__
from nailplate.web import contracts
from nailplate.web.answers import kept, text_answer
from nailplate.web.described import DESCRIBED, Described, described, refer
from nailplate.web.held import once
from nailplate.web.negotiation import JSON, check_parameters
from nailplate.web.problems import MEDIA_TYPE, PROBLEM_TYPES, ProblemType
from nailplate.web.routes import view_of
from nailplate.web.shapes import SHAPES

_EVERYWHERE = ("unauthorized", "bad-parameter", "internal")
_ABOUT = (
    "Checks a small house's wiring plan against US codes before the walls are closed. Every POST is pure, and repeating one is "
    "safe; a worker may keep its latest answers in memory, for whoever sends the same bytes again. Violations and missing facts are "
    "results, answered with 200; every error is an RFC 9457 problem. "
    "A report defers to local codes, the authority having jurisdiction and licensed practice, and names what it did not check. "
    "Readers ignore fields of an answer that they don't know; fields that the service doesn't know are refused."
)
_GROUPS = {
    "Checking": "Plans in, judgements out.",
    "Sheets": "Drawings and lists to build from.",
    "Calculations": "One figure with its steps and citations, without a plan.",
    "Reference": "What is in force.",
    "Operations": "Whether the service runs.",
}


@described(group="Reference", answer="This document.", gives={JSON: {"type": "object"}})
def show_description() -> Response:
    """Give the API description, OpenAPI 3.1."""
    check_parameters()
    return kept(text_answer(text(), JSON))


def text() -> str:
    """The description of the current application, made when it is first needed."""
    return once("nailplate.description", lambda: described_app(current_app))


def described_app(app: Flask) -> str:
    """The description of an application's routes, as text."""
    from apispec import APISpec  # for who asks for the description

    spec = APISpec(
        title="nailplate",
        version=__version__,
        openapi_version="3.1.1",
        info={"description": _ABOUT},
        servers=[{"url": "/", "description": "where this document was fetched"}],
        security=[{}, {"token": []}],
        tags=[{"name": name, "description": words} for name, words in _GROUPS.items()],
    )
    spec.components.security_scheme(
        "token", {"type": "http", "scheme": "bearer", "description": "where the operator requires one"}
    )
    for name, schema in {**contracts.components(), **SHAPES}.items():
        spec.components.schema(name, schema)
    for kind in PROBLEM_TYPES.values():
        spec.components.response(kind.name, _problem_response(kind))
    for path, operations in _paths(app).items():
        spec.path(path=path, operations=operations)
    return json.dumps(spec.to_dict(), ensure_ascii=False, indent=2) + "\n"


def _problem_response(kind: ProblemType) -> dict[str, Any]:
    return {"description": f"{kind.title} {kind.meaning}", "content": {MEDIA_TYPE: {"schema": refer("Problem")}}}


def _paths(app: Flask) -> dict[str, dict[str, Any]]:
    found: dict[str, dict[str, Any]] = {}
    for route in app.url_map.iter_rules():
        view = view_of(app, route)
        method = "post" if "POST" in (route.methods or ()) else "get"
        found.setdefault(re.sub(r"<(?:[a-z]+:)?([a-z_]+)>", r"{\1}", route.rule), {})[method] = _operation(route, view)
    return found


def _operation(route: Route, view: Callable[..., Any]) -> dict[str, Any]:
    words = DESCRIBED[view]
    summary, _, more = (inspect.getdoc(view) or "").partition("\n\n")
    operation: dict[str, Any] = {"operationId": view.__name__, "tags": [words.group], "summary": summary.replace("\n", " ")}
    if more:
        operation["description"] = more.replace("\n", " ")
    parameters = [*_path_parameters(route), *_query_parameters(words)]
    if parameters:
        operation["parameters"] = parameters
    if words.takes:
        examples = contracts.request_examples(view.__name__)
        also = {media: {"schema": schema} for media, schema in words.takes_also.items()}
        operation["requestBody"] = {"required": True, "content": {JSON: {"schema": words.takes, **examples}, **also}}
    return {**operation, "responses": _responses(view.__name__, words)}


def _path_parameters(route: Route) -> Iterator[dict[str, Any]]:
    for name in sorted(route.arguments):
        schema = {"type": "string", **contracts.parameter_schema(route.rule)}
        yield {"name": name, "in": "path", "required": True, "schema": schema}


def _query_parameters(words: Described) -> Iterator[dict[str, Any]]:
    for name, parameter in words.parameters.items():
        yield {"name": name, "in": "query", "required": False, "description": parameter.meaning, "schema": parameter.schema}


def _responses(name: str, words: Described) -> dict[str, Any]:
    good = {media: {"schema": schema, **contracts.answer_examples(name, media)} for media, schema in words.gives.items()}
    responses: dict[str, Any] = {"200": {"description": words.answer, "content": good}}
    by_status: dict[HTTPStatus, list[ProblemType]] = {}
    for problem in dict.fromkeys((*words.problems, *_EVERYWHERE)):
        kind = PROBLEM_TYPES[problem]
        by_status.setdefault(kind.status, []).append(kind)
    for status, kinds in sorted(by_status.items()):
        responses[str(int(status))] = _one_response(kinds)
    return responses


def _one_response(kinds: list[ProblemType]) -> Mapping[str, Any]:
    if len(kinds) == 1:
        return {"$ref": f"#/components/responses/{kinds[0].name}"}
    said = " Or: ".join(kind.title for kind in kinds)
    return {"description": said, "content": {MEDIA_TYPE: {"schema": refer("Problem")}}}
