"""A sheet of tables in every form: Markdown, HTML, CSV (RFC 4180) and JSON, by one walk over its sections and columns."""

import csv as writer
import io
import json
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from html import escape
from typing import Any, Final

from nailplate.plan.inert import inert_json
from nailplate.plan.words import LengthUnit
from nailplate.render.csv import safe_cell
from nailplate.render.in_full import InFull
from nailplate.render.inert import inert
from nailplate.render.markdown import plain
from nailplate.render.table_words import cautions_of, shown_cell, stamp_lines, words
from nailplate.render.tables_pdf import pdf_of_tables
from nailplate.sheets.drawing.stamp import Stamp
from nailplate.sheets.orders import Order
from nailplate.sheets.tables import Cell, Column, Document, Section, Table
from nailplate.units import Measure, Unit

# Markdown


def as_markdown(document: Document) -> str:
    """The sheet as Markdown with tables."""
    return "\n".join(_markdown(document)) + "\n"


def _markdown(document: Document) -> Iterator[str]:
    yield f"# {plain(document.title)}"
    yield ""
    yield from (f"- {head}: {plain(told)}" for head, told in stamp_lines(document.stamp))
    yield from _points(document.notes)
    in_full = InFull()
    for section in document.sections:
        yield from ("", f"## {plain(in_full.words(section.title))}")
        yield from _points(tuple(in_full.words(note) for note in section.notes))
        for table in section.tables:
            yield from _markdown_table(table, document.unit, in_full)
    if in_full.lines:
        yield from ("", "## Names in full")
        yield from _points(in_full.lines)
    yield from ("", "## Cautions")
    yield from _points(cautions_of(document))


def _points(points: tuple[str, ...]) -> Iterator[str]:
    if points:
        yield ""
    yield from (f"- {plain(each)}" for each in points)


def _markdown_table(table: Table, unit: LengthUnit, in_full: InFull) -> Iterator[str]:
    yield from ("", f"### {plain(table.title)}", "")
    yield f"| {' | '.join(plain(column.head) for column in table.columns)} |"
    yield f"| {' | '.join('---:' if column.unit else '---' for column in table.columns)} |"
    for row in table.rows:
        cells = (plain(in_full.shown(*each, unit)) for each in zip(row, table.columns, strict=True))
        yield f"| {' | '.join(cells)} |"


# HTML

_STYLE: Final = """
body { font: 14px/1.35 system-ui, sans-serif; margin: 1rem; color: #111; background: #fff }
h1 { font-size: 1.4rem } h2 { font-size: 1.15rem; margin-top: 1.6rem; border-bottom: 1px solid #555 }
table { border-collapse: collapse; margin: .4rem 0 1rem; width: 100% }
caption { text-align: left; font-weight: 600; padding: .3rem 0 }
th, td { border: 1px solid #777; padding: .2rem .4rem; text-align: left; vertical-align: top; overflow-wrap: break-word }
li, h2 { overflow-wrap: anywhere } th { background: #eee; overflow-wrap: normal } td.n { text-align: right; white-space: nowrap }
.scroll { overflow-x: auto } svg { max-width: 100%; min-width: 36rem; height: auto }
@media screen and (max-width: 45rem) { table { min-width: 45rem } }
@page { size: letter landscape; margin: .5in }
@media print { body { margin: 0; font-size: 9pt } tr, svg { break-inside: avoid } .scroll { overflow: visible }
  td { overflow-wrap: anywhere; min-width: 5.5em } td.n { min-width: 0 } svg { min-width: 0 } h2, caption { break-after: avoid } }
"""


def as_html(document: Document) -> str:
    """The sheet as one HTML document that fetches nothing."""
    title = escape(inert(f"{document.title}: {document.stamp.plan}"))
    head = (
        '<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, '
        f'initial-scale=1"><title>{title}</title><style>{_STYLE}</style></head><body><main>'
    )
    return head + "".join(_html(document)) + "</main></body></html>\n"


def _html(document: Document) -> Iterator[str]:
    yield f"<h1>{_safe(document.title)}</h1>"
    yield _items(f"{head}: {told}" for head, told in stamp_lines(document.stamp))
    yield _items(document.notes)
    for section in document.sections:
        yield f"<section><h2{_whole(section.title)}>{_safe(words(section.title))}</h2>"
        yield _items(words(note) for note in section.notes)
        yield _scrolled(section.picture, f"What joins what: {words(section.title)}") if section.picture else ""
        yield from (_html_table(table, document.unit) for table in section.tables)
        yield "</section>"
    yield f"<h2>Cautions</h2>{_items(cautions_of(document))}"


def _safe(text: str) -> str:
    return escape(inert(text))


def _items(points: Iterable[str]) -> str:
    items = "".join(f"<li>{_safe(each)}</li>" for each in points)
    return f"<ul>{items}</ul>" if items else ""


def _whole(cell: Cell) -> str:
    return f' title="{_safe(cell.whole)}"' if cell.whole else ""


def _html_table(table: Table, unit: LengthUnit) -> str:
    heads = "".join(f'<th scope="col">{_safe(column.head)}</th>' for column in table.columns)
    rows = "".join(f"<tr>{''.join(_html_cells(row, table.columns, unit))}</tr>" for row in table.rows)
    caption = f"<caption>{_safe(table.title)}</caption>"
    return _scrolled(f"<table>{caption}<thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>", table.title)


def _scrolled(markup: str, what: str) -> str:
    """What may be wider than a phone, in a frame of its own that scrolls, by keyboard too."""
    return f'<div class="scroll" role="group" tabindex="0" aria-label="{_safe(what)}">{markup}</div>'


