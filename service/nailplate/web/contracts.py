"""The published contracts as the API shows them: schemas under one roof, and examples out of example plans and rules' cases."""

import json
from collections.abc import Mapping
from functools import cache, reduce
from importlib.resources import files
from typing import Any

from nailplate.catalog import catalog
from nailplate.review import check
from nailplate.sheets.registry import SHEETS
from nailplate.web.described import refer
from nailplate.web.shapes import SHAPES
from nailplate.wire import (
    CALCULATIONS,
    calculate,
    calculation_schemas,
    comparison_schema,
    plan_digest,
    plan_schema,
    read_plan_value,
    report_schema,
    report_value,
)


@cache
def schemas() -> Mapping[str, dict[str, Any]]:
    """The published JSON Schemas by name."""
    requests = {f"{name}-request": schema for name, schema in calculation_schemas().items()}
    whole = {"plan-1": plan_schema(), "report-1": report_schema(), "comparison-1": comparison_schema()}
    return {**whole, **requests}


def _title(name: str) -> str:
    """What a published schema is called in the API description: ``Plan``, ``BoxFillRequest``."""
    return "".join(word.capitalize() for word in name.removesuffix("-1").split("-"))


def components() -> dict[str, Any]:
    """The same schemas with their definitions side by side, as an API description wants them."""
    found: dict[str, Any] = {}
    roots = [_title(name) for name in schemas()]
    for title, whole in zip(roots, schemas().values(), strict=True):
        definitions = whole.get("$defs", {})
        taken = {*SHAPES, *found, *roots}
        names = {inner: f"{title}{inner}" if inner in taken else inner for inner in definitions}
        root = {key: value for key, value in whole.items() if key not in ("$defs", "$schema", "$id", "title")}
        found[title] = _pointed(root, names, title, definitions)
        found |= {names[inner]: _pointed(schema, names, title, definitions) for inner, schema in definitions.items()}
    requests = [refer(_title(f"{name}-request")) for name in calculation_schemas()]
    return {**found, "CalculationRequest": {"anyOf": requests, "description": "what the named calculation takes"}}


def _pointed(value: Any, names: Mapping[str, str], root: str, definitions: Mapping[str, Any]) -> Any:
    """A schema whose references point into the API description.

    A reference to a field of another schema is replaced by that field's own: generators of clients follow names of schemas alone.
    """
    if isinstance(value, list):
        return [_pointed(item, names, root, definitions) for item in value]
    if not isinstance(value, dict):
        return value
    reference = value.get("$ref")
    if isinstance(reference, str) and reference != "#":
        inner, *within = reference.removeprefix("#/$defs/").split("/")
        if within:
            field = reduce(lambda schema, member: schema[member], within, definitions[inner])
            beside = {key: each for key, each in value.items() if key != "$ref"}
            return _pointed({**field, **beside}, names, root, definitions)
        return {**value, "$ref": f"#/components/schemas/{names[inner]}"}
    pointed = {key: _pointed(inner, names, root, definitions) for key, inner in value.items()}
    return {**pointed, "$ref": f"#/components/schemas/{root}"} if reference == "#" else pointed


@cache
def examples() -> Mapping[str, bytes]:
    """The example plans of whole houses, as their files say them."""
    folder = files("nailplate.examples")
    found = sorted((file for file in folder.iterdir() if file.name.endswith(".json")), key=lambda file: file.name)
    plans = {file.name.removesuffix(".json"): file.read_bytes() for file in found}
    return {name: text for name, text in plans.items() if "plan_format" in json.loads(text)}


HALL_BOX: dict[str, Any] = {
    "plan_format": 1,
    "name": "Hall box",
    "basis": {"edition": "2023", "regime": "dwelling"},
    "circuits": {"c": {}},
    "panels": {"p": {"kind": "subpanel"}},
    "boxes": {"hall": {"volume": "13 in3", "clamps": "none"}},
    "devices": {"s": {"kind": "switch", "box": "hall", "circuit": "c"}},
    "cables": {
        name: {"type": "NM-B", "size": "14 AWG", "insulated": 2, "grounding": "14 AWG", "circuit": "c",
               "ends": [{"panel": "p"}, {"box": "hall"}]}
        for name in "ab"
    },
}  # fmt: skip
"""A small plan with something wrong: a box too small for two cables and a switch."""


def request_examples(operation: str) -> dict[str, Any]:
    """Examples of what an operation takes."""
    if operation == "work_out":
        return {"examples": {name: {"summary": name, "value": dict(each.example)} for name, each in CALCULATIONS.items()}}
    if operation not in ("check_plan", "lint_plan", "make_sheet"):
        return {}
    return {"examples": {"small": {"summary": HALL_BOX["name"], "value": HALL_BOX}}}


def answer_examples(operation: str, media: str) -> dict[str, Any]:
    """Examples of what an operation answers to the first example of what it takes."""
    if media != "application/json":
        return {}
    if operation == "work_out":
        answers = {name: calculate(name, dict(each.example)) for name, each in CALCULATIONS.items()}
        return {"examples": {name: {"summary": name, "value": answer} for name, answer in answers.items()}}
    if operation != "check_plan":
        return {}
    value = HALL_BOX
    report = report_value(check(read_plan_value(value), catalog(), digest=plan_digest(value)))
    return {"examples": {"small": {"summary": value["name"], "value": report}}}


def parameter_schema(route: str) -> dict[str, Any]:
    """What a path parameter may be, where the list is closed."""
    closed = {
        "/v1/schemas/": schemas(),
        "/v1/examples/": examples(),
        "/v1/calculations/": calculation_schemas(),
        "/v1/sheets/": SHEETS,
    }
    return next(({"enum": sorted(names)} for start, names in closed.items() if route.startswith(start)), {})
