"""The sheets there are, by the name they are asked for under. A new sheet is one entry."""

from typing import Final

from nailplate.sheets.drawing.ordered import DRAWING
from nailplate.sheets.orders import Sheet

SHEETS: Final[dict[str, Sheet]] = {"drawing": DRAWING}
