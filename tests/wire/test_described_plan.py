"""The published plan schema explains every field to an editor: a description, the choices, an example of a quantity."""

from collections.abc import Iterator
from typing import Any

from nailplate.wire import plan_schema

SCHEMA = plan_schema()


def properties() -> Iterator[tuple[str, dict[str, Any]]]:
    """Every field of every kind, with its place; where a default says what the part says, it is the part's."""
    for kind, described in {"Plan": SCHEMA, **SCHEMA["$defs"]}.items():
        for name, field in described.get("properties", {}).items():
            yield f"{kind}.{name}", _at(field["$ref"]) if set(field) == {"$ref"} else field


def _at(reference: str) -> dict[str, Any]:
    found: Any = SCHEMA
    for member in reference.removeprefix("#/").split("/"):
        found = found[member]
    return found  # type: ignore[no-any-return]


def test_every_field_has_a_description() -> None:
    assert len(list(properties())) > 500
    assert [name for name, field in properties() if not field.get("description")] == []


def test_every_quantity_has_an_example() -> None:
    quantities = [(name, field) for name, field in properties() if _takes_a_unit(field)]
    assert len(quantities) > 100
    assert [name for name, field in quantities if not field.get("examples")] == []


def _takes_a_unit(field: dict[str, Any]) -> bool:
    return any("a number and a unit" in form.get("description", "") for form in field.get("anyOf", [field]))


def test_every_choice_lists_its_words() -> None:
    choices = [(name, field) for name, field in properties() if "enum" in field]
    assert len(choices) > 50
    assert [name for name, field in choices if not all(isinstance(word, str) and word for word in field["enum"])] == []
