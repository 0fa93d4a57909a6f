"""What can be wrong with a plan document itself, before any rule looks at it.

PlanRefused (carries every Fault found, each with its pointer)
UnknownFact (a fact that the plan leaves out was read; an AttributeError)
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from nailplate.plan.pointer import Pointer

UNITS_HINT: Final = "; if bare numbers are millimeters, say so: `units.length`"
"""What a fault about a length too great adds where the plan states no unit."""


class FaultCode(StrEnum):
    """The kinds of fault, stable for callers."""

    UNKNOWN_FIELD = "unknown-field"
    MISSING_FIELD = "missing-field"
    WRONG_TYPE = "wrong-type"
    BAD_QUANTITY = "bad-quantity"
    BAD_CHOICE = "bad-choice"
    BAD_VALUE = "bad-value"
    BAD_ID = "bad-id"
    DANGLING_REFERENCE = "dangling-reference"
    BAD_GEOMETRY = "bad-geometry"
    CONTRADICTION = "contradiction"
    LIMIT_EXCEEDED = "limit-exceeded"
    NOT_JSON = "not-json"
    NO_FILE = "no-file"


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with the document: where, what kind, and what was found and wanted."""

    pointer: Pointer
    code: FaultCode
    detail: str


class PlanRefused(ValueError):
    """The document is JSON but no plan; ``faults`` lists everything found, in the document's order."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__(f"{len(faults)} faults, the first at {faults[0].pointer or '/'}: {faults[0].detail}")
        self.faults = faults


class UnknownFact(AttributeError):
    """A rule needs a fact that the plan leaves out. ``pointer`` is where it would stand."""

    def __init__(self, pointer: Pointer) -> None:
        super().__init__(f"the plan does not say {pointer}")
        self.pointer = pointer
