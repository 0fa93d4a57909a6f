"""Where a symbol goes: beside its place, and beside the symbols that stand there already."""

from typing import Final

from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.room_for import around
from nailplate.sheets.drawing.svg import Point

_STEPS: Final = (0, 1, -1, 2, -2, 3, -3, 4, -4)
_ROWS: Final = 6
OFF_WALL: Final = 1.4


def symbol_center(draft: Draft, at: Point, into: Point | None, half: float) -> Point:
    """Where a symbol goes: on its wall, else beside what is there already, along the wall first and then farther into the room."""
    first = _center(at, into, half, 0, 0)
    over_walls = None
    for row in range(_ROWS if draft.taken.spend(1) else 0):
        for step in _STEPS:
            center = _center(at, into, half, row, step)
            box = around(center, 2 * half, 2 * half)
            if draft.taken.is_free(box):
                if not draft.walls.is_met(box) or (row == 0 and step == 0):
                    draft.taken.take(box)
                    return center
                over_walls = over_walls or center
    chosen = over_walls or first
    draft.taken.take(around(chosen, 2 * half, 2 * half))
    return chosen


def _center(at: Point, into: Point | None, half: float, row: int, step: int) -> Point:
    across, along = step * 2 * half, row * 2 * half
    if into is None:
        return (at[0] + across, at[1] + along)
    along += half + OFF_WALL
    return (at[0] + into[0] * along - into[1] * across, at[1] + into[1] * along + into[0] * across)
