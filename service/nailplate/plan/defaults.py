"""The author's own defaults: facts said once for many parts. A part's own fact goes before them; the service has none of its own.

``defaults`` holds an object for each map of the plan, and one for the segments of routes. Its members are facts of those parts, or
names of a kind with facts for parts of that kind alone, which go before those for all. Of circuits that is a purpose, of boxes a
shape, of cables a size or a type, of segments the member's role or size, or how they run; what is named first goes before the rest. What is said of
one part only (its place in the plane, label, ends, route) has no default.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from nailplate.plan.facts import Facts, json_names
from nailplate.plan.pointer import Pointer

SEGMENTS: Final = "segments"
"""The section for the segments of cables' routes, which are in no map of their own."""
KIND_FIELDS: Final[Mapping[str, tuple[str, ...]]] = {
    "circuits": ("purpose",),
    "boxes": ("shape",),
    "cables": ("size", "type"),
    SEGMENTS: ("role", "member", "how"),
}
"""The fields by whose values a section has facts for some of its parts, where it is not ``kind``; the first goes before the second."""
SAID_OF_ONE: Final = frozenset({"label", "extra", "ends", "route", "to", "to_height"})
"""JSON names of facts that have no default; nor have points, lines and outlines."""


@dataclass(frozen=True, slots=True)
class Default:
    """One default as the plan writes it, and how many parts took it because they state nothing else."""

    pointer: Pointer
    value: object
    parts: int


Completed = Callable[[Pointer, Mapping[str, object]], Facts]
"""A segment at a pointer with these facts, and those that the defaults state of such a segment."""


@dataclass(frozen=True, slots=True)
class Defaults:
    """Every default of a plan, in the document's order. ``segment`` completes the stretches of a route that is worked out."""

    each: tuple[Default, ...] = ()
    segment: Completed | None = None

    def __iter__(self) -> Iterator[Default]:
        return iter(self.each)


def kind_fields(section: str, kind: type[Facts]) -> tuple[str, ...]:
    """The fields by whose values a section has facts for some of its parts alone; none for parts without kinds."""
    return tuple(name for name in KIND_FIELDS.get(section, ("kind",)) if name in json_names(kind))
