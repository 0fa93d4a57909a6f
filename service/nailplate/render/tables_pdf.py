"""Sheets of tables as one PDF on letter paper. fpdf2 is an optional package and is imported only when somebody asks for it."""

import importlib
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any, Final

from nailplate.render.inert import inert
from nailplate.render.table_words import cautions_of, shown_cell, stamp_lines, words
from nailplate.sheets.orders import ExtraMissing
from nailplate.sheets.tables import Document, Section, Table
from nailplate.units import Measure

_WANTED: Final = "PDF of tables needs the optional package fpdf2: pip install 'nailplate[pdf]'."
_FONT: Final = "helvetica"
_NARROWEST: Final = 6
_WIDEST: Final = 34
_EPOCH: Final = datetime(2000, 1, 1, tzinfo=UTC)
"""Said of every file, so that the same plan gives the same bytes; the stamp has the date that counts."""


def pdf_of_tables(documents: Sequence[Document]) -> bytes:
    """All sheets one after the other, each from a page of its own. Raises ExtraMissing."""
    pdf = _paper()
    for document in documents:
        _add(pdf, document)
    return bytes(pdf.output())


def _paper() -> Any:
    try:
        made = importlib.import_module("fpdf").FPDF(orientation="landscape", unit="pt", format="letter")
    except ImportError:
        raise ExtraMissing(_WANTED) from None
    made.set_creation_date(_EPOCH)
    made.set_margin(36)
    made.set_auto_page_break(auto=True, margin=36)
    return made


def _add(pdf: Any, document: Document) -> None:
    pdf.add_page()
    pdf.start_section(_latin(document.title))
    _write(pdf, document.title, 15, bold=True)
    for head, line in stamp_lines(document.stamp):
        _write(pdf, f"{head}: {line}", 8)
    for note in document.notes:
        _write(pdf, f"- {note}", 8)
    for section in document.sections:
        _add_section(pdf, section, document)
    _write(pdf, "Cautions", 11, bold=True)
    for each in cautions_of(document):
        _write(pdf, f"- {each}", 8)


def _add_section(pdf: Any, section: Section, document: Document) -> None:
    _write(pdf, words(section.title), 11, bold=True)
    for note in section.notes:
        _write(pdf, f"- {words(note)}", 8)
    for each in section.tables:
        _add_table(pdf, each, document)


def _add_table(pdf: Any, table: Table, document: Document) -> None:
    _write(pdf, table.title, 9, bold=True)
    heads = [_latin(column.head) for column in table.columns]
    rows = [
        [_latin(shown_cell(cell, column, document.unit)) for cell, column in zip(row, table.columns, strict=True)]
        for row in table.rows
    ]
    longest = [max(len(each) for each in column) for column in zip(heads, *rows, strict=True)]
    widths = tuple(min(max(each, _NARROWEST), _WIDEST) for each in longest)
    align = tuple("RIGHT" if isinstance(cell.value, Measure) else "LEFT" for cell in table.rows[0])
    pdf.set_font(_FONT, size=7)
    with pdf.table(col_widths=widths, text_align=align, line_height=8.5, padding=1.5) as made:
        made.row(heads)
        for row in rows:
            made.row(row)
    pdf.ln(4)


def _write(pdf: Any, line: str, size: int, *, bold: bool = False) -> None:
    pdf.set_font(_FONT, style="B" if bold else "", size=size)
    pdf.multi_cell(0, size * 1.35, _latin(line), new_x="LMARGIN", new_y="NEXT")


def _latin(text: str) -> str:
    """The letters that the fonts of every reader have; others are a question mark, and the other forms keep them."""
    return inert(text).encode("latin-1", "replace").decode("latin-1")
