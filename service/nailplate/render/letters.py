"""The letters of a PDF of tables: those that its embedded font has, and a mark, told on the sheet, for those that it lacks."""

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Final

from nailplate.render.inert import inert
from nailplate.sheets.letters import MARK, font_file

FAMILY: Final = "sheet"


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
    for style, bold in (("", False), ("B", True)):
        pdf.add_font(FAMILY, style=style, fname=font_file(bold=bold))
    return Letters(frozenset(pdf.fonts[FAMILY].cmap))


def close_fonts(pdf: Any) -> None:
    """Closes the font's files, which fpdf2 keeps open to read more of them."""
    for font in pdf.fonts.values():
        font.ttfont.close()
