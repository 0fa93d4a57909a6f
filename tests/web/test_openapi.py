"""The API description: valid, whole, and true to the routes."""

import json
import re
from typing import Any

import jsonschema
import openapi_spec_validator
import pytest
import requests
from referencing import Registry, Resource
from referencing.jsonschema import DRAFT202012

from nailplate.web import create_app, openapi_text
from nailplate.web.settings import Settings
from web.plans import DRAWN, SMALL, with_change
from web.served import Served

API: dict[str, Any] = json.loads(openapi_text())


def schema(name: str) -> jsonschema.Draft202012Validator:
    resource: Resource[Any] = Resource.from_contents(API, default_specification=DRAFT202012)
    registry = Registry().with_resource("urn:api", resource)
    return jsonschema.Draft202012Validator({"$ref": f"urn:api#/components/schemas/{name}"}, registry=registry)


def test_description_is_valid() -> None:
    openapi_spec_validator.OpenAPIV31SpecValidator(API).validate()
    assert API["openapi"].startswith("3.1")


def test_served_description_is_the_published_one(service: Served) -> None:
    answer = service.get("/openapi.json")
    assert answer.headers["Content-Type"] == "application/json"
    assert answer.text == openapi_text()


def test_description_has_exactly_the_routes() -> None:
    routes = {
        (re.sub(r"<(?:[a-z]+:)?([a-z_]+)>", r"{\1}", route.rule), method.lower())
        for route in create_app(Settings()).url_map.iter_rules()
        for method in (route.methods or set()) & {"GET", "POST"}
    }
    assert {(path, method) for path, operations in API["paths"].items() for method in operations} == routes


def test_every_reference_leads_somewhere() -> None:
    references = set(re.findall(r'"\$ref": "#/components/([a-z]+)/([A-Za-z0-9_-]+)"', json.dumps(API)))
    assert references
    assert all(name in API["components"][kind] for kind, name in references)
    assert "$defs" not in json.dumps(API)


def test_one_of_stays_one_of_and_exclusive_stays_exclusive() -> None:
    ends = API["components"]["schemas"]["Cable"]["properties"]["ends"]
    assert len(ends["items"]["oneOf"]) == 3
    thickness = API["components"]["schemas"]["Wall"]["properties"]["thickness"]["anyOf"][0]
    assert thickness["exclusiveMinimum"] == 0
    assert "minimum" not in thickness
    assert not schema("Plan").is_valid(with_change(DRAWN, "walls", "north", "thickness", to=0))
    assert not schema("Plan").is_valid(
        with_change(SMALL, "cables", "feed", "ends", to=[{"box": "hall", "panel": "panel"}, {"box": "porch"}])
    )
    schema("Plan").validate(SMALL)


@pytest.mark.parametrize("path", sorted(API["paths"]))
def test_examples_fit_their_schemas(path: str) -> None:
    for operation in API["paths"][path].values():
        contents = [operation.get("requestBody", {}).get("content", {})]
        contents += [answer.get("content", {}) for answer in operation["responses"].values()]
        for media, content in ((media, content) for each in contents for media, content in each.items()):
            for example in content.get("examples", {}).values():
                if "value" in example:
                    reference = content["schema"].get("$ref") or content["schema"]["anyOf"][0]["$ref"]
                    schema(reference.rpartition("/")[2]).validate(example["value"])
                assert media == "application/json"


@pytest.mark.parametrize(
    "path", ["/v1/rules", "/v1/rules/box-volume", "/v1/editions", "/v1/units", "/v1/problems", "/v1/version", "/v1/examples"]
)
def test_answers_fit_their_schemas(service: Served, path: str) -> None:
    described = API["paths"].get(path) or API["paths"]["/v1/rules/{rule_id}"]
    reference = described["get"]["responses"]["200"]["content"]["application/json"]["schema"]["$ref"]
    schema(reference.rpartition("/")[2]).validate(service.get(path).json())


def test_reports_lints_calculations_and_problems_fit_their_schemas(service: Served) -> None:
    schema("Report").validate(service.check(SMALL).json())
    schema("Lint").validate(service.send(json.dumps({**SMALL, "boxs": 1}).encode(), "/v1/plan-lints").json())
    schema("Problem").validate(service.check({**SMALL, "boxs": 1}).json())
    schema("Problem").validate(service.get("/nothing").json())
    request = {"edition": "2023", "conductors": [{"size": "14 AWG", "count": 4}]}
    schema("Calculation").validate(service.send(json.dumps(request).encode(), "/v1/calculations/box-fill").json())


def test_every_operation_says_what_it_does_and_how_it_fails() -> None:
    for path, operations in API["paths"].items():
        for operation in operations.values():
            assert operation["summary"].endswith("."), path
            assert "200" in operation["responses"], path
            assert "500" in operation["responses"], path


def test_docs_page_shows_every_operation_and_schema(service: Served) -> None:
    page = service.get("/docs").text
    for operations in API["paths"].values():
        for operation in operations.values():
            assert f'id="{operation["operationId"]}"' in page
    for name in API["components"]["schemas"]:
        assert f'id="schema-{name}"' in page
    for target in re.findall(r'href="#([^"]+)"', page):
        assert f'id="{target}"' in page


def test_a_representation_that_there_is_not_is_told_where_the_description_says_so(service: Served) -> None:
    """Every operation that looks at Accept tells of 406, and no other does."""
    bodies = {"/v1/calculations/{name}": "/v1/calculations/box-fill", "/v1/sheets/{name}": "/v1/sheets/drawing"}
    plan = {"plan_format": 1, "name": "x", "basis": {"edition": "2023"}}
    for path, operations in API["paths"].items():
        address = bodies.get(path, path.replace("{rule_id}", "box-volume"))
        if "{" in address:
            continue
        for method, operation in operations.items():
            body = plan if method == "post" else None
            headers = {"Accept": "image/png"}
            status = requests.request(method, service.base + address, json=body, headers=headers, timeout=30).status_code
            assert (status == 406) <= ("406" in operation["responses"]), path
            if status == 200:
                assert "406" not in operation["responses"], path
