"""A remedy: what to do, in words, and the JSON Patch that does it where the change is mechanical."""

from dataclasses import dataclass
from typing import Final, Literal

from nailplate.plan import Facts, Pointer
from nailplate.plan.facts import WHOLE, json_names

MOST_PROPOSED: Final = 24
"""Devices that one remedy finds places for; where more are missing the words stand alone, and the room is to be drawn up anew."""


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


def state(part: Facts, name: str, value: object) -> Operation:
    """States a fact of a part, or of an object within it, whether or not the plan states it already.

    What one of the author's defaults states is stated for this part alone; the default stands for the others.
    """
    if WHOLE in part.said_at:
        return Operation("add", part.pointer, {json_names(type(part))[name]: value})
    stated = part.knows(name) and name not in part.said_at
    return Operation("replace" if stated else "add", part.own(name), value)


@dataclass(frozen=True, slots=True)
class Remedy:
    """How to fix it: words always; where it is mechanical, a patch that clears the finding."""

    words: str
    patch: tuple[Operation, ...] = ()
