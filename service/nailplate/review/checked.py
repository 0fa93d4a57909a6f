"""One plan among several: its report, or why there is none. What every output of more than one plan is made of."""

from collections.abc import Callable
from dataclasses import dataclass, field

from nailplate.plan import Fault, Plan, Pointer
from nailplate.review.report import Report


@dataclass(frozen=True, slots=True)
class Region:
    """Where a part stands in its file: lines and columns from 1, the end beyond the last character."""

    line: int
    column: int
    end_line: int
    end_column: int


Locate = Callable[[Pointer], Region]


def nowhere(pointer: Pointer) -> Region:
    """The first character: where a text was not kept or cannot be read."""
    return Region(1, 1, 1, 1)


def no_plan() -> Plan | None:
    """Where nobody kept the plan."""
    return None


@dataclass(frozen=True, slots=True)
class Checked:
    """The result for one plan. ``name`` is its file or key; without a report ``faults`` say what is wrong with the document.

    ``locate`` finds a pointer in the file's text, ``plan`` is the plan itself, for pages that draw it; both read that text only
    when asked.
    """

    name: str
    report: Report | None
    faults: tuple[Fault, ...] = ()
    locate: Locate = field(default=nowhere, compare=False)
    plan: Callable[[], Plan | None] = field(default=no_plan, compare=False)
