"""The letters of a PDF: those that its embedded font has, and a mark, told on the sheet, for those that it lacks.

The font is a subset of DejaVu Sans Condensed (fonts/LICENSE.txt): Latin, Greek and Cyrillic. Scripts whose letters join or run from right
to left need more than letters, and the forms for a screen have them.
"""

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from importlib.resources import files
from typing import Any, Final

from nailplate.render.inert import inert

FAMILY: Final = "sheet"
MARK: Final = "□"
_FILES: Final = {"": "DejaVuSansCondensed.ttf", "B": "DejaVuSansCondensed-Bold.ttf"}


@dataclass(frozen=True, slots=True)
class Letters:
    """What one PDF can write."""

    known: frozenset[int]

    def written(self, text: str) -> str:
        """The text, inert, its letters composed and those that are lacking marked."""
        plain = unicodedata.normalize("NFC", inert(text))
        return plain if plain.isascii() else "".join(letter if ord(letter) in self.known else MARK for letter in plain)

    def lacking(self, texts: Iterable[str]) -> bool:
        """Whether any of the texts has a letter that is marked."""
        return any(MARK in self.written(text) and MARK not in text for text in texts)


def put_in(pdf: Any) -> Letters:
    """Adds the font to a PDF that is begun."""
    folder = files("nailplate.render") / "fonts"
    for style, name in _FILES.items():
        pdf.add_font(FAMILY, style=style, fname=str(folder / name))
    return Letters(frozenset(pdf.fonts[FAMILY].cmap))
