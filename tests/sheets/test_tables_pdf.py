"""Sheets of tables as PDF: every sheet and picture in it, names in the letters of its own font, and what that lacks marked and told."""

import json
import re
from collections.abc import Iterable
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from nailplate.render import tables_pdf
from nailplate.render.letters import close_fonts, put_in
from nailplate.render.pictures_pdf import draw_picture
from nailplate.render.tables_pdf import pdf_of_tables
from nailplate.sheets.joint_picture import JointLines, Lead, joint_picture
from nailplate.sheets.orders import ExtraMissing
from nailplate.sheets.tables import Cell, Column, Document, Section, Table
from nailplate.wire import read_plan
from sheets.houses import plan_of
from sheets.tables_read import document
from sheets.test_hostile_names import plan_named


def test_a_pdf_holds_every_sheet_and_is_the_same_each_time() -> None:
    documents = [document(plan_of("tamarack-wren"), "take-off"), document(plan_of("tamarack-wren"), "wiring")]
    pdf = pdf_of_tables(documents)
    assert pdf.startswith(b"%PDF-")
    assert len(re.findall(rb"/Type /Page\b", pdf)) >= 2
    assert pdf == pdf_of_tables(documents)


@pytest.mark.parametrize(
    ("name", "written"),
    [
        ("Łazienka, šatna", "Łazienka, šatna"),
        ("Ванная Λουτρό", "Ванная Λουτρό"),
        ("cafe\N{COMBINING ACUTE ACCENT} ½ — ≤ 6 ft", "caf\N{LATIN SMALL LETTER E WITH ACUTE} ½ — ≤ 6 ft"),
        ("浴室 🧰", "□□ □"),
        ("حمام", "□□□□"),
    ],
)
def test_a_pdf_writes_names_or_marks_what_it_lacks_and_says_so(name: str, written: str) -> None:
    said = written_in([document(read_plan(json.dumps(plan_named(name)).encode()), "boxes")])
    assert written in said
    assert ("Letters that the font of this file lacks stand as □" in said) == ("□" in written)


@pytest.mark.parametrize("cell", ["cable " * 3000, "W" * 20_000], ids=["words", "one word"])
def test_a_cell_longer_than_a_page_goes_on_in_the_next_row(cell: str) -> None:
    table = Table("cables of a box", (Column("box"), Column("cables")), ((Cell("b"), Cell(cell)),))
    made = document(plan_of("tamarack-wren"), "take-off")
    pdf = pdf_of_tables([replace(made, sections=(Section(Cell("boxes"), (table,)),))])
    assert len(re.findall(rb"/Type /Page\b", pdf)) > 2


def written_in(documents: list[Document]) -> str:
    """Every string that is put on a page, by the calls that put it there."""
    paper, letters = tables_pdf._paper(), []
    embedded = put_in(paper)

    class Listening:
        def written(self, text: str) -> str:
            letters.append(embedded.written(text))
            return letters[-1]

        def lacking(self, texts: Iterable[str]) -> bool:
            return embedded.lacking(texts)

    for each in documents:
        tables_pdf._Sheet(paper, Listening(), each).add()  # type: ignore[arg-type]  # it writes and listens
    close_fonts(paper)
    return "\n".join(letters)


def test_a_pdf_has_the_picture_of_every_box() -> None:
    made = document(plan_of("tamarack-wren"), "wiring")
    said = written_in([made])
    pictures = [each.picture for each in made.sections if each.picture is not None]
    assert len(pictures) > 30
    for picture in pictures:
        told = [each.text or "" for each in ET.fromstring(picture).iter("{http://www.w3.org/2000/svg}text")]
        assert told
        assert all(each in said for each in told)


def test_a_picture_higher_than_a_page_is_drawn_on_one() -> None:
    lines = [JointLines("hot", tuple(Lead("black to a box", "black") for _ in range(60)), ("line of a switch",))] * 3
    paper = tables_pdf._paper()
    letters = put_in(paper)
    paper.add_page()
    draw_picture(paper, joint_picture("box", lines), letters)
    close_fonts(paper)
    assert paper.page == 1
    assert paper.get_y() <= paper.h


def test_a_pdf_without_its_package_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(__import__("sys").modules, "fpdf", None)
    with pytest.raises(ExtraMissing, match="fpdf2"):
        pdf_of_tables([document(plan_of("tamarack-wren"), "take-off")])
