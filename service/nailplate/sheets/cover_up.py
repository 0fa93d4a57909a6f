"""The sheet before cover-up: by wall and box what to look at, measure, photograph, tug, cap and label. Only what this plan calls for."""

from collections.abc import Iterator
from typing import Final

from nailplate.plan import Box, Room, RoomPlace, Wall, WallPlace
from nailplate.plan.words import Cavity, How
from nailplate.sheets.called import listed, named, text
from nailplate.sheets.cover_up_boxes import Item, box_items, device_items
from nailplate.sheets.drawing.measures import BY_TAPE, dimension, unit_of
from nailplate.sheets.drawing.spots import standing_of
from nailplate.sheets.drill_holes import lines_in
from nailplate.sheets.orders import Order
from nailplate.sheets.places_told import by_room
from nailplate.sheets.plate_holes import plate_holes
from nailplate.sheets.runs_told import plates_for, runs_by_wall
from nailplate.sheets.site_items import many
from nailplate.sheets.tables import Cell, Column, Document, Section, table
from nailplate.survey.index import Survey
from nailplate.survey.rough_in import Run
from nailplate.units import Unit, count

_ITEMS = (Column("No.", Unit.COUNT), Column("Where"), Column("Do"), Column("What"), Column("Done"))
_BOX: Final = "[ ]"


def cover_up(order: Order) -> Document:
    """The sheet before cover-up, its items numbered through, its photographs too."""
    survey = order.survey
    parts: list[tuple[Cell, list[Item]]] = [
        (Cell("First"), list(_first())),
        *((title, list(_of_wall(survey, wall))) for wall, title in _walls(survey)),
        *(
            (title, [item for box in boxes for item in box_items(survey, box)])
            for title, boxes in by_room(survey, survey.plan.boxes.values())
        ),
        (
            Cell("Devices without a box"),
            [item for each in survey.plan.devices.values() if not each.knows("box") for item in device_items(survey, each)],
        ),
        (Cell("Panels"), list(_panels(survey))),
        (Cell("Before and during spray foam"), list(_foam(survey))),
    ]
    return Document("cover-up", "Before cover-up", order.stamp, unit_of(survey.plan), tuple(_numbered(parts)), _NOTES)


_NOTES = (
    "Items are numbered through, and photographs among them as P1, P2 and on: name the pictures alike and keep them with the plan.",
    "What inspectors look at differs from place to place; ask yours for the list before you call (common practice).",
)


def _numbered(parts: list[tuple[Cell, list[Item]]]) -> Iterator[Section]:
    number = photographs = 0
    for title, items in parts:
        rows = []
        for where, act, what in items:
            number += 1
            photographs += act == "photograph"
            told = f"photograph P{photographs}" if act == "photograph" else act
            rows.append((Cell(count(number), where.at), where, Cell(told), what, Cell(_BOX)))
        if rows:
            yield Section(title, table("Items", _ITEMS, rows))


def _first() -> Iterator[Item]:
    house = Cell("whole house")
    yield (
        house,
        "look",
        Cell(
            "The permit is on site, and the rough-in inspection is called and passed before anything is insulated, foamed or covered."
        ),
    )
    yield house, "look", Cell("Every supply is off, locked out and tested dead while anybody works in boxes and panels.")


# Walls


def _walls(survey: Survey) -> Iterator[tuple[Wall, Cell]]:
    runs, boxed = runs_by_wall(survey), survey.once(_boxes_on_walls)
    for wall in survey.plan.walls.values():
        if wall.id in runs or wall.id in boxed:
            yield wall, listed([wall], "Wall: ", at=wall.pointer)


def _boxes_on_walls(survey: Survey) -> dict[str, list[Box]]:
    found: dict[str, list[Box]] = {}
    for box in survey.plan.boxes.values():
        at = standing_of(survey, box)
        if at is not None and isinstance(at.place, WallPlace):
            found.setdefault(at.place.wall, []).append(box)
    return found


