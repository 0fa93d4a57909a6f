"""A finished sheet: paper, frame, the drawing in its area at the largest usual scale, and the margin that says what it is."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

from nailplate.plan.words import LengthUnit
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.margin import COLUMN, GUTTER, Row, flow
from nailplate.sheets.drawing.paper import POINTS, Paper, Scale, View, fitting_scale, is_metric
from nailplate.sheets.drawing.room_for import Rectangle, Taken
from nailplate.sheets.drawing.svg import Markup, Point, element, line, rectangle, words

_MARGIN: Final = 0.4 * POINTS
_STRIP: Final = 0.32
"""Of a sheet's height: what a margin along its foot takes."""
AROUND: Final = 34.0
"""Points around what is drawn, for dimensions and lettering."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the drawing goes and where the margin's columns, and at which scale."""

    paper: Paper
    area: Rectangle
    columns: tuple[Rectangle, ...]
    scale: Scale
    unit: LengthUnit


@cache
def sheet_style() -> str:
    """The style of a sheet's drawing; every class begins with ``np-``."""
    return files("nailplate.sheets.drawing").joinpath("sheet_style.css").read_text(encoding="utf-8").strip()


def layout_for(paper: Paper, extent: Point, unit: LengthUnit) -> Layout:
    """The margin beside the drawing or along its foot, whichever gives the larger scale; of equal ones the larger margin."""
    full = Rectangle(_MARGIN, _MARGIN, paper.width * POINTS - _MARGIN, paper.height * POINTS - _MARGIN)
    found = []
    for least, grown in ((_beside(full, 1), _beside_more), (_below(full, _STRIP), _below_more)):
        scale = _scale(least[0], extent, unit)
        area, columns = grown(full, (extent[0] * scale.points + 2 * AROUND, extent[1] * scale.points + 2 * AROUND))
        found.append(Layout(paper, area, columns, scale, unit))
    return max(found, key=lambda each: (each.scale.points, _capacity(each)))


Parted = tuple[Rectangle, tuple[Rectangle, ...]]
"""The drawing's area and the margin's columns."""


def _capacity(layout: Layout) -> float:
    return sum(each.bottom - each.top for each in layout.columns)


def _scale(area: Rectangle, extent: Point, unit: LengthUnit) -> Scale:
    room = (area.right - area.left - 2 * AROUND, area.bottom - area.top - 2 * AROUND)
    return fitting_scale(extent, room, metric=is_metric(unit))


def _beside(full: Rectangle, count: int) -> Parted:
    split = full.right - count * (COLUMN + GUTTER) - GUTTER
    lefts = [split + GUTTER + number * (COLUMN + GUTTER) for number in range(count)]
    columns = tuple(Rectangle(left, full.top + GUTTER, left + COLUMN, full.bottom - GUTTER / 2) for left in lefts)
    return Rectangle(full.left, full.top, split, full.bottom), columns


def _beside_more(full: Rectangle, drawn: Point) -> Parted:
    """As many columns as the drawing leaves room for."""
    spare = full.right - full.left - GUTTER - drawn[0]
    return _beside(full, max(1, min(_MOST_COLUMNS, int(spare // (COLUMN + GUTTER)))))


def _below(full: Rectangle, share: float) -> Parted:
    split = full.bottom - (full.bottom - full.top) * share
    count = int((full.right - full.left - GUTTER) // (COLUMN + GUTTER))
    pitch = (full.right - full.left - GUTTER) / count
    lefts = [full.left + GUTTER + pitch * number for number in range(count)]
    columns = tuple(Rectangle(left, split + GUTTER, left + COLUMN, full.bottom - GUTTER / 2) for left in lefts)
    return Rectangle(full.left, full.top, full.right, split), columns


def _below_more(full: Rectangle, drawn: Point) -> Parted:
    """As tall as the drawing leaves room for, up to half of the sheet."""
    tall = full.bottom - full.top
    return _below(full, max(_STRIP, min(_MOST_STRIP, (tall - drawn[1]) / tall)))


_MOST_COLUMNS: Final = 3
_MOST_STRIP: Final = 0.5


def draft_on(layout: Layout, bounds: tuple[float, float, float, float], *, mirrored: bool = False) -> Draft:
    """An empty draft with what is to be drawn in the middle of its area. ``bounds`` are inches of the plan or of a wall's face."""
    left, low, right, high = bounds
    points = layout.scale.points
    x = (layout.area.left + layout.area.right - (right - left) * points) / 2
    y = (layout.area.top + layout.area.bottom + (high - low) * points) / 2
    origin = (right, low) if mirrored else (left, low)
    view = View((x, y), origin, points, mirrored)
    inside = layout.area.grown(-3.0)
    return Draft(view, layout.unit, Taken(inside), Taken(inside))


def sheet(layout: Layout, draft: Draft, name: str, about: str, rows: Iterable[Row]) -> Markup:
    """The whole SVG document of a sheet of paper."""
    width, height = layout.paper.width * POINTS, layout.paper.height * POINTS
    margin, used = flow(rows, list(layout.columns))
    rules = [
        line((each.left - GUTTER, each.top - GUTTER), (each.left - GUTTER, each.bottom + GUTTER / 2), "np-rule")
        for each in used
    ]
    foot = layout.columns[0].top > layout.area.bottom
    edge = [line((layout.area.left, layout.area.bottom), (layout.area.right, layout.area.bottom), "np-rule")] if foot else []
    body = (
        rectangle(0, 0, width, height, "np-paper"),
        draft.drawn(),
        element("g", *edge, *rules, margin, class_="np-margin", aria_hidden="true"),
        rectangle(_MARGIN, _MARGIN, width - 2 * _MARGIN, height - 2 * _MARGIN, "np-frame"),
    )
    return document((width, height), name, about, body, inches=(layout.paper.width, layout.paper.height))


_WIDE: Final = 700.0
"""Points from which a drawing on a screen is wider than a column that it stands in."""
_PIXELS: Final = 1.4
"""Pixels for a point on a screen: letters of 6.4 points are read at 9 pixels."""


def document(
    size: Point,
    name: str,
    about: str,
    body: Iterable[Markup],
    *,
    inches: Point | None = None,
    pixels: bool = False,
    styled: bool = True,
    id_: str = "np",
) -> Markup:
    """An SVG document of a size in points, with its name and description for who does not see it.

    ``inches`` is its size on paper, ``pixels`` gives it one on a screen; ``styled`` puts the style in, which a page that has it already leaves out.
    """
    width, height = size
    return element(
        "svg",
        element("title", words(name), id=f"{id_}-name"),
        element("desc", words(about), id=f"{id_}-about"),
        *((element("style", Markup(sheet_style())),) if styled else ()),
        *body,
        xmlns="http://www.w3.org/2000/svg",
        class_=f"np-sheet{' np-wide' if width > _WIDE else ''}",
        viewBox=f"0 0 {width:g} {height:g}",
        width=f"{inches[0]:g}in" if inches else f"{width * _PIXELS:.0f}" if pixels else None,
        height=f"{inches[1]:g}in" if inches else None,
        role="group",
        aria_labelledby=f"{id_}-name",
        aria_describedby=f"{id_}-about",
    )
