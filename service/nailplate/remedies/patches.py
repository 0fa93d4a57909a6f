"""A remedy: what to do, in words, and the JSON Patch that does it where the change is mechanical."""

from dataclasses import dataclass
from typing import Literal

from nailplate.plan import Part, Pointer


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation of a JSON Patch (RFC 6902)."""

    op: Literal["add", "replace", "remove", "test"]
    path: Pointer
    value: object = None


def add(path: Pointer, value: object) -> Operation:
    """Adds a fact or a part at ``path``."""
    return Operation("add", path, value)


def replace(path: Pointer, value: object) -> Operation:
    """Replaces the fact at ``path``."""
    return Operation("replace", path, value)


def remove(path: Pointer) -> Operation:
    """Takes away what stands at ``path``."""
    return Operation("remove", path)


def state(part: Part, name: str, value: object) -> Operation:
    """States a fact of a part, whether or not the plan states it already."""
    return Operation("replace" if part.knows(name) else "add", part.where(name), value)


@dataclass(frozen=True, slots=True)
class Remedy:
    """How to fix it: words always; where it is mechanical, a patch that clears the finding."""

    words: str
    patch: tuple[Operation, ...] = ()
