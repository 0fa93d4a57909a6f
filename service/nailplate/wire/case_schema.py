"""A rule's case file as JSON Schema 2020-12. What its plans say is checked by reading them; here stand the names they may hold."""

from typing import Any

from nailplate.codes import EDITIONS
from nailplate.review.trials import WORDS
from nailplate.wire.json_schema import plan_schema, published_schema

_TEXT = {"type": "string", "minLength": 1}
_POINTER = {"type": "string", "pattern": "^(/.+)?$"}


def case_schema() -> dict[str, Any]:
    """The published schema of case files, form 1."""
    root = {"type": "array", "minItems": 1, "items": _case()}
    return published_schema("cases-1", "nailplate cases of a rule, form 1", root, {"Expectation": _expectation()})


def _case() -> dict[str, Any]:
    maps = {"type": "object", "propertyNames": {"enum": sorted(plan_schema()["properties"])}}
    editions = {"enum": [f"nec-{year}" for year in EDITIONS]}
    properties: dict[str, dict[str, Any]] = {
        "description": {**_TEXT, "description": "what the case shows; no two of a file have the same"},
        "editions": {
            "type": "array", "items": editions, "minItems": 1, "uniqueItems": True,
            "description": "the editions under which the plan gets this answer, oldest first",
        },
        "shown": {"const": True, "description": "the rule's page shows it, and it travels with the package"},
        "like": {**_TEXT, "description": "description of an earlier case of this file, whose plan this one starts from"},
        "but": {**maps, "minProperties": 1, "description": "a merge patch (RFC 7396) of that plan"},
        "plan": {**maps, "description": "no more of a plan than the rule needs"},
        "expect": {
            "type": "array", "items": {"$ref": "#/$defs/Expectation"},
            "description": "answers that come; a violation, judgement or undetermined that is not listed fails the case",
        },
    }  # fmt: skip
    return {
        "type": "object",
        "properties": properties,
        "additionalProperties": False,
        "required": ["description", "editions", "expect"],
        "oneOf": [{"required": ["plan"]}, {"required": ["like"]}],
        "dependentRequired": {"but": ["like"]},
    }


def _expectation() -> dict[str, Any]:
    properties: dict[str, dict[str, Any]] = {
        "at": {**_POINTER, "description": "JSON Pointer of what the answer is about"},
        "outcome": {"enum": list(WORDS.values())},
        "facet": {**_TEXT, "description": "which place of several, by ids of the plan"},
        "measured": {**_TEXT, "description": "a quantity, as reports write it"},
        "limit": {**_TEXT, "description": "a quantity, as reports write it"},
        "needs": {"type": "array", "items": _POINTER, "description": "JSON Pointers of the facts that are missing"},
    }
    return {
        "type": "object",
        "description": "An answer, or those fields of it that matter.",
        "properties": properties,
        "additionalProperties": False,
        "required": ["at", "outcome"],
    }
