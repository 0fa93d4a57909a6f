"""Where on a sheet there is still room: rectangles that are taken, found by a grid, so that placing stays linear in what is placed."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final, NamedTuple

_CELL: Final = 24.0
_MOST_CELLS: Final = 4000
"""Cells that one rectangle may take; a larger one than a sheet is cut to it."""


class Rectangle(NamedTuple):
    """An upright rectangle on the sheet, in points, y down."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Rectangle") -> bool:
        """Whether the two overlap; edges may touch."""
        return self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom

    def holds(self, other: "Rectangle") -> bool:
        """Whether the other lies inside."""
        return self.left <= other.left and self.top <= other.top and other.right <= self.right and other.bottom <= self.bottom

    def grown(self, by: float) -> "Rectangle":
        """The rectangle with a margin around it."""
        return Rectangle(self.left - by, self.top - by, self.right + by, self.bottom + by)


def around(center: tuple[float, float], width: float, height: float) -> Rectangle:
    """The rectangle around a point."""
    x, y = center
    return Rectangle(x - width / 2, y - height / 2, x + width / 2, y + height / 2)


def clipped(shape: list[tuple[float, float]], area: Rectangle) -> list[tuple[float, float]]:
    """What of a convex shape lies in an area, cut side by side (Sutherland and Hodgman, 1974); empty where nothing does."""
    for axis, limit, sign in ((0, area.left, 1), (0, area.right, -1), (1, area.top, 1), (1, area.bottom, -1)):
        kept: list[tuple[float, float]] = []
        for one, other in zip(shape, [*shape[1:], *shape[:1]], strict=True):
            inside, next_inside = (sign * (each[axis] - limit) >= 0 for each in (one, other))
            if inside:
                kept.append(one)
            if inside != next_inside:
                part = (limit - one[axis]) / (other[axis] - one[axis])
                kept.append((one[0] + (other[0] - one[0]) * part, one[1] + (other[1] - one[1]) * part))
        shape = kept
    return shape


@dataclass(slots=True)
class Taken:
    """What is taken on one sheet. ``area`` is where anything may stand at all.

    ``patience`` is how many comparisons are left: a plan with thousands of parts in one place is drawn with the labels that found
    theirs until then.
    """

    area: Rectangle
    patience: int = 3_000_000
    _cells: dict[tuple[int, int], dict[Rectangle, None]] = field(default_factory=dict)

    def take(self, rectangle: Rectangle) -> None:
        """Nothing that asks from now on is placed there."""
        for cell in _cells_of(rectangle, self.area):
            self._cells.setdefault(cell, {})[rectangle] = None

    def is_free(self, rectangle: Rectangle) -> bool:
        """Whether the rectangle lies on the sheet and meets nothing that is taken."""
        return self.area.holds(rectangle) and not self.is_met(rectangle)

    def is_met(self, rectangle: Rectangle) -> bool:
        """Whether something taken overlaps the rectangle; yes, when patience has run out."""
        for cell in _cells_of(rectangle, self.area):
            here = self._cells.get(cell, {})
            self.patience -= 1 + len(here)
            if self.patience < 0 or any(rectangle.meets(other) for other in here):
                return True
        return False

    def spend(self, work: int) -> bool:
        """Takes work of another kind off the patience; False when none is left."""
        self.patience -= work
        return self.patience >= 0


def _cells_of(rectangle: Rectangle, area: Rectangle) -> Iterator[tuple[int, int]]:
    left, top = max(rectangle.left, area.left), max(rectangle.top, area.top)
    right, bottom = min(rectangle.right, area.right), min(rectangle.bottom, area.bottom)
    count = 0
    for column in range(int(left // _CELL), int(right // _CELL) + 1):
        for row in range(int(top // _CELL), int(bottom // _CELL) + 1):
            count += 1
            if count > _MOST_CELLS:
                return
            yield column, row
