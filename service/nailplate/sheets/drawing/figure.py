"""A level's drawing for a page that is read on a screen: no paper and no title block, its legend at the foot, its lettering large."""

from typing import Final

from nailplate.plan import Level
from nailplate.sheets.drawing.legend import circuit_rows, legend_rows, note_rows
from nailplate.sheets.drawing.level_sheet import Findings, bounds_of, describe, draw_level
from nailplate.sheets.drawing.margin import COLUMN, GUTTER, Row, flow
from nailplate.sheets.drawing.measures import unit_of
from nailplate.sheets.drawing.paper import ARCHITECTURAL, METRIC, Paper, Scale, fitting_scale, is_metric
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.drawing.room_for import Rectangle
from nailplate.sheets.drawing.sheet import Layout, document, draft_on
from nailplate.sheets.drawing.svg import Markup, Point, element
from nailplate.survey.index import Survey

_WIDEST: Final = 800.0
_TALLEST: Final = 560.0
"""Points that the drawing itself takes at most: at this size its letters are read on a desk's screen, and pushed about on a phone's."""
_AROUND: Final = 56.0
"""Points around the building, for its dimensions and for marks that find no room inside."""
_LARGEST: Final = 3
_LARGEST_METRIC: Final = 2
"""1/4 in to the foot, and 1:50."""
_NARROWEST: Final = 2 * (COLUMN + GUTTER)


def level_figure(survey: Survey, level: Level, findings: Findings, id_: str) -> Markup:
    """The SVG of one level for a page that has the sheets' style already. ``id_`` begins the ids in it."""
    bounds = bounds_of(survey, level)
    extent = (bounds[2] - bounds[0], bounds[3] - bounds[1])
    unit = unit_of(survey.plan)
    scale = _scale(extent, metric=is_metric(unit))
    layout = Layout(Paper("screen", 0, 0), _area(extent, scale), (), scale, unit)
    draft = draft_on(layout, bounds)
    marked = draw_level(draft, survey, level, bounds, findings)
    rows = [*legend_rows(draft), *circuit_rows(draft, survey), *note_rows(draft)]
    columns = _columns(layout.area, rows)
    height = max((each.bottom for each in columns), default=layout.area.bottom) + GUTTER
    legend = element("g", flow(rows, columns)[0], class_="np-margin", aria_hidden="true")
    about = describe(survey, level, scale, marked)
    return document(
        (layout.area.right, height), name_of(level), about, (draft.drawn(), legend), pixels=True, styled=False, id_=id_
    )


def _scale(extent: Point, *, metric: bool) -> Scale:
    """The largest usual scale that fits, but no larger than one at which a small house is still seen at a glance."""
    found = fitting_scale(extent, (_WIDEST - 2 * _AROUND, _TALLEST - 2 * _AROUND), metric=metric)
    return min(found, METRIC[_LARGEST_METRIC] if metric else ARCHITECTURAL[_LARGEST], key=lambda each: each.points)


def _area(extent: Point, scale: Scale) -> Rectangle:
    wide, tall = (side * scale.points + 2 * _AROUND for side in extent)
    return Rectangle(0.0, 0.0, max(wide, _NARROWEST), tall)


def _columns(area: Rectangle, rows: list[Row]) -> list[Rectangle]:
    """Columns of one height under the drawing, tall enough for all rows."""
    count = max(1, int((area.right - GUTTER) // (COLUMN + GUTTER)))
    tall = sum(row.height for row in rows) / count + max((row.height for row in rows), default=0.0) * 2 + _SLACK
    pitch = (area.right - GUTTER) / count
    tops = area.bottom + GUTTER
    return [Rectangle(left, tops, left + COLUMN, tops + tall) for left in (GUTTER + pitch * n for n in range(count))]


_SLACK: Final = 14.0
