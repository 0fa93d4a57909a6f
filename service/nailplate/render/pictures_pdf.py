"""Our own small pictures on a page of a PDF: the lines, circles, frames and letters of their SVG, drawn anew to scale."""

from collections.abc import Callable
from typing import Any, Final
from xml.etree import ElementTree as ET

from nailplate.render.letters import FAMILY, Letters
from nailplate.sheets.drawing.svg import Markup

SCALE: Final = 0.75
"""Of a picture's own units in points, where it fits on the page."""
_SVG: Final = "{http://www.w3.org/2000/svg}"


def draw_picture(pdf: Any, picture: Markup, letters: Letters) -> None:
    """Draws a picture where the page stands, on the next one if it does not fit, and moves on below it."""
    root = ET.fromstring(picture)  # noqa: S314  our own writing, not a caller's
    _, _, _, tall = (float(each) for each in root.attrib["viewBox"].split())
    scale = min(SCALE, (pdf.eph - 1) / tall)
    if pdf.will_page_break(tall * scale):
        pdf.add_page()
    pen = _Pen(pdf, letters, scale, pdf.l_margin, pdf.get_y(), float(root.get("font-size", 10)))
    for shape in root:
        _SHAPES.get(shape.tag.removeprefix(_SVG), _nothing)(pen, shape)
    pdf.set_draw_color(0)
    pdf.set_fill_color(255)
    pdf.set_line_width(0.5)
    pdf.set_xy(pdf.l_margin, pen.top + tall * scale + 4)


class _Pen:
    """Where a picture stands, how large it is drawn, and with what."""

    def __init__(self, pdf: Any, letters: Letters, scale: float, left: float, top: float, size: float) -> None:
        self.pdf, self.letters, self.scale, self.left, self.top, self.size = pdf, letters, scale, left, top, size

    def at(self, shape: ET.Element, x: str, y: str) -> tuple[float, float]:
        return self.left + float(shape.attrib[x]) * self.scale, self.top + float(shape.attrib[y]) * self.scale

    def long(self, shape: ET.Element, name: str) -> float:
        return float(shape.attrib[name]) * self.scale


def _line(pen: _Pen, shape: ET.Element) -> None:
    pen.pdf.set_draw_color(shape.attrib["stroke"])
    pen.pdf.set_line_width(pen.long(shape, "stroke-width"))
    pen.pdf.line(*pen.at(shape, "x1", "y1"), *pen.at(shape, "x2", "y2"))


def _frame(pen: _Pen, shape: ET.Element) -> None:
    pen.pdf.set_draw_color(shape.attrib["stroke"])
    pen.pdf.set_line_width(0.5)
    pen.pdf.set_dash_pattern(dash=3, gap=2)
    pen.pdf.rect(*pen.at(shape, "x", "y"), pen.long(shape, "width"), pen.long(shape, "height"))
    pen.pdf.set_dash_pattern()


def _circle(pen: _Pen, shape: ET.Element) -> None:
    pen.pdf.set_fill_color(shape.attrib["fill"])
    x, y = pen.at(shape, "cx", "cy")
    pen.pdf.circle(x, y, pen.long(shape, "r"), style="F")


def _text(pen: _Pen, shape: ET.Element) -> None:
    said = pen.letters.written(shape.text or "")
    pen.pdf.set_font(FAMILY, size=pen.size * pen.scale)
    x, y = pen.at(shape, "x", "y")
    before = {"end": 1.0, "middle": 0.5}.get(shape.get("text-anchor", "start"), 0.0)
    pen.pdf.text(x - before * pen.pdf.get_string_width(said), y, said)


def _nothing(pen: _Pen, shape: ET.Element) -> None:
    """A title is for a pointer on a screen."""


_SHAPES: Final[dict[str, Callable[[_Pen, ET.Element], None]]] = {
    "line": _line,
    "rect": _frame,
    "circle": _circle,
    "text": _text,
}
