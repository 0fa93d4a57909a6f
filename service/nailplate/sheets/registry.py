"""The sheets there are, by the name they are asked for under. A new sheet is one entry."""

from typing import Final

from nailplate.sheets.boxes import boxes
from nailplate.sheets.cables import cables
from nailplate.sheets.drawing.ordered import DRAWING
from nailplate.sheets.orders import Sheet, TableSheet

TABLES: Final[dict[str, TableSheet]] = {
    "boxes": TableSheet("Boxes, room by room", boxes),
    "cables": TableSheet("Cables and coils", cables),
}
"""The sheets of tables, in the order in which a job uses them."""
SHEETS: Final[dict[str, Sheet | TableSheet]] = {"drawing": DRAWING, **TABLES}
