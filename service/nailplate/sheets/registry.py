"""The sheets there are, by the name they are asked for under. A new sheet is one entry."""

from typing import Final

from nailplate.sheets.boxes import boxes
from nailplate.sheets.cables import cables
from nailplate.sheets.cover_up import cover_up
from nailplate.sheets.drawing.ordered import DRAWING
from nailplate.sheets.drilling import drilling
from nailplate.sheets.orders import Sheet, TableSheet
from nailplate.sheets.panel import panel
from nailplate.sheets.takeoff import takeoff
from nailplate.sheets.wiring import wiring

WASTE: Final = "percent added to cable, staples, nail plates and cover plates on the take-off, such as `10%`; none unless said"
TABLES: Final[dict[str, TableSheet]] = {
    "take-off": TableSheet("Take-off", takeoff, {"waste": WASTE}),
    "boxes": TableSheet("Boxes, room by room", boxes),
    "drilling": TableSheet("Drilling and plates, wall by wall", drilling),
    "cables": TableSheet("Cables and coils", cables),
    "wiring": TableSheet("Wiring at each box", wiring),
    "panel": TableSheet("Panels and directories", panel),
    "cover-up": TableSheet("Before cover-up", cover_up),
}
"""The sheets of tables, in the order in which a job uses them."""
SHEETS: Final[dict[str, Sheet | TableSheet]] = {"drawing": DRAWING, **TABLES}
