"""The wiring plan of one level on one sheet."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Level
from nailplate.plan.trade import LEVELS_AS_READ
from nailplate.sheets.drawing.building import draw_building, draw_context
from nailplate.sheets.drawing.dimensions import draw_overall
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.legend import circuit_rows, finding_rows, legend_rows, note_rows
from nailplate.sheets.drawing.margin import Row
from nailplate.sheets.drawing.marks import Mark, draw_marks
from nailplate.sheets.drawing.measures import unit_of
from nailplate.sheets.drawing.names import name_built, name_rooms
from nailplate.sheets.drawing.paper import Paper, Scale
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.drawing.proposed import Proposal, draw_proposed
from nailplate.sheets.drawing.sheet import Layout, draft_on, layout_for, sheet
from nailplate.sheets.drawing.spots import standing_of
from nailplate.sheets.drawing.stamp import Stamp, caution_rows, title_rows
from nailplate.sheets.drawing.svg import Markup, Point
from nailplate.sheets.drawing.walls import half_of
from nailplate.sheets.drawing.wires import draw_cables, draw_home_runs, draw_switch_legs
from nailplate.sheets.drawing.wiring import draw_symbols, letter_tags
from nailplate.survey.index import Survey

_NOTHING: Final = (0.0, 0.0, 120.0, 120.0)


@dataclass(frozen=True, slots=True)
class Findings:
    """What a drawing shows of a report: its findings, and the devices that its remedies would add."""

    marks: Sequence[Mark] = ()
    proposals: Sequence[Proposal] = ()


NONE: Final = Findings()


def level_sheet(survey: Survey, level: Level, paper: Paper, stamp: Stamp, findings: Findings = NONE) -> Markup:
    """The SVG of one level. Places that the plan leaves out are noted on the sheet."""
    bounds = bounds_of(survey, level)
    layout = layout_for(paper, (bounds[2] - bounds[0], bounds[3] - bounds[1]), unit_of(survey.plan))
    draft = draft_on(layout, bounds)
    marked = draw_level(draft, survey, level, bounds, findings)
    name = f"{name_of(level)}: wiring plan"
    rows = _rows(draft, survey, layout, name, stamp, marked)
    return sheet(layout, draft, f"{stamp.plan}: {name}", describe(survey, level, layout.scale, marked), rows)


def draw_level(draft: Draft, survey: Survey, level: Level, bounds: geometry.Box, findings: Findings) -> list[Mark]:
    """Draws a level; gives the findings that are marked on it."""
    draw_context(draft, survey, level)
    draw_building(draft, survey, level)
    draw_overall(draft, bounds, unit_of(survey.plan))
    draw_cables(draft, survey, level)
    symbols = draw_symbols(draft, survey, level)
    name_rooms(draft, survey, level)
    draw_proposed(draft, survey, level, findings.proposals)
    letter_tags(draft, symbols)
    draw_switch_legs(draft, survey)
    draw_home_runs(draft, survey)
    marked = draw_marks(draft, survey, level, findings.marks)
    name_built(draft, survey, level)
    return marked


def _rows(draft: Draft, survey: Survey, layout: Layout, name: str, stamp: Stamp, marked: list[Mark]) -> Iterator[Row]:
    yield from title_rows(stamp, name, layout.scale, layout.paper, unit_of(survey.plan))
    yield from caution_rows(stamp)
    yield from legend_rows(draft)
    yield from circuit_rows(draft, survey)
    yield from note_rows(draft)
    yield from finding_rows(draft, marked)


def describe(survey: Survey, level: Level, scale: Scale, marked: list[Mark]) -> str:
    """The drawing in words, for who does not see it."""
    rooms = ", ".join(name_of(each) for each in survey.rooms_on_level.get(level.id, []))
    return (
        f"Floor plan of {name_of(level)} seen from above, x to the right and y up, scale {scale.words}. "
        f"Rooms: {rooms or 'none drawn'}. {len(marked)} findings are marked."
    )


# What the sheet covers


def bounds_of(survey: Survey, level: Level) -> geometry.Box:
    """The least rectangle around everything on a level; a square of 10 ft where nothing has a place."""
    points = list(_points(survey, level))
    return geometry.bounding_box(points) if points else _NOTHING


def _points(survey: Survey, level: Level) -> Iterator[Point]:
    for wall in survey.walls_on_level.get(level.id, []):
        half = half_of(wall)
        for x, y in (wall.start, wall.end):
            yield from ((x - half, y - half), (x + half, y + half))
    for room in survey.rooms_on_level.get(level.id, []):
        yield from room.outline if room.knows("outline") else ()
    yield from _wired(survey, level)
    for stair in survey.plan.stairs.values():
        if stair.lower == level.id and stair.knows("outline"):
            yield from stair.outline


def levels_drawn(survey: Survey) -> list[Level]:
    """The levels on which the plan gives anything a place: the house's own from the lowest up, then those around it."""
    drawn = [each for each in survey.plan.levels.values() if next(_points(survey, each), None) is not None]
    return sorted(drawn, key=_reading_order)


def _reading_order(level: Level) -> tuple[int, float, str]:
    return (LEVELS_AS_READ.index(level.kind), level.elevation if level.knows("elevation") else 0.0, level.id)


def holds_wiring(survey: Survey, level: Level) -> bool:
    """Whether a device, box or panel is on a level."""
    return next(_wired(survey, level), None) is not None


def _wired(survey: Survey, level: Level) -> Iterator[Point]:
    for parts in (survey.plan.devices, survey.plan.boxes, survey.plan.panels):
        for part in parts.values():
            at = standing_of(survey, part)
            if at is not None and at.level == level.id:
                yield at.point
