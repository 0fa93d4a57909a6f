"""The font that PDFs carry with them: a subset of DejaVu Sans Condensed (fonts/LICENSE.txt) with Latin, Greek and Cyrillic letters.

Scripts whose letters join, or run from right to left, need more than letters; the forms for a screen have them.
"""

from importlib.resources import as_file, files
from typing import Final

MARK: Final = "□"
"""What stands in a PDF for a letter that its font lacks."""
LACKING: Final = f"Letters that the font of this file lacks stand as {MARK}; the other forms of the sheet have them."
_FILES: Final = {False: "DejaVuSansCondensed.ttf", True: "DejaVuSansCondensed-Bold.ttf"}


def font_file(*, bold: bool) -> str:
    """Where the font lies. Packages lie unpacked: what reads it wants a path."""
    with as_file(files("nailplate.sheets") / "fonts" / _FILES[bold]) as path:
        return str(path)
