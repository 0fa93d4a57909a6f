"""Names that are cut in a table, told in full under it where a form has no titles: Markdown and PDF."""

from dataclasses import dataclass, field

from nailplate.plan.words import LengthUnit
from nailplate.render.table_words import shown_cell, words
from nailplate.sheets.tables import Cell, Column


@dataclass(slots=True)
class InFull:
    """Gives each text that is cut a number, the same one wherever it stands."""

    numbers: dict[str, int] = field(default_factory=dict)

    def words(self, cell: Cell) -> str:
        """The words of a title or note, with the number of its whole."""
        return self._numbered(words(cell), cell)

    def shown(self, cell: Cell, column: Column, unit: LengthUnit) -> str:
        """A cell of a table as people read it, with the number of its whole."""
        return self._numbered(shown_cell(cell, column, unit), cell)

    @property
    def lines(self) -> tuple[str, ...]:
        """What is in full, in the order of the numbers."""
        return tuple(f"({number}) {whole}" for whole, number in self.numbers.items())

    def _numbered(self, short: str, cell: Cell) -> str:
        if not cell.whole:
            return short
        return f"{short} ({self.numbers.setdefault(cell.whole, len(self.numbers) + 1)})"
