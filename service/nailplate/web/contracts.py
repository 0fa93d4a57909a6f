"""The published contracts as the API shows them: schemas under one roof, and examples out of example plans and rules' cases."""

import json
from collections.abc import Callable, Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from nailplate.catalog import catalog
from nailplate.review import check
from nailplate.web.shapes import SHAPES
from nailplate.wire import plan_digest, read_plan_value, report_value
from nailplate.wire.json_schema import plan_schema

_ROOTS: Mapping[str, tuple[str, Callable[[], dict[str, Any]]]] = {
    "plan-1": ("Plan", plan_schema),
}
"""Name of a published schema, its name in the API description, and who makes it."""


@cache
def schemas() -> Mapping[str, dict[str, Any]]:
    """The published JSON Schemas by name."""
    return {name: make() for name, (_, make) in _ROOTS.items()}


def components() -> dict[str, Any]:
    """The same schemas with their definitions side by side, as an API description wants them."""
    found: dict[str, Any] = {}
    for name, (title, _) in _ROOTS.items():
        whole = schemas()[name]
        definitions = whole.get("$defs", {})
        taken = {*SHAPES, *found, *(root for root, _ in _ROOTS.values())}
        names = {inner: f"{title}{inner}" if inner in taken else inner for inner in definitions}
        root = {key: value for key, value in whole.items() if key not in ("$defs", "$schema", "$id")}
        found[title] = _pointed(root, names, title)
        found |= {names[inner]: _pointed(schema, names, title) for inner, schema in definitions.items()}
    return found


def _pointed(value: Any, names: Mapping[str, str], root: str) -> Any:
    """A schema whose references point into the API description."""
    if isinstance(value, list):
        return [_pointed(item, names, root) for item in value]
    if not isinstance(value, dict):
        return value
    pointed = {key: _pointed(inner, names, root) for key, inner in value.items()}
    reference = value.get("$ref")
    if isinstance(reference, str):
        inner = reference.removeprefix("#/$defs/")
        pointed["$ref"] = f"#/components/schemas/{root if reference == '#' else names[inner]}"
    return pointed


@cache
def examples() -> Mapping[str, bytes]:
    """The example plans of whole houses, as their files say them."""
    folder = files("nailplate.examples")
    found = sorted((file for file in folder.iterdir() if file.name.endswith(".json")), key=lambda file: file.name)
    plans = {file.name.removesuffix(".json"): file.read_bytes() for file in found}
    return {name: text for name, text in plans.items() if "plan_format" in json.loads(text)}


def example_plan() -> dict[str, Any]:
    """A small plan with something wrong: the first such case of the rule on box volume."""
    cases: list[Any] = [
        case for case in catalog().rules["box-volume"].cases if any(each["outcome"] == "violation" for each in _expected(case))
    ]
    case = cases[0]
    basis = {"edition": str(case["edition"]).removeprefix("nec-"), **case["plan"].get("basis", {})}
    head = {"plan_format": 1, "name": str(case["description"]), "basis": basis}
    return {**head, **{key: value for key, value in case["plan"].items() if key != "basis"}}


def _expected(case: Mapping[str, Any]) -> list[Any]:
    expected: list[Any] = case["expect"]
    return expected


def request_examples(operation: str) -> dict[str, Any]:
    """Examples of what an operation takes."""
    if operation not in ("check_plan", "lint_plan"):
        return {}
    small = example_plan()
    houses = {name: {"summary": f"A whole house: {name}", "externalValue": f"/v1/examples/{name}"} for name in examples()}
    return {"examples": {"small": {"summary": small["name"], "value": small}, **houses}}


def answer_examples(operation: str, media: str) -> dict[str, Any]:
    """Examples of what an operation answers."""
    if operation != "check_plan" or media != "application/json":
        return {}
    value = example_plan()
    report = report_value(check(read_plan_value(value), catalog(), digest=plan_digest(value)))
    return {"examples": {"small": {"summary": value["name"], "value": report}}}


def parameter_schema(route: str) -> dict[str, Any]:
    """What a path parameter may be, where the list is closed."""
    if route.startswith("/v1/schemas/"):
        return {"enum": sorted(schemas())}
    if route.startswith("/v1/examples/"):
        return {"enum": sorted(examples())}
    return {}
