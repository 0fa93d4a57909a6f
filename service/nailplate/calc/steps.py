"""How a calculation shows its work, and the one error it raises."""

from collections.abc import Mapping
from typing import TypeVar

from nailplate.codes import unknown_name
from nailplate.records import record
from nailplate.units import Measure

Value = TypeVar("Value")


class CalculationError(ValueError):
    """What was asked cannot be worked out: a name that no table has, or a number that makes no sense."""


@record(frozen=True, slots=True)
class Step:
    """One line that a reader can follow with a pencil: what it is, its figure, the section, and a word on it if needed."""

    what: str
    measure: Measure
    citation: str
    note: str = ""


def looked_up(table: Mapping[str, Value], name: str, what: str, hint: str = "") -> Value:
    """The entry ``name`` of ``table``, or a CalculationError that gives the nearest name."""
    if name in table:
        return table[name]
    raise CalculationError(unknown_name(what, name, table) + (f"; {hint}" if hint else ""))
