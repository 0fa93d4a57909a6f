"""The plan as JSON Schema 2020-12, printed out of the marshmallow schemas that read it."""

from typing import Any

from marshmallow import Schema

from nailplate.plan import Facts, Plan
from nailplate.wire.fields import PlanField
from nailplate.wire.plan_schema import schema_of

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def plan_schema() -> dict[str, Any]:
    """The published schema of plan format 1. References and geometry are checked by the service, beyond what a schema can say."""
    schema = facts_schema(Plan, "plan-1", "nailplate plan, format 1")
    taken = {"type": "string", "description": "the schema that an editor checks the plan by; taken and ignored"}
    return {**schema, "properties": {"$schema": taken, **schema["properties"]}}


def facts_schema(kind: type[Facts], name: str, title: str) -> dict[str, Any]:
    """The schema of what is read into one kind of facts, under its published name."""
    definitions: dict[str, Any] = {}
    root = _object(schema_of(kind), definitions)
    return published_schema(name, title, root, definitions)


def published_schema(name: str, title: str, root: dict[str, Any], definitions: dict[str, Any]) -> dict[str, Any]:
    """A whole schema as ``schemas/NAME.json`` holds it: its dialect and address, what it describes, and the definitions it refers to."""
    head = {"$schema": DIALECT, "$id": f"urn:nailplate:schemas:{name}", "title": title}
    return {**head, **root, "$defs": dict(sorted(definitions.items()))}


def _object(schema: type[Schema], definitions: dict[str, Any]) -> dict[str, Any]:
    def refer(other: type[Schema]) -> dict[str, Any]:
        name = other.__name__.removesuffix("Schema")
        if name not in definitions:
            definitions[name] = {}  # stands here first, so that a kind that holds itself ends
            definitions[name] = _object(other, definitions)
        return {"$ref": f"#/$defs/{name}"}

    fields = {field.data_key or name: field for name, field in schema().fields.items()}
    properties = {
        key: {"$ref": field.same_as}
        if field.same_as
        else {**field.json_schema(refer), "description": field.metadata["description"]}
        for key, field in fields.items()
        if isinstance(field, PlanField)
    }
    described = {
        "type": "object",
        "description": " ".join((schema.__doc__ or "").split()),
        "properties": properties,
        "additionalProperties": False,
    }
    required = [key for key, field in fields.items() if field.required]
    return {**described, "required": required} if required else described
