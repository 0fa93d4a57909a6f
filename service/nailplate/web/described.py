"""What a route says of itself for the API description; its docstring says the rest."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeVar

from flask.typing import ResponseReturnValue

Viewed = Callable[..., ResponseReturnValue]
"""What a request is given to."""

View = TypeVar("View", bound=Viewed)

ANY_JSON: dict[str, Any] = {"type": "object"}


@dataclass(frozen=True, slots=True)
class Parameter:
    """A query parameter: what it means, its choices where the list is closed, and the most where it is a whole number from 1."""

    meaning: str
    choices: tuple[str, ...] = ()
    most: int | None = None

    @property
    def schema(self) -> dict[str, Any]:
        """Its JSON Schema."""
        if self.most is not None:
            return {"type": "integer", "minimum": 1, "maximum": self.most}
        return {"type": "string", **({"enum": list(self.choices)} if self.choices else {})}


@dataclass(frozen=True, slots=True, kw_only=True)
class Described:
    """One operation: its group, what it takes and gives. Schemas are JSON Schema; ``refer`` names a published one."""

    group: str
    answer: str
    takes: Mapping[str, Any] | None = None
    takes_also: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    """Other media types of a body, each with its schema."""
    gives: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    """Media type to schema."""
    parameters: Mapping[str, Parameter] = field(default_factory=dict)
    """Query parameters by name."""
    problems: tuple[str, ...] = ()
    """Names of the problem types it may answer with, beside those that every route may."""


DESCRIBED: dict[Callable[..., Any], Described] = {}
"""View function to its description."""


def refer(name: str) -> dict[str, str]:
    """A reference to a schema of the API description."""
    return {"$ref": f"#/components/schemas/{name}"}


def described(**words: Any) -> Callable[[View], View]:
    """Describes the view function under it."""

    def keep(view: View) -> View:
        DESCRIBED[view] = Described(**words)
        return view

    return keep
