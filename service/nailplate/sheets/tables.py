"""A sheet as plain tables: title, stamp, sections, columns with their units, and rows of words and measures with pointers."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from nailplate.plan import Pointer
from nailplate.plan.words import LengthUnit
from nailplate.sheets.drawing.stamp import Stamp
from nailplate.sheets.drawing.svg import Markup
from nailplate.units import Measure, Unit

SHEET_CAUTIONS: Final = (
    "Not for construction without a permit, approval by the authority having jurisdiction, and review by a licensed electrician.",
    "Worked out from the plan as drawn. Verify every dimension, quantity and clearance on site before you cut, drill or order.",
    "The adopted code, local amendments, the serving utility and manufacturers' instructions govern over this sheet.",
    "Turn off the power, lock it out and test before work. Photograph and have the rough-in inspected before cover-up.",
)


@dataclass(frozen=True, slots=True)
class Cell:
    """Words or a measure, and the part of the plan that they are about. ``whole`` are the words where long names in them are cut.

    A cell without a value is one that the plan does not tell.
    """

    value: str | Measure | None = None
    at: Pointer | None = None
    whole: str | None = None


@dataclass(frozen=True, slots=True)
class Column:
    """A column's head, and the unit of its measures; without one it holds words."""

    head: str
    unit: Unit | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under columns; every row has a cell for every column."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A part of a sheet: a room, a wall, a panel. ``picture`` shows what ``picture_words`` say."""

    title: Cell
    tables: tuple[Table, ...] = ()
    notes: tuple[Cell, ...] = ()
    picture: Markup | None = None


@dataclass(frozen=True, slots=True)
class Document:
    """One sheet of one plan. ``open_findings`` are those of its check that stand against building from it, in words."""

    name: str
    title: str
    stamp: Stamp
    unit: LengthUnit
    sections: tuple[Section, ...]
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = field(default=SHEET_CAUTIONS)


def table(title: str, columns: Sequence[Column], rows: Sequence[tuple[Cell, ...]]) -> tuple[Table, ...]:
    """A table, or nothing where it would have no row."""
    return (Table(title, tuple(columns), tuple(rows)),) if rows else ()
