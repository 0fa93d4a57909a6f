"""Heads of arrows."""

import math

from nailplate.sheets.drawing.svg import NOTHING, Markup, Point, polygon


def arrow_head(start: Point, end: Point, size: float = 5.0, class_: str = "np-arrow") -> Markup:
    """The head of an arrow that ends there."""
    length = math.dist(start, end)
    if length == 0:
        return NOTHING
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    back = (end[0] - ux * size, end[1] - uy * size)
    wing = size * 0.36
    return polygon([end, (back[0] - uy * wing, back[1] + ux * wing), (back[0] + uy * wing, back[1] - ux * wing)], class_)
