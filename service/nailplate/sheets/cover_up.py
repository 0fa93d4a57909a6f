"""The sheet before cover-up: by wall and box what to look at, measure, photograph, tug, cap and label. Only what this plan calls for."""

from collections.abc import Iterator
from typing import Final

from nailplate.calc.switching import CableEnd, Role
from nailplate.plan import Box, Cable, Device, Room, RoomPlace, Wall, WallPlace
from nailplate.plan.trade import ON_COILS
from nailplate.plan.words import BoxFastening, Cavity, DeviceKind, How, Placing
from nailplate.sheets.called import Name, listed, named, said, text
from nailplate.sheets.carried import joints_by_box
from nailplate.sheets.drawing.measures import BY_TAPE, dimension, unit_of
from nailplate.sheets.drawing.spots import standing_of
from nailplate.sheets.drill_holes import lines_in
from nailplate.sheets.ends_told import circuits_told, part_at_end
from nailplate.sheets.line_and_load import is_on_load
from nailplate.sheets.orders import Order
from nailplate.sheets.places_told import by_room, height_of, outdoors_at, place_told
from nailplate.sheets.plate_holes import plate_holes
from nailplate.sheets.runs_told import plates_for, runs_by_wall
from nailplate.sheets.site_items import many
from nailplate.sheets.tables import Cell, Column, Document, Section, table
from nailplate.survey.index import Survey
from nailplate.survey.rough_in import Run
from nailplate.units import Unit, count

_ITEMS = (Column("No.", Unit.COUNT), Column("Where"), Column("Do"), Column("What"), Column("Done"))
_BOX: Final = "[ ]"
Item = tuple[Cell, str, Cell]
"""Where, what kind of act, and what to do."""