def _of_wall(survey: Survey, wall: Wall) -> Iterator[Item]:
    where, runs, unit = named(wall), runs_by_wall(survey).get(wall.id, []), unit_of(survey.plan)
    lines = [
        each for each in lines_in([run for run in runs if run.segment.how is How.BORED and run.upright is False]) if each.holes
    ]
    if lines:
        heights = ", ".join(dimension(each.height, unit, BY_TAPE) for each in lines)
        yield where, "measure", text(f"Cables cross studs at {heights} above the floor, as drawn.", wall.pointer)
    through = sum(len(each.runs) for each in plate_holes(survey, wall, runs))
    if through:
        sealed = "it is sealed" if through == 1 else "each is sealed"
        words = f"{many(through, 'hole')} for cables through plates: no sharp edge, and {sealed} with approved material (IRC R302.11)."
        yield where, "look", text(words, wall.pointer)
    plates = sum(plates_for(survey, run) for run in runs)
    if plates:
        yield where, "look", text(f"{many(plates, 'nail plate')}, about, are on.", wall.pointer)
    if _near_fasteners(runs):
        words = "Cable near the floor or counter line is behind steel, or far enough from nails of baseboards and cabinets."
        yield where, "look", text(words, wall.pointer)
    if wall.knows("fire_rated") and wall.fire_rated:
        yield (
            where,
            "look",
            text(
                "Boxes and openings keep the wall's fire rating: distances apart, listed pads or boxes, sealed holes.",
                wall.pointer,
            ),
        )
    if runs:
        yield where, "look", text("No cable is nicked, crushed by a staple or pulled tight over an edge.", wall.pointer)
    yield (
        where,
        "photograph",
        text("The whole wall from corner to corner, a tape along the floor and one upright in the picture.", wall.pointer),
    )


BASEBOARD: Final = 6.0
"""Inches up to which baseboards are nailed (common practice)."""


def _near_fasteners(runs: list[Run]) -> bool:
    return any(height <= BASEBOARD for run in runs if run.upright is False for _, height in run.on_wall)


# Panels and foam


def _panels(survey: Survey) -> Iterator[Item]:
    for panel in survey.plan.panels.values():
        where, cables = named(panel), len(survey.cables_at_panel.get(panel.id, []))
        if cables:
            yield (
                where,
                "label",
                text(f"{many(cables, 'cable')}, each with its circuit, long enough to reach every space.", panel.pointer),
            )
            yield where, "photograph", text("The open panel, labels readable, and the wall over it.", panel.pointer)


_FOAM_OFF: Final = "; foam stays off a luminaire that is not listed for it (110.3(B))."


def _foam(survey: Survey) -> Iterator[Item]:
    foamed = [wall for wall in survey.plan.walls.values() if wall.knows("cavity") and wall.cavity is Cavity.SPRAY_FOAM]
    ceilings = list(_foamed_ceilings(survey))
    if not foamed and not ceilings:
        return
    house = Cell("whole house")
    yield house, "look", Cell("The inspection is passed: foam hides everything permanently.")
    boxed = survey.once(_boxes_on_walls)
    for wall in foamed:
        boxes = boxed.get(wall.id, [])
        if boxes:
            yield named(wall), "mask", listed(boxes, "Before the foam: ", ".", wall.pointer)
        if runs_by_wall(survey).get(wall.id):
            yield named(wall), "look", text("Every cable is fastened so that foam cannot push it to a face.", wall.pointer)
    for where, boxes in ceilings:
        yield where, "mask", listed(boxes, "Before the foam: ", _FOAM_OFF, where.at)
    yield (
        house,
        "look",
        Cell(
            "Only the foam crew, with the respirators and suits that its manufacturer requires, is in the house during spraying."
        ),
    )
    yield (
        house,
        "look",
        Cell(
            "Everybody else, children and pets too, stays out until the time that the foam's manufacturer gives for coming back, with fans on."
        ),
    )
    yield house, "look", Cell("Passes are as thin as the foam's manufacturer says, and each cools before the next.")


def _foamed_ceilings(survey: Survey) -> Iterator[tuple[Cell, list[Box]]]:
    """Ceilings to be foamed that boxes are in, each with them; a room without a ceiling of its own has its level's."""
    for title, boxes in by_room(survey, survey.plan.boxes.values()):
        overhead = [box for box in boxes if box.knows("at") and isinstance(box.at, RoomPlace)]
        room = survey.plan.rooms.get(title.at.members[1]) if title.at is not None else None
        if room is not None and overhead and _is_foamed(survey, room):
            yield title, overhead


def _is_foamed(survey: Survey, room: Room) -> bool:
    for part in (room, survey.plan.levels[room.level]):
        if part.knows("ceiling") and part.ceiling.knows("cavity"):
            return part.ceiling.cavity is Cavity.SPRAY_FOAM
    return False
