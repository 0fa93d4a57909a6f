"""The drawing: a plan's levels and walls as SVG by our own writer, to architectural scale, with a report's findings marked on it."""

from nailplate.sheets.drawing.draft import LAYERS
from nailplate.sheets.drawing.figure import level_figure
from nailplate.sheets.drawing.level_sheet import Findings, holds_wiring, level_sheet, levels_drawn
from nailplate.sheets.drawing.marks import Mark, spot_of_mark
from nailplate.sheets.drawing.paper import PAPERS, Paper
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.drawing.proposed import Proposal, spot_of_proposal
from nailplate.sheets.drawing.sheet import sheet_style
from nailplate.sheets.drawing.stamp import Stamp
from nailplate.sheets.drawing.wall_face import walls_with_boxes
from nailplate.sheets.drawing.wall_sheet import wall_sheet

__all__ = [
    "LAYERS",
    "PAPERS",
    "Findings",
    "Mark",
    "Paper",
    "Proposal",
    "Stamp",
    "holds_wiring",
    "level_figure",
    "level_sheet",
    "levels_drawn",
    "name_of",
    "sheet_style",
    "spot_of_mark",
    "spot_of_proposal",
    "wall_sheet",
    "walls_with_boxes",
]
