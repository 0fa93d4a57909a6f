"""Where boxes and panels are, as who sets them measures it: from the nearest inside corner, and the room that they are in."""

from collections.abc import Iterable
from typing import TypeVar

from nailplate.calc import geometry
from nailplate.plan import Box, Device, Panel, Room, RoomPlace, Wall, WallPlace
from nailplate.plan.words import Side
from nailplate.sheets.called import NOT_STATED, Name, said
from nailplate.sheets.corners_told import at_end, is_corner, past_end
from nailplate.sheets.drawing.measures import BY_TAPE, dimension, unit_of
from nailplate.sheets.drawing.spots import standing_of
from nailplate.sheets.drawing.wall_face import between_corners, stretches_on
from nailplate.sheets.tables import Cell
from nailplate.survey.index import Survey
from nailplate.survey.outdoors import room_or_place
from nailplate.survey.places import Standing

Placed = TypeVar("Placed", Box, Device, Panel)


def by_room(survey: Survey, parts: Iterable[Placed]) -> list[tuple[Cell, list[Placed]]]:
    """Parts by the room that they are in, the plan's rooms in order, then those outside every room and those without a place."""
    found: dict[str, list[Placed]] = {room: [] for room in survey.plan.rooms}
    outside: list[Placed] = []
    nowhere: list[Placed] = []
    for part in parts:
        at = standing_of(survey, part)
        room = _room_of(survey, at) if at is not None else None
        (nowhere if at is None else outside if room is None else found[room.id]).append(part)
    told = [(_room_title(survey, room), each) for room, each in found.items()]
    told += [(Cell("Outside every room drawn"), outside), (Cell("Place not stated"), nowhere)]
    return [(title, each) for title, each in told if each]


def _room_of(survey: Survey, at: Standing) -> Room | None:
    """The room drawn there, or the porch, deck or yard that the place is at."""
    if at.drawn is not None or at.unsaid is not None:
        return at.drawn
    return room_or_place(survey, at)


def _room_title(survey: Survey, room_id: str) -> Cell:
    room = survey.plan.rooms[room_id]
    return said(lambda name: f"{name(room)} ({name(survey.plan.levels[room.level])})", room.pointer)


def place_told(survey: Survey, part: Box | Device | Panel) -> Cell:
    """``Front wall, 3'-2" from its left corner``: as seen by who stands before it; in a ceiling, from two sides of its room."""
    at = standing_of(survey, part)
    if at is None:
        return Cell(NOT_STATED, part.pointer)
    if isinstance(at.place, RoomPlace):
        return _in_room(survey, at.place, part)
    wall, side, place = at.wall, at.side, at.place
    if wall is None or side is None or not isinstance(place, WallPlace) or not place.knows("along"):
        return said(lambda name: name(wall) if wall else NOT_STATED, part.pointer)
    return said(lambda name: _on_wall(survey, wall, side, place.along, name), part.pointer)


def _on_wall(survey: Survey, wall: Wall, side: Side, along: float, name: Name) -> str:
    start, end, indoors = corner_ends(survey, wall, side, along)
    left, right = (end - along, along - start) if side is Side.LEFT else (along - start, end - along)
    near, which = (left, "left") if left <= right else (right, "right")
    at = start if (which == "left") is (side is Side.RIGHT) else end
    return f"{name(wall)}, {_from_corner(survey, wall, side, (near, at, which), name, indoors=indoors)}"


def _from_corner(
    survey: Survey, wall: Wall, side: Side, nearest: tuple[float, float, str], name: Name, *, indoors: bool
) -> str:
    """From the nearest end of what is seen of a wall: how far it is, where it is along the wall, and on which hand."""
    (near, at, which), unit = nearest, unit_of(survey.plan)
    told = dimension(near, unit, BY_TAPE)
    own_end = min(at, geometry.length_of((wall.start, wall.end)) - at) <= 0
    if indoors and (is_corner(survey, wall, side, at) or not own_end):
        return f"{told} from its {which} inside corner"
    past = past_end(survey, wall, side, at)
    if past is None:
        return f"{told} from its {which} {at_end(survey, wall, at, name)}"
    off, corner = past
    return f"{dimension(near + off, unit, BY_TAPE)} from its {which} {corner} ({told} from its end as drawn)"


def corner_ends(survey: Survey, wall: Wall, side: Side, along: float) -> tuple[float, float, bool]:
    """Where the rooms on that side begin and end about a place on a wall, and True; the wall's own ends where no room is drawn."""
    for start, end in survey.once(_corners, wall.id, side):
        if start <= along <= end:
            return start, end, True
    return 0.0, geometry.length_of((wall.start, wall.end)), False


def _corners(survey: Survey, wall_id: str, side: Side) -> list[tuple[float, float]]:
    return between_corners(stretches_on(survey, survey.plan.walls[wall_id], side))


def _in_room(survey: Survey, place: RoomPlace, part: Box | Device | Panel) -> Cell:
    room = survey.plan.rooms[place.room]
    if not room.knows("outline") or not place.knows("point"):
        return said(lambda name: f"in {name(room)}; place not stated", part.pointer)
    left, low, right, high = geometry.bounding_box(room.outline)
    (x, y), unit = place.point, unit_of(survey.plan)
    across = (x - left, "left") if x - left <= right - x else (right - x, "right")
    up = (y - low, "bottom") if y - low <= high - y else (high - y, "top")
    told = " and ".join(f"{dimension(off, unit, BY_TAPE)} from the {side}" for off, side in (across, up))
    return said(lambda name: f"{told} of {name(room)} as drawn", part.pointer)


def outdoors_at(survey: Survey, part: Box | Device | Panel) -> Room | None:
    """The porch, deck or yard that a part hangs at outside, whose floor or ground its height counts from."""
    at = standing_of(survey, part)
    return room_or_place(survey, at) if at is not None and at.unsaid is None and at.outside else None


def height_of(survey: Survey, part: Box | Device | Panel) -> float | None:
    """Of its center above the finished floor, outdoors above the ground or deck there, inches; None where the plan does not say it."""
    at = standing_of(survey, part)
    return at.place.height if at is not None and at.place.knows("height") else None
