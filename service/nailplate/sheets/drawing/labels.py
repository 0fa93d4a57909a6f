"""Lettering by a measured rule: the first place around its point where a label's box meets nothing that is taken.

Places are tried ring by ring outward, those clear of walls first; beyond the first ring a leader joins the label to its point. A
label that finds no place is not drawn: it is kept in the draft's list, which the sheet prints.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.lettering import HEIGHT, base_line, fitted, text, width_of
from nailplate.sheets.drawing.room_for import Rectangle, around
from nailplate.sheets.drawing.svg import Markup, Point, group, line, rectangle, title

_PAD: Final = 1.0
_RINGS: Final = (0.0, 4.0, 9.0, 16.0, 25.0, 36.0, 50.0, 66.0, 86.0, 110.0, 140.0)
_SIDES: Final = ((1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (-1, -1), (1, 1), (-1, 1))
_CLOSE: Final = 4.0
"""Points from its point up to which a label needs no leader."""
_STRAY: Final = 0.5
"""Of a label's width or height: how far a box slides along the ring's side when its own place is taken."""


@dataclass(frozen=True, slots=True)
class Label:
    """A label to place: its lines, their size, the point it belongs to, and half the size of what stands there."""

    lines: tuple[str, ...]
    size: float
    at: Point
    clear: float
    class_: str = "np-name"
    bold: bool = False
    most: float = 130.0
    farthest: float = _RINGS[-1]
    """Points from what stands there up to which there is still a place for it."""


def place(draft: Draft, label: Label) -> bool:
    """Draws a label where there is room for it; False where there is none."""
    lines = tuple(fitted(each, label.size, label.most, bold=label.bold) for each in label.lines)
    width, height = size_of(lines, label.size, bold=label.bold)
    box = free_box(draft, label.at, label.clear, width, height, label.farthest)
    if box is None:
        draft.unlettered.append(" ".join(label.lines))
        return False
    draft.taken.take(box)
    draft.draw("labels", leader(label.at, box), lettered(box, lines, label))
    return True


def size_of(lines: tuple[str, ...], size: float, *, bold: bool = False) -> tuple[float, float]:
    """Width and height of the box around some lines."""
    return max(width_of(each, size, bold=bold) for each in lines) + 2 * _PAD, len(lines) * size * HEIGHT + _PAD


def lettered(box: Rectangle, lines: tuple[str, ...], label: Label) -> Markup:
    """Lines of text in a box, on a light ground; the whole of a cut one in a title."""
    middle = (box.left + box.right) / 2
    said = [
        text(
            (middle, base_line(box.top + _PAD / 2 + number * label.size * HEIGHT, label.size)),
            each,
            label.size if number == 0 or not label.bold else label.size * _SECOND,
            label.class_,
            anchor="middle",
            bold=label.bold and number == 0,
        )
        for number, each in enumerate(lines)
    ]
    whole = " ".join(label.lines)
    under = rectangle(box.left, box.top, box.right - box.left, box.bottom - box.top, "np-under")
    return group(*((title(whole),) if lines != label.lines else ()), under, *said)


_SECOND: Final = 0.8
"""Of a bold label's size: its further lines."""


def leader(at: Point, box: Rectangle) -> Markup:
    """A line from a point to a box that stands apart from it."""
    near = (min(max(at[0], box.left), box.right), min(max(at[1], box.top), box.bottom))
    far = abs(near[0] - at[0]) + abs(near[1] - at[1])
    return line(at, near, "np-leader") if far > _FAR else Markup("")


_FAR: Final = 11.0


def free_box(
    draft: Draft, at: Point, clear: float, width: float, height: float, farthest: float = _RINGS[-1]
) -> Rectangle | None:
    """The first free box around a point, off the walls if there is one; None where all places are taken."""
    over_walls = None
    for box in _places(at, clear, width, height, farthest) if draft.taken.spend(1) else ():
        if draft.taken.is_free(box):
            if not draft.walls.is_met(box):
                return box
            over_walls = over_walls or box
    return over_walls


def _places(at: Point, clear: float, width: float, height: float, farthest: float) -> Iterator[Rectangle]:
    for ring in (each for each in _RINGS if each <= farthest):
        reach = clear + ring
        for across, down in _SIDES:
            x, y = at[0] + across * (reach + width / 2), at[1] + down * (reach + height / 2)
            yield around((x, y), width, height)
            if not across or not down:
                slide = (0.0, height * _STRAY + ring) if across else (width * _STRAY, 0.0)
                yield around((x + slide[0], y + slide[1]), width, height)
                yield around((x - slide[0], y - slide[1]), width, height)
