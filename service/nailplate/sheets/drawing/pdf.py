"""A drawing as PDF at the size of its paper. svglib and ReportLab are optional packages, imported only when somebody asks.

Both are plain Python packages: no library of the system is opened. The lettering is Helvetica, which every PDF reader has; a line with a letter
that Helvetica lacks is set in the font that we embed, and a letter that this lacks too is marked, and the sheet says so. The same sheet
gives the same bytes everywhere.
"""

import importlib
import io
import logging
import re
import unicodedata
from html import unescape
from pathlib import Path
from typing import Any, Final

from nailplate.sheets.drawing.svg import Markup
from nailplate.sheets.letters import LACKING, MARK, font_file
from nailplate.sheets.orders import ExtraMissing

_WANTED: Final = "PDF needs the optional packages svglib and ReportLab: pip install 'nailplate[pdf]'."
_FAMILY: Final = 'font-family:"Liberation Sans",Arial,Helvetica,sans-serif'
"""As ``sheet_style.css`` says it. An author's quotation marks are escaped in markup, so this is never in their words."""
_EMBEDDED: Final = "NailplateSheet"
_LINE: Final = re.compile(r"<text( [^<>]*)>([^<>]*)(?=<)")
"""A line of lettering: its attributes and its words. Markup in an author's words is escaped."""
_SIZE: Final = re.compile(r'viewBox="0 0 [0-9.]+ ([0-9.]+)"')


def pdf_of(svg: Markup) -> bytes:
    """The PDF of a sheet. Raises ExtraMissing."""
    svglib, render = _imported("svglib.svglib"), _imported("reportlab.graphics.renderPDF")
    logging.getLogger("svglib").setLevel(logging.ERROR)  # it warns of every title, which only a pointer on a screen reads
    drawing = svglib.svg2rlg(io.BytesIO(_in_our_fonts(svg).encode()))
    found: bytes = render.drawToString(drawing, invariant=1)
    return found


def _in_our_fonts(svg: str) -> str:
    """The sheet with its lines in Helvetica, or in the embedded font where they have other letters."""
    plain = svg.replace(_FAMILY, "font-family:Helvetica")
    lines = [line for line in _LINE.finditer(plain) if not _in_helvetica(unescape(line.group(2)))]
    if not lines:
        return plain
    known = _embedded_letters()
    plain = _LINE.sub(lambda line: _in_embedded(line, known), plain)
    size = _SIZE.search(plain)
    if MARK in plain and size is not None:
        note = f'<text x="36" y="{float(size.group(1)) - 12:g}" font-size="6" style="font-family:{_EMBEDDED}">{LACKING}</text>'
        plain = plain.replace("</svg>", f"{note}</svg>")
    return plain


def _in_embedded(line: re.Match[str], known: frozenset[int]) -> str:
    told = unicodedata.normalize("NFC", line.group(2))
    if _in_helvetica(unescape(told)):
        return line.group()
    marked = "".join(letter if letter.isascii() or ord(letter) in known else MARK for letter in told)
    return f'<text{line.group(1)} style="font-family:{_EMBEDDED}">{marked}'


def _in_helvetica(text: str) -> bool:
    """Whether Windows-1252, the encoding of the standard fonts, has every letter."""
    try:
        text.encode("cp1252")
    except UnicodeEncodeError:
        return False
    return True


def _embedded_letters() -> frozenset[int]:
    """Registers the font, which may be done twice, and gives the letters that it has."""
    fonts, ttf = _imported("svglib.fonts"), _imported("reportlab.pdfbase.ttfonts")
    for bold, weight in ((False, "normal"), (True, "bold")):
        fonts.register_font(_EMBEDDED, font_file(bold=bold), weight=weight)
    with Path(font_file(bold=False)).open("rb") as file:  # by its name it would be left open
        return frozenset(ttf.TTFontFile(file).charToGlyph)


def _imported(name: str) -> Any:
    try:
        return importlib.import_module(name)
    except ImportError:
        raise ExtraMissing(_WANTED) from None