def cover_up(order: Order) -> Document:
    """The sheet before cover-up, its items numbered through, its photographs too."""
    survey = order.survey
    parts: list[tuple[Cell, list[Item]]] = [
        (Cell("First"), list(_first())),
        *((title, list(_of_wall(survey, wall))) for wall, title in _walls(survey)),
        *(
            (title, [item for box in boxes for item in _of_box(survey, box)])
            for title, boxes in by_room(survey, survey.plan.boxes.values())
        ),
        (
            Cell("Devices without a box"),
            [item for each in survey.plan.devices.values() if not each.knows("box") for item in _of_device(survey, each)],
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


# Boxes


def _placed(survey: Survey, part: Box | Device) -> Iterator[Cell]:
    """What is in a wall by its height, free in a room by its place too; whether a box is beside a stud where the stud decides."""
    high, outdoors = height_of(survey, part), outdoors_at(survey, part)
    if part.knows("at") and isinstance(part.at, RoomPlace):
        place = place_told(survey, part)
        up = (
            "" if high is None or high == _ceiling_over(survey, part.at) else f", {_up(survey, high)} the floor or ground there"
        )
        yield Cell(f"Center {place.value}{up}.", part.where("at"), place.whole and f"Center {place.whole}{up}.")
    elif high is not None:
        told = f"Center {_up(survey, high)}"
        if outdoors is not None:
            yield listed([outdoors], f"{told} the floor or ground of ", ".", part.where("at"))
        else:
            yield text(f"{told} the finished floor.", part.where("at"))
        if isinstance(part, Box) and part.is_(placing=Placing.NEAREST_STUD):
            spaced = any(each.kind is DeviceKind.RECEPTACLE for each in survey.devices_in_box.get(part.id, ()))
            again = "; the spacing of receptacles measured again" if spaced else ""
            yield text(f"At the stud nearest to its place{again}.", part.where("at"))


def _up(survey: Survey, high: float) -> str:
    return f"{dimension(high, unit_of(survey.plan), BY_TAPE)} above"


def _ceiling_over(survey: Survey, place: RoomPlace) -> float | None:
    """The height of a room's flat ceiling: what hangs from it needs no height told."""
    room = survey.plan.rooms[place.room]
    for part in (room, survey.plan.levels[room.level]):
        if part.knows("ceiling"):
            return part.ceiling.height if part.ceiling.knows("height") else None
    return None


def _of_box(survey: Survey, box: Box) -> Iterator[Item]:
    where = named(box)
    cables = list(dict.fromkeys(survey.cables_at_box.get(box.id, [])))
    yield from ((where, "measure", told) for told in _placed(survey, box))
    if box.knows("front_offset"):
        yield where, "measure", text(f"Front {_offset(box, survey)}.", box.where("front_offset"))
    if cables:
        grounds = "grounds joined" if len(cables) > 1 else "its ground free for the device"
        yield where, "look", text(f"{many(len(cables), 'cable')} in it, sheath inside, {grounds}.", box.pointer)
        yield (
            where,
            "tug",
            text(
                f"Tug box and {many(len(cables), 'cable')}: box fast to {_framing(box)}, cables held by clamp or staple.",
                box.pointer,
            ),
        )
    yield from _caps(survey, box, where)
    yield from _labels(survey, box, cables)
    yield from _load_side(survey, box, where)
    for cable in survey.cables_through_box.get(box.id, []):
        yield where, "look", _passing(survey, box, cable)
    if not survey.devices_in_box.get(box.id):
        yield where, "cap", text("No device goes here: blank cover, and it stays in reach (314.29).", box.pointer)
    if box.is_(fan_rated=True):
        yield where, "look", text(f"It is marked for fans, and fast to {_framing(box)}.", box.pointer)


def _of_device(survey: Survey, device: Device) -> Iterator[Item]:
    """What has its own wiring space and gets cable that the wall will hide: a fan, a heater, a disconnect."""
    where, here = named(device), survey.cables_at_device.get(device.id, [])
    cables = [each for each in dict.fromkeys(here) if each.knows("type") and each.type in ON_COILS]
    if not cables:
        return
    yield from ((where, "measure", told) for told in _placed(survey, device))
    words = f"{many(len(cables), 'cable')} at its wiring space, fastened near it, long enough to reach its terminals."
    yield where, "look", text(words, device.pointer)
    yield from _labels(survey, device, cables)


def _labels(survey: Survey, part: Box | Device, cables: list[Cable]) -> Iterator[Item]:
    if any(circuits_told(survey, cable) for cable in cables):
        told = said(lambda name: f"Each cable: {'; '.join(_label(survey, part, each, name) for each in cables)}.", part.pointer)
        yield named(part), "label", told


def _passing(survey: Survey, box: Box, cable: Cable) -> Cell:
    """What passes a box unbroken, by what it carries and its two ends, and the loop that its fill counts."""
    tag, ends = circuits_told(survey, cable) or "?", [part_at_end(survey, end) for end in cable.ends]
    loops = [each.loop for each in cable.passes if each.box == box.id and each.knows("loop")]
    left = f", a loop of {dimension(max(loops), unit_of(survey.plan), BY_TAPE)} left in the box" if any(loops) else ""
    return said(lambda name: f"{tag} from {' to '.join(name(end) for end in ends)} passes unbroken{left}.", box.pointer)


def _framing(box: Box) -> str:
    return "its brace, the brace to the framing" if box.is_(fastened=BoxFastening.BRACE) else "its framing"


def _offset(box: Box, survey: Survey) -> str:
    off = box.front_offset
    told = dimension(abs(off), unit_of(survey.plan), BY_TAPE)
    return (
        f"edge {told} {'out from' if off >= 0 else 'behind'} the face of the framing"
        if off
        else "edge flush with the face of the framing"
    )


def _label(survey: Survey, part: Box | Device, cable: Cable, name: Name) -> str:
    ends = [part_at_end(survey, end) for end in cable.ends]
    other = next((end for end in ends if end is not part), ends[1])
    return f"{circuits_told(survey, cable) or '?'} to {name(other)}"


def _caps(survey: Survey, box: Box, where: Cell) -> Iterator[Item]:
    for _, joint, _ in joints_by_box(survey).get(str(box.pointer), []):
        ends = [end for end in joint.ends if isinstance(end, CableEnd)]
        if (len(joint.ends) == 1 and ends) or joint.net.role is Role.SPARE:
            cables = [survey.plan.cables[end.cable] for end in ends]
            yield where, "cap", listed(cables, f"{', '.join(end.color for end in ends)} of ", ".", box.pointer)


def _load_side(survey: Survey, box: Box, where: Cell) -> Iterator[Item]:
    """Which cables go on LOAD: once the wall is closed they look alike."""
    joints = [each.joint for each in joints_by_box(survey).get(str(box.pointer), []) if is_on_load(each.joint)]
    ids = dict.fromkeys(end.cable for joint in joints for end in joint.ends if isinstance(end, CableEnd))
    if ids:
        yield where, "label", listed([survey.plan.cables[each] for each in ids], "Mark as LOAD: ", ".", box.pointer)


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