def _html_cells(row: tuple[Cell, ...], columns: tuple[Column, ...], unit: LengthUnit) -> Iterator[str]:
    for cell, column in zip(row, columns, strict=True):
        class_ = ' class="n"' if isinstance(cell.value, Measure) else ""
        at = f' data-at="{_safe(str(cell.at))}"' if cell.at is not None else ""
        yield f"<td{class_}{at}{_whole(cell)}>{_safe(shown_cell(cell, column, unit))}</td>"


# CSV

_SECTION, _TABLE, _POINTER = "section", "table", "pointer"
_STAMPS = ("plan", "digest", "edition", "rules", "issued")


def as_csv(document: Document) -> str:
    """One table of all: the columns of every table once, a row a row; then notes and cautions. No cell that a spreadsheet would run.

    Measures are bare numbers in the unit that the head names.
    """
    text = io.StringIO()
    table = writer.writer(text, lineterminator="\r\n")
    heads = list(dict.fromkeys(_head(column) for each in _tables(document) for column in each.columns))
    table.writerow([_SECTION, _TABLE, *heads, _POINTER, *_STAMPS])
    stamp = _stamp_cells(document.stamp)
    for row in _csv_rows(document, heads):
        table.writerow([_csv_cell(each) for each in (*row, *stamp)])
    return text.getvalue()


def _tables(document: Document) -> Iterator[Table]:
    return (table for section in document.sections for table in section.tables)


def _head(column: Column) -> str:
    return f"{column.head} ({column.unit})" if column.unit not in (None, Unit.COUNT) else column.head


def _stamp_cells(stamp: Stamp) -> list[str]:
    told = {head.lower(): line for head, line in stamp_lines(stamp)}
    return [told.get(each, "") for each in _STAMPS]


def _csv_rows(document: Document, heads: list[str]) -> Iterator[list[object]]:
    blank: list[object] = [""] * max(0, len(heads) - 1)
    for section in document.sections:
        title = section.title.whole or words(section.title)
        for note in section.notes:
            yield [title, "note", note.whole or words(note), *blank, str(note.at or "")]
        for table in section.tables:
            for row in table.rows:
                cells = {_head(column): _value(cell) for column, cell in zip(table.columns, row, strict=True)}
                at = next((str(cell.at) for cell in row if cell.at is not None), "")
                yield [title, table.title, *(cells.get(head, "") for head in heads), at]
    for kind, said in (("Notes", document.notes), ("Cautions", cautions_of(document))):
        yield from ([kind, "note", each, *blank, ""] for each in said)


def _value(cell: Cell) -> object:
    if isinstance(cell.value, Measure):
        return round(cell.value.value, 4)
    return cell.whole or cell.value or ""


def _csv_cell(value: object) -> str:
    return safe_cell(value.strip() if isinstance(value, str) else value)


# JSON


def as_json(document: Document) -> str:
    """The sheet as data: measures as value and unit, words whole, with the pointer of what each is about."""
    return inert_json(json.dumps(_document_value(document), ensure_ascii=False, indent=1)) + "\n"


def _document_value(document: Document) -> dict[str, Any]:
    return {
        "sheet": document.name,
        "title": document.title,
        "stamp": {head.lower(): line for head, line in stamp_lines(document.stamp)},
        "notes": list(document.notes),
        "sections": [_section_value(section) for section in document.sections],
        "cautions": list(cautions_of(document)),
    }


def _section_value(section: Section) -> dict[str, Any]:
    value: dict[str, Any] = {"title": section.title.whole or words(section.title)}
    if section.title.at is not None:
        value["pointer"] = str(section.title.at)
    if section.notes:
        value["notes"] = [_cell_value(note) for note in section.notes]
    if section.picture:
        value["picture"] = section.picture
    value["tables"] = [_table_value(table) for table in section.tables]
    return value


def _table_value(table: Table) -> dict[str, Any]:
    columns = [{"head": each.head, **({"unit": each.unit.value} if each.unit else {})} for each in table.columns]
    rows = [[_cell_value(cell) for cell in row] for row in table.rows]
    return {"title": table.title, "columns": columns, "rows": rows}


def _cell_value(cell: Cell) -> dict[str, Any]:
    value: dict[str, Any] = {}
    if isinstance(cell.value, Measure):
        value = {"value": round(cell.value.value, 6), "unit": cell.value.unit.value}
    elif cell.value is not None:
        value = {"text": cell.whole or cell.value}
    return {**value, **({"pointer": str(cell.at)} if cell.at is not None else {})}


def rendered(document: Document, order: Order) -> bytes:
    """A sheet in the form that is ordered, opened with what its plan's check found. Raises ExtraMissing."""
    whole = with_findings(document, order)
    return pdf_of_tables([whole]) if order.media == PDF else FORMS[order.media](whole).encode()


def with_findings(document: Document, order: Order) -> Document:
    """The sheet with a note of what stands against building from it, where anything does."""
    wrong = sum(not mark.open for mark in order.findings.marks)
    undecided = len(order.findings.marks) - wrong
    if not wrong and not undecided:
        return document
    note = (
        f"The check of this plan found {wrong} violation{'' if wrong == 1 else 's'} and {undecided} that could not be decided. Settle "
        "them before you build from this sheet; it shows the plan as drawn."
    )
    return replace(document, notes=(note, *document.notes))


PDF: Final = "application/pdf"
FORMS: Final[dict[str, Callable[[Document], str]]] = {
    "text/markdown": as_markdown,
    "text/html": as_html,
    "text/csv": as_csv,
    "application/json": as_json,
}
"""What writes a sheet of tables, by media type."""
