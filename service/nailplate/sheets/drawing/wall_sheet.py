"""The elevation of one wall on one sheet: framing, drill lines, boxes with their heights and distances from the corner."""

from collections.abc import Iterator, Sequence
from typing import Final

from nailplate.plan import Box, Device, Panel, Wall
from nailplate.plan.words import BoxShape, Side
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.framing import block, draw_framing, draw_runs
from nailplate.sheets.drawing.labels import Label, place
from nailplate.sheets.drawing.legend import finding_rows, legend_rows, note_rows
from nailplate.sheets.drawing.margin import Row
from nailplate.sheets.drawing.marks import Mark, draw_marks_at
from nailplate.sheets.drawing.measures import BY_TAPE, dimension, unit_of
from nailplate.sheets.drawing.paper import Paper
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.drawing.room_for import around
from nailplate.sheets.drawing.sheet import Layout, draft_on, layout_for, sheet
from nailplate.sheets.drawing.stamp import Stamp, caution_rows, title_rows
from nailplate.sheets.drawing.svg import Markup, Point, circle, group, title
from nailplate.sheets.drawing.tags import circuit_tag
from nailplate.sheets.drawing.wall_dimensions import draw_dimensions
from nailplate.sheets.drawing.wall_face import Boxlike, Face, face_of
from nailplate.survey.index import Survey

ONE_GANG: Final = (2.25, 3.75)
"""Inches: the front of a one-gang box (common practice)."""
GANG: Final = 1.8125
"""Inches from device to device in a gang: 1-13/16 in (common practice)."""
ROUND: Final = 4.0
_ROUND: Final = (BoxShape.ROUND, BoxShape.OCTAGON, BoxShape.PANCAKE)


def wall_sheet(
    survey: Survey,
    wall: Wall,
    paper: Paper,
    stamp: Stamp,
    marks: Sequence[Mark] = (),
    *,
    side: Side | None = None,
) -> Markup:
    """The SVG of one wall as seen from the side that more boxes are on, or from the side named."""
    face = face_of(survey, wall, side)
    bounds = (0.0, 0.0, face.length, face.height)
    layout = layout_for(paper, (face.length, face.height), unit_of(survey.plan))
    draft = draft_on(layout, bounds, mirrored=face.mirrored)
    studs = draw_framing(draft, survey, face)
    _draw_parts(draft, face)
    draw_dimensions(draft, survey, face)
    _letter_parts(draft, survey, face)
    draw_runs(draft, survey, face, studs)
    marked = draw_marks_at(draft, marks)
    name = f"{name_of(wall)}: elevation, seen from {_seen_from(face)}"
    rows = _rows(draft, layout, name, stamp, face, marked)
    return sheet(layout, draft, f"{stamp.plan}: {name}", _about(face, layout), rows)


def _seen_from(face: Face) -> str:
    names = list(dict.fromkeys(each.name for each in face.stretches))
    return ", ".join(reversed(names) if face.mirrored else names) or f"its {face.side} side"


def _about(face: Face, layout: Layout) -> str:
    return (
        f"Elevation of a wall {dimension(face.length, layout.unit)} long and {dimension(face.height, layout.unit)} high, scale "
        f"{layout.scale.words}, with {len(face.on_it)} boxes on this face and {len(face.behind)} on the other."
    )


def _rows(draft: Draft, layout: Layout, name: str, stamp: Stamp, face: Face, marked: list[Mark]) -> Iterator[Row]:
    if not face.height_said:
        draft.notes.append(
            f"The plan states neither the wall's height nor a ceiling; drawn {dimension(face.height, draft.unit)} high."
        )
    draft.notes.append(
        "At each box: how far its center is over from the inside corner at the left as seen here (from the end of the wall where "
        "no room is drawn), and how far up from the finished floor."
    )
    yield from title_rows(stamp, name, layout.scale, layout.paper, layout.unit)
    yield from caution_rows(stamp)
    yield from legend_rows(draft)
    yield from note_rows(draft)
    yield from finding_rows(draft, marked)


# Boxes, panels and devices


def _draw_parts(draft: Draft, face: Face) -> None:
    for class_, parts in (("np-back", face.behind), ("np-front", face.on_it)):
        for each in parts:
            if each.point is None:
                draft.notes.append(f"{name_of(each.part)}: height or distance along the wall not stated")
            else:
                draft.draw("devices", _shape(draft, each.part, each.point, class_))


def _letter_parts(draft: Draft, survey: Survey, face: Face) -> None:
    for each in (*face.on_it, *face.behind):
        if each.point is not None:
            _letter(draft, survey, face, each.part, each.point, behind=each.at.side is not face.side)


def _shape(draft: Draft, part: Boxlike, point: Point, class_: str) -> Markup:
    """A part to scale with its center at its place."""
    (along, height), center = point, draft.view(point)
    draft.centers[part.pointer] = center
    draft.used["box-front" if class_ == "np-front" else "box-back"] = None
    wide, tall = _size(part)
    if isinstance(part, Box) and part.knows("shape") and part.shape in _ROUND:
        shape = circle(center, ROUND / 2 * draft.view.points, class_)
    else:
        shape = block(draft, along - wide / 2, along + wide / 2, height - tall / 2, height + tall / 2, class_)
    draft.taken.take(around(center, wide * draft.view.points, tall * draft.view.points))
    middle = circle(center, 0.8, "np-box np-anchor")
    return group(title(name_of(part)), shape, middle, data_part=part.pointer)


def _size(part: Boxlike) -> tuple[float, float]:
    if isinstance(part, Panel):
        return (part.face.width, part.face.height) if part.knows("face") else (14.5, 24.0)
    if isinstance(part, Box) and part.knows("shape") and part.shape in _ROUND:
        return (ROUND, ROUND)
    gangs = part.gangs if part.knows("gangs") else 1
    return (ONE_GANG[0] + (gangs - 1) * GANG, ONE_GANG[1])


def _letter(draft: Draft, survey: Survey, face: Face, part: Boxlike, point: Point, *, behind: bool) -> None:
    over = dimension(face.from_corner(point[0]), draft.unit, BY_TAPE)
    up = dimension(point[1], draft.unit, BY_TAPE)
    wide, tall = _size(part)
    reach = min(wide, tall) / 2 * draft.view.points
    tags = dict.fromkeys(
        circuit_tag(survey, survey.plan.circuits[each.circuit]) for each in _devices(survey, part) if each.knows("circuit")
    )
    where = " (other face)" if behind else ""
    lines = (f"{' '.join(tags)}{': ' if tags else ''}{name_of(part)}{where}", f"{over} over, {up} up")
    place(draft, Label(lines, 6.4, draft.centers[part.pointer], reach, "np-tag", most=120.0))


def _devices(survey: Survey, part: Boxlike) -> list[Device]:
    if isinstance(part, Device):
        return [part]
    return survey.devices_in_box.get(part.id, []) if isinstance(part, Box) else []
