"""Where a part stands: its level, point, height, room and wall, from its own place or its box's.

Raises ``UnknownFact`` where the plan does not say enough, so that a rule which asks is answered with what is missing.
"""

import math
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Box, Device, Panel, Place, Room, RoomPlace, UnknownFact, Wall, WallPlace
from nailplate.plan.words import Side, WallKind
from nailplate.survey.index import Survey

Point = tuple[float, float]

_PROBE = 2.0
"""Inches beyond a wall's face at which the room on that side is looked for; finish lines in plans differ by less."""


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a part stands in the plane of its level (inches). ``room`` is None where no room is drawn there."""

    level: str
    point: Point
    room: Room | None
    wall: Wall | None
    side: Side | None
    place: Place

    @property
    def height(self) -> float:
        """Above the level's finished floor; raises UnknownFact where the plan does not say it."""
        return self.place.height

    @property
    def outside(self) -> bool:
        """On the weather side of an exterior wall, with no room drawn there."""
        return self.room is None and self.wall is not None and self.wall.kind is WallKind.EXTERIOR


def standing(survey: Survey, part: Device | Box | Panel) -> Standing:
    """Where a device, box or panel stands. A device without a place of its own stands where its box is."""
    return survey.once(_standing, part.pointer.members[0], part.id)


def _standing(survey: Survey, map_name: str, part_id: str) -> Standing:
    part: Device | Box | Panel = getattr(survey.plan, map_name)[part_id]
    place = place_of(survey, part)
    if isinstance(place, RoomPlace):
        room = survey.plan.rooms[place.room]
        return Standing(room.level, place.point, room, None, None, place)
    return _on_wall(survey, place)


def place_of(survey: Survey, part: Device | Box | Panel) -> Place:
    """The place that is stated for a part: its own, or its box's."""
    if isinstance(part, Device) and not part.knows("at") and part.knows("box"):
        return survey.plan.boxes[part.box].at
    return part.at


def _on_wall(survey: Survey, place: WallPlace) -> Standing:
    wall = survey.plan.walls[place.wall]
    at = point_on_wall(wall, place.along)
    rooms = {side: room_beside(survey, wall, at, side) for side in Side}
    side = _side(place, rooms)
    return Standing(wall.level, beside_wall(wall, at, side, 0.0), rooms[side], wall, side, place)


def _side(place: WallPlace, rooms: dict[Side, Room | None]) -> Side:
    if place.knows("side"):
        return place.side
    with_room = [side for side, room in rooms.items() if room is not None]
    if len(with_room) != 1:
        raise UnknownFact(place.where("side"))
    return with_room[0]


def point_on_wall(wall: Wall, along: float) -> Point:
    """The point on the wall's centre line at a distance from its ``from`` end."""
    (x1, y1), (x2, y2) = wall.start, wall.end
    length = math.hypot(x2 - x1, y2 - y1)
    return (x1 + (x2 - x1) * along / length, y1 + (y2 - y1) * along / length)


def beside_wall(wall: Wall, at: Point, side: Side, off: float) -> Point:
    """The point beside ``at``, ``off`` inches beyond the wall's face on that side; a wall without thickness is its centre line."""
    (x1, y1), (x2, y2) = wall.start, wall.end
    length = math.hypot(x2 - x1, y2 - y1)
    distance = (wall.thickness / 2 if wall.knows("thickness") else 0.0) + off
    turn = distance if side is Side.LEFT else -distance
    return (at[0] - (y2 - y1) / length * turn, at[1] + (x2 - x1) / length * turn)


def room_beside(survey: Survey, wall: Wall, at: Point, side: Side) -> Room | None:
    """The room drawn on that side of the wall at that point, if there is one."""
    return room_at(survey, wall.level, beside_wall(wall, at, side, _PROBE))


def room_at(survey: Survey, level: str, point: Point) -> Room | None:
    """The first room of the level whose outline holds the point. Rooms without an outline are not found by it."""
    near = survey.once(_room_grid, level).near((*point, *point))
    return next((room for room in near if geometry.contains(room.outline, point)), None)


def _room_grid(survey: Survey, level: str) -> geometry.Grid[Room]:
    """The rooms of a level by where they lie, in the document's order at each place."""
    rooms = [room for room in survey.rooms_on_level.get(level, []) if room.knows("outline")]
    return geometry.Grid(((geometry.bounding_box(room.outline), room) for room in rooms), cell=_ROOM_CELL)


_ROOM_CELL = 120.0
"""Inches; about the size of a room."""
