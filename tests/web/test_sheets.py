"""Sheets over HTTP: drawn to order, findings marked, and every wrong order answered as a problem."""

import json
import re
import xml.etree.ElementTree as ET
from typing import Any

import pytest

from houses import house
from nailplate.sheets.drawing.pdf import _FAMILY, _in_our_fonts, pdf_of
from nailplate.sheets.drawing.svg import Markup
from nailplate.sheets.letters import LACKING
from nailplate.sheets.orders import ExtraMissing
from nailplate.sheets.registry import SHEETS
from sheets.reading_svg import SVG, anchors
from web.plans import SMALL
from web.served import Served
from web.test_hostile_bodies import problem

WREN: dict[str, Any] = house("tamarack-wren")
BIGGER_14 = {
    "change": "value", "table": "box_fill", "entry": "per_conductor.14 AWG", "value": 2.5, "citation": "Ordinance 1", "reason": "a test",
}  # fmt: skip
FAULTY = {**WREN, "devices": {**WREN["devices"]}}
FAULTY["devices"]["basin-wall-receptacle"] = {**WREN["devices"]["basin-wall-receptacle"], "gfci": False}


def order(service: Served, plan: Any, query: str = "", **headers: str) -> Any:
    return service.send(json.dumps(plan).encode(), f"/v1/sheets/drawing{query}", **headers)


def test_the_sheets_are_listed(service: Served) -> None:
    assert "drawing" in service.get("/v1/sheets").json()["names"]


def test_a_drawing_is_svg_of_the_first_level_unless_more_is_said(service: Served) -> None:
    answer = order(service, WREN)
    assert answer.status_code == 200
    assert answer.headers["Content-Type"] == "image/svg+xml"
    assert "style-src 'unsafe-inline'" in answer.headers["Content-Security-Policy"]
    assert "script" not in answer.headers["Content-Security-Policy"]
    root = ET.fromstring(answer.text)
    assert root.attrib["width"] == "11in"
    assert "Main floor" in root.findtext(f"{SVG}title", "")
    assert service.check(WREN).json()["plan"]["digest"] in re.sub(r"<[^>]*>", "", answer.text)


def test_level_wall_side_and_paper_are_chosen(service: Served) -> None:
    loft = order(service, WREN, "?level=loft&paper=tabloid").text
    assert 'width="17in"' in loft
    assert anchors(loft, "boxes").keys() >= {"loft-n", "loft-w"}
    for side in ("left", "right"):
        wall = order(service, WREN, f"?wall=south&side={side}").text
        assert "elevation, seen from" in wall
        assert "kit-west" in anchors(wall, "boxes")


def test_findings_are_marked_under_the_numbers_of_the_report(service: Served) -> None:
    report = service.check(FAULTY).json()
    [finding] = [each for each in report["findings"] if each["rule"] == "gfci-locations"]
    svg = order(service, FAULTY).text
    marks = [each for each in ET.fromstring(svg).iter(f"{SVG}g") if "np-mark" in each.get("class", "").split()]
    shown = {number: each for each in marks for number in (each.get("data-findings") or "").split()}
    assert f"np-mark-{finding['severity']}" in shown["1"].attrib["class"]
    assert "1 Danger" in "".join(shown["1"].itertext())
    assert not any("data-findings" in each.attrib for each in ET.fromstring(order(service, WREN).text).iter(f"{SVG}g"))


@pytest.mark.parametrize(
    ("query", "status", "type_", "words"),
    [
        ("?level=lotf", 400, "bad-parameter", "did you mean 'loft'"),
        ("?wall=soth", 400, "bad-parameter", "did you mean 'south'"),
        ("?wall=south&level=main", 400, "bad-parameter", "a level or a wall"),
        ("?side=left", 400, "bad-parameter", "no wall is named"),
        ("?wall=south&side=front", 400, "bad-parameter", "left or right"),
        ("?paper=a4", 400, "bad-parameter", "letter or tabloid"),
        ("?color=1", 400, "bad-parameter", "no parameter 'color'"),
        ("?format=json", 406, "not-acceptable", "format=svg"),
        ("?level=%3Cscript%3E", 400, "bad-parameter", "no level"),
    ],
)
def test_a_wrong_order_is_told(service: Served, query: str, status: int, type_: str, words: str) -> None:
    answer = order(service, WREN, query)
    problem(answer, status, type_)
    assert words in answer.json()["detail"]


