"""What every form of a sheet of tables says alike: its stamp, its cautions, and each cell as people read it."""

from collections.abc import Iterator
from typing import Final

from nailplate.plan.words import LengthUnit
from nailplate.sheets.drawing.measures import BY_TAPE, dimension
from nailplate.sheets.drawing.stamp import Stamp
from nailplate.sheets.tables import Cell, Column, Document
from nailplate.units import Measure, Unit, shown

UNKNOWN: Final = "not known"


def shown_cell(cell: Cell, column: Column, unit: LengthUnit) -> str:
    """A cell as people read it; a cell without value in a column of measures says so."""
    if isinstance(cell.value, Measure):
        length = cell.value.unit is Unit.INCH
        return dimension(cell.value.value, unit, BY_TAPE) if length else shown(cell.value)
    if cell.value is None:
        return UNKNOWN if column.unit is not None and cell.at is not None else ""
    return cell.value


def stamp_lines(stamp: Stamp) -> Iterator[tuple[str, str]]:
    """What a sheet says of itself: each line's head and words."""
    yield "Plan", stamp.plan
    if stamp.digest:
        yield "Digest", stamp.digest
    yield "Edition", f"NEC {stamp.edition}"
    if stamp.packs:
        yield "Rules", ", ".join(f"{name} {version}" for name, version in stamp.packs)
    if stamp.issued:
        yield "Issued", stamp.issued


def cautions_of(document: Document) -> tuple[str, ...]:
    """The cautions of every sheet, then those of the plan's check."""
    return tuple(dict.fromkeys((*document.cautions, *document.stamp.cautions)))


def words(cell: Cell) -> str:
    """The words of a cell that holds words."""
    return cell.value if isinstance(cell.value, str) else ""
