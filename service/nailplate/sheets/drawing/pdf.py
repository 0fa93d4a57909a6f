"""A drawing as PDF at the size of its paper. CairoSVG is an optional package and is imported only when somebody asks for it."""

import importlib
from collections.abc import Callable

from nailplate.sheets.drawing.svg import Markup
from nailplate.sheets.orders import ExtraMissing

_WANTED = "PDF needs the optional package CairoSVG and the cairo library: pip install 'nailplate[pdf]' (Debian: libcairo2)."


def pdf_of(svg: Markup) -> bytes:
    """The PDF of a sheet. Raises ExtraMissing."""
    found: bytes = _converter()(bytestring=svg.encode(), unsafe=False)
    return found


def _converter() -> Callable[..., bytes]:
    try:
        convert: Callable[..., bytes] = importlib.import_module("cairosvg").svg2pdf
    except (ImportError, OSError):  # the package is missing, or the library that it opens
        raise ExtraMissing(_WANTED) from None
    return convert
