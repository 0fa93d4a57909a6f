"""Dimension lines: a measured stretch with ticks at its ends and the figure over its middle."""

from typing import Final

from nailplate.calc.geometry import Box
from nailplate.plan.words import LengthUnit
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.labels import size_of
from nailplate.sheets.drawing.lettering import base_line, text
from nailplate.sheets.drawing.measures import dimension
from nailplate.sheets.drawing.room_for import Rectangle, around
from nailplate.sheets.drawing.svg import Markup, Point, element, group, line

SIZE: Final = 6.8
_TICK: Final = 3.0
_OUT: Final = 20.0
"""Points between the building and the lines of its overall dimensions."""


def draw_overall(draft: Draft, bounds: Box, unit: LengthUnit) -> None:
    """What a level measures overall: along its foot and up its left side."""
    left, low, right, high = bounds
    (x1, y1), (x2, y2) = draft.view((left, low)), draft.view((right, high))
    if right > left:
        across(draft, (x1, y1 + _OUT), x2, dimension(right - left, unit))
    if high > low:
        upward(draft, (x1 - _OUT, y1), y2, dimension(high - low, unit))


def across(draft: Draft, start: Point, end: float, figure: str) -> None:
    """A level dimension line from a point to an x on the sheet."""
    middle = ((start[0] + end) / 2, start[1])
    width, height = size_of((figure,), SIZE)
    box = around(middle, width, height)
    draft.taken.take(box)
    ticks = (_tick((x, start[1])) for x in (start[0], end))
    draft.draw("dimensions", line(start, (end, start[1]), "np-dimension"), *ticks, figure_in(box, figure))


def upward(draft: Draft, start: Point, end: float, figure: str) -> None:
    """An upright dimension line from a point to a y on the sheet, its figure read from the right."""
    middle = (start[0], (start[1] + end) / 2)
    width, height = size_of((figure,), SIZE)
    draft.taken.take(around(middle, height, width))
    ticks = (_tick((start[0], y)) for y in (start[1], end))
    turned = element(
        "g",
        figure_in(around((0, 0), width, height), figure),
        transform=f"translate({middle[0]:.2f} {middle[1]:.2f}) rotate(-90)",
    )
    draft.draw("dimensions", line(start, (start[0], end), "np-dimension"), *ticks, turned)


def figure_in(box: Rectangle, figure: str) -> Markup:
    """A figure on a light ground that breaks its line."""
    ground = element("rect", x=box.left, y=box.top, width=box.right - box.left, height=box.bottom - box.top, class_="np-paper")
    middle = (box.left + box.right) / 2
    return group(ground, text((middle, base_line(box.top + 0.5, SIZE)), figure, SIZE, anchor="middle"))


def _tick(at: Point) -> Markup:
    return line((at[0] - _TICK, at[1] + _TICK), (at[0] + _TICK, at[1] - _TICK), "np-dimension")
