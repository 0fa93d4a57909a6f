"""A drawing as PDF at the size of its paper. svglib and ReportLab are optional packages, imported only when somebody asks.

Both are plain Python packages: no library of the system is opened, and the lettering is Helvetica, which every PDF reader has, so that the
same sheet gives the same bytes everywhere. A letter that Helvetica lacks is written without its accent; where that leaves none
either, a black block stands in its place (the SVG has every letter).
"""

import importlib
import io
import logging
import unicodedata
from typing import Any, Final

from nailplate.sheets.drawing.svg import Markup
from nailplate.sheets.orders import ExtraMissing

_WANTED: Final = "PDF needs the optional packages svglib and ReportLab: pip install 'nailplate[pdf]'."
_FAMILY: Final = 'font-family:"Liberation Sans",Arial,Helvetica,sans-serif'
"""As ``sheet_style.css`` says it. An author's quotation marks are escaped in markup, so this is never in their words."""
_UNACCENTED: Final = {"ł": "l", "Ł": "L", "đ": "d", "Đ": "D"}
"""Letters with a stroke, which Unicode does not take apart."""


def pdf_of(svg: Markup) -> bytes:
    """The PDF of a sheet. Raises ExtraMissing."""
    svglib, render = _imported("svglib.svglib"), _imported("reportlab.graphics.renderPDF")
    logging.getLogger("svglib").setLevel(logging.ERROR)  # it warns of every title, which only a pointer on a screen reads
    plain = "".join(map(_in_helvetica, svg.replace(_FAMILY, "font-family:Helvetica")))
    drawing = svglib.svg2rlg(io.BytesIO(plain.encode()))
    found: bytes = render.drawToString(drawing, invariant=1)
    return found


def _in_helvetica(letter: str) -> str:
    """The letter, or the one below its accent where Windows-1252, the standard fonts' encoding, lacks it."""
    if letter.isascii() or not letter.isalpha():
        return letter
    try:
        letter.encode("cp1252")
    except UnicodeEncodeError:
        base = _UNACCENTED.get(letter) or unicodedata.normalize("NFKD", letter)[0]
        return base if base.isascii() and base.isalpha() else letter
    return letter


def _imported(name: str) -> Any:
    try:
        return importlib.import_module(name)
    except ImportError:
        raise ExtraMissing(_WANTED) from None