def test_a_sheet_there_is_not_and_a_plan_that_draws_nothing(service: Served) -> None:
    problem(service.send(json.dumps(WREN).encode(), "/v1/sheets/drawings"), 404, "not-found")
    answer = order(service, SMALL)
    problem(answer, 400, "bad-parameter")
    assert "nothing to draw" in answer.json()["detail"]
    problem(order(service, {"name": 1}), 422, "invalid-plan")


def test_a_pdf_is_of_the_papers_size(service: Served) -> None:
    answer = order(service, WREN, "?paper=tabloid", Accept="application/pdf")
    assert answer.headers["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF-")
    box = re.search(rb"/MediaBox\s*\[\s*([0-9. ]+)\]", answer.content)
    assert box is not None
    assert [float(each) for each in box[1].split()] == [0, 0, 17 * 72, 11 * 72]


def test_without_the_extra_a_pdf_is_refused_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(__import__("sys").modules, "svglib.svglib", None)
    with pytest.raises(ExtraMissing, match="nailplate\\[pdf\\]"):
        pdf_of(Markup("<svg/>"))


@pytest.mark.parametrize(
    ("name", "font", "told"),
    [("café 12", False, False), ("Łódź 12″", True, False), ("Ванная", True, False), ("浴室", True, True)],
)
def test_a_drawing_as_pdf_has_every_letter_or_says_which_it_marks(name: str, font: bool, told: bool) -> None:
    line = f'<text x="9" y="9" font-size="7">{name}</text>'
    sheet = Markup(f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 144 72" width="2in" height="1in">{line}</svg>')
    first = pdf_of(sheet)
    assert first == pdf_of(sheet)
    assert (b"DejaVu" in first) == font
    assert (LACKING in _in_our_fonts(sheet)) == told
    assert ("□" in _in_our_fonts(sheet)) == told


def test_every_sheets_lettering_is_put_into_helvetica(service: Served) -> None:
    """Its family stands in the style as pdf.py looks for it: else a machine's own fonts would be asked for."""
    assert _FAMILY in order(service, WREN).text


@pytest.mark.parametrize("name", [name for name in SHEETS if name != "drawing"])
def test_every_sheet_of_tables_comes_in_every_form(service: Served, name: str) -> None:
    body = json.dumps(FAULTY).encode()
    digest = service.check(FAULTY).json()["plan"]["digest"]
    for media, form in (
        ("application/json", "json"),
        ("text/markdown", "markdown"),
        ("text/html", "html"),
        ("text/csv", "csv"),
    ):
        answer = service.send(body, f"/v1/sheets/{name}", Accept=media)
        assert answer.status_code == 200, answer.text[:300]
        assert answer.headers["Content-Type"].startswith(media)
        assert digest in answer.text
        assert "violation" in answer.text
        assert service.send(body, f"/v1/sheets/{name}?format={form}").content == answer.content
    assert service.send(body, f"/v1/sheets/{name}").json()["sheet"] == name


def test_one_sheet_of_tables_comes_as_pdf(service: Served) -> None:
    answer = service.send(json.dumps(WREN).encode(), "/v1/sheets/take-off?format=pdf")
    assert answer.headers["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF-")


def test_waste_is_a_parameter_of_the_take_off_alone(service: Served) -> None:
    body = json.dumps(WREN).encode()
    assert "10 % waste is added" in service.send(body, "/v1/sheets/take-off?waste=10%25").json()["notes"][0]
    assert problem(service.send(body, "/v1/sheets/take-off?waste=lots"), 400, "bad-parameter")
    assert problem(service.send(body, "/v1/sheets/boxes?waste=10"), 400, "bad-parameter")
    assert problem(service.send(body, "/v1/sheets/boxes?format=svg"), 406, "not-acceptable")


def test_the_sheets_go_by_the_edition_with_local_amendments(service: Served) -> None:
    """An amendment of what a 14 AWG conductor counts for stands in the fill of every box, line by line."""
    amended = {**WREN, "basis": {**WREN["basis"], "amendments": {"a": BIGGER_14}}}
    plain, more = (
        service.send(json.dumps(plan).encode(), "/v1/sheets/boxes?format=csv").text.count(",2.5,") for plan in (WREN, amended)
    )
    assert more > plain
