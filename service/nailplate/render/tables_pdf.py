"""Sheets of tables as one PDF on letter paper. fpdf2 is an optional package and is imported only when somebody asks for it."""

import importlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any, Final

from nailplate.calc.work import spend
from nailplate.render.in_full import InFull
from nailplate.render.letters import FAMILY, Letters, close_fonts, put_in
from nailplate.render.pictures_pdf import draw_picture
from nailplate.render.table_words import cautions_of, shown_cell, stamp_lines, words
from nailplate.sheets.letters import LACKING
from nailplate.sheets.orders import ExtraMissing
from nailplate.sheets.tables import Document, Section, Table
from nailplate.units import Measure

_WANTED: Final = "PDF of tables needs the optional package fpdf2: pip install 'nailplate[pdf]'."
_NARROWEST: Final = 6
_WIDEST: Final = 34
_ACROSS: Final = 720.0
"""Points between the margins."""
_PADDING: Final = 1.5
_LETTER: Final = 8.0
"""Points that the widest letter takes in a cell."""
_LINES: Final = 50
"""Lines of one cell that a page surely takes."""
_STEPS: Final = 20
"""Steps of work that laying out one cell takes."""
_TITLE_AND_ROW: Final = 48.0
_TITLE_AND_TABLE: Final = 72.0
"""Points that a head and the first of what stands under it take."""
_EPOCH: Final = datetime(2000, 1, 1, tzinfo=UTC)
"""Said of every file, so that the same plan gives the same bytes; the stamp has the date that counts."""


def pdf_of_tables(documents: Sequence[Document]) -> bytes:
    """All sheets one after the other, each from a page of its own. Raises ExtraMissing."""
    tables = (table for document in documents for section in document.sections for table in section.tables)
    spend(_STEPS * sum(len(table.rows) * len(table.columns) for table in tables))
    pdf = _paper()
    letters = put_in(pdf)
    try:
        for document in documents:
            _Sheet(pdf, letters, document).add()
        return bytes(pdf.output())
    finally:
        close_fonts(pdf)


def _paper() -> Any:
    try:
        made = importlib.import_module("fpdf").FPDF(orientation="landscape", unit="pt", format="letter")
    except ImportError:
        raise ExtraMissing(_WANTED) from None
    made.set_creation_date(_EPOCH)
    made.set_margin(36)
    made.set_auto_page_break(auto=True, margin=36)
    return made


@dataclass(slots=True)
class _Sheet:
    """One sheet on its way into a PDF."""

    pdf: Any
    letters: Letters
    document: Document
    in_full: InFull = field(default_factory=InFull)

    def add(self) -> None:
        self.pdf.add_page()
        self.pdf.start_section(self.letters.written(self.document.title))
        self._write(self.document.title, 15, bold=True)
        for head, line in stamp_lines(self.document.stamp):
            self._write(f"{head}: {line}", 8)
        if self.letters.lacking(_texts(self.document)):
            self._write(LACKING, 8, bold=True)
        for note in self.document.notes:
            self._write(f"- {note}", 8)
        for section in self.document.sections:
            self._section(section)
        self._list("Names in full", self.in_full.lines)
        self._list("Cautions", [f"- {each}" for each in cautions_of(self.document)])

    def _section(self, section: Section) -> None:
        self._keep(_TITLE_AND_TABLE)
        self._write(self.in_full.words(section.title), 11, bold=True)
        for note in section.notes:
            self._write(f"- {self.in_full.words(note)}", 8)
        if section.picture is not None:
            draw_picture(self.pdf, section.picture, self.letters)
        for each in section.tables:
            self._table(each)

    def _table(self, table: Table) -> None:
        self._keep(_TITLE_AND_ROW)
        self._write(table.title, 9, bold=True)
        heads = [self.letters.written(column.head) for column in table.columns]
        rows = [
            [
                self.letters.written(self.in_full.shown(cell, column, self.document.unit))
                for cell, column in zip(row, table.columns, strict=True)
            ]
            for row in table.rows
        ]
        longest = [max(len(each) for each in column) for column in zip(heads, *rows, strict=True)]
        widths = tuple(min(max(each, _NARROWEST), _WIDEST) for each in longest)
        align = tuple("RIGHT" if isinstance(cell.value, Measure) else "LEFT" for cell in table.rows[0])
        self.pdf.set_font(FAMILY, size=7)
        with self.pdf.table(col_widths=widths, text_align=align, line_height=8.5, padding=_PADDING) as made:
            made.row(heads)
            for row in rows:
                for part in _parted(row, widths):
                    made.row(part)
        self.pdf.ln(4)

    def _keep(self, tall: float) -> None:
        """Goes on to the next page where a head would stand alone at the foot of this one."""
        if self.pdf.will_page_break(tall):
            self.pdf.add_page()

    def _list(self, head: str, lines: Sequence[str]) -> None:
        if lines:
            self._write(head, 11, bold=True)
        for line in lines:
            self._write(line, 8)

    def _write(self, line: str, size: int, *, bold: bool = False) -> None:
        self.pdf.set_font(FAMILY, style="B" if bold else "", size=size)
        self.pdf.multi_cell(0, size * 1.35, self.letters.written(line), new_x="LMARGIN", new_y="NEXT")


def _parted(row: list[str], widths: Sequence[int]) -> Iterator[list[str]]:
    """A row as several, where a cell is longer than a page takes: all cells go on in the next one."""
    most = [max(1, int((_ACROSS * width / sum(widths) - 2 * _PADDING) / _LETTER)) * _LINES for width in widths]
    left = row
    while True:
        cuts = [
            len(cell) if len(cell) <= room else cell.rfind(" ", 1, room) + 1 or room
            for cell, room in zip(left, most, strict=True)
        ]
        yield [cell[:cut] for cell, cut in zip(left, cuts, strict=True)]
        left = [cell[cut:] for cell, cut in zip(left, cuts, strict=True)]
        if not any(left):
            return


def _texts(document: Document) -> Iterator[str]:
    """What a sheet says in its author's words."""
    yield from (line for _, line in stamp_lines(document.stamp))
    for section in document.sections:
        yield from (words(each) for each in (section.title, *section.notes))
        for table in section.tables:
            for row in table.rows:
                yield from (shown_cell(*each, document.unit) for each in zip(row, table.columns, strict=True))
