"""Where a part stands: its level, point, height, room and wall, from its own place or its box's.

Raises ``UnknownFact`` where the plan does not say enough, so that a rule which asks is answered with what is missing.
"""

import math

from nailplate.calc import geometry
from nailplate.plan import Box, Device, Panel, Place, Pointer, Room, RoomPlace, UnknownFact, Wall, WallPlace
from nailplate.plan.words import Side, WallKind
from nailplate.records import record
from nailplate.survey.index import Survey

Point = tuple[float, float]

_PROBE = 2.0
"""Inches beyond a wall's face at which the room on that side is looked for; finish lines in plans differ by less."""
_PROBES = (2.0, 4.0, 6.0, 8.0, 10.0, 12.0)
"""Inches off the centre line of a wall whose thickness is not stated: no wall of a house is thicker than twice the last."""


@record(frozen=True, slots=True)
class Standing:
    """Where a part stands in the plane of its level (inches).

    ``drawn`` is the room drawn there, and None where there is none; ``unsaid`` is the fact left out by which one may be there.
    """

    level: str
    point: Point
    drawn: Room | None
    wall: Wall | None
    side: Side | None
    place: Place
    unsaid: Pointer | None = None

    @property
    def room(self) -> Room | None:
        """The room drawn there; raises UnknownFact where the outline of the one that may be there is left out."""
        if self.unsaid is not None:
            raise UnknownFact(self.unsaid)
        return self.drawn

    @property
    def on_floor_line(self) -> Point:
        """The point on the wall's face; of a wall without a thickness, on the floor line of the room there."""
        if self.wall is None or self.side is None or self.drawn is None or self.wall.knows("thickness"):
            return self.point
        return beside_wall(self.wall, self.point, self.side, geometry.distance_to_outline(self.point, self.drawn.outline))

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
    return survey.once(_standing, part)


def _standing(survey: Survey, part: Device | Box | Panel) -> Standing:
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
    side = _side(survey, place, wall, rooms)
    unsaid = None if rooms[side] else _undrawn(survey, wall, rooms)
    return Standing(wall.level, beside_wall(wall, at, side, 0.0), rooms[side], wall, side, place, unsaid)


def _side(survey: Survey, place: WallPlace, wall: Wall, rooms: dict[Side, Room | None]) -> Side:
    """The side stated, or the only one there is a room on; an outside wall has its weather side too, so there it has to be said.

    So it has where a room without an outline may be on the other side.
    """
    if place.knows("side"):
        return place.side
    with_room = [side for side, room in rooms.items() if room is not None]
    if len(with_room) != 1 or wall.kind is WallKind.EXTERIOR or survey.once(_undrawn_rooms, wall.level):
        raise UnknownFact(place.where("side"))
    return with_room[0]


def _undrawn(survey: Survey, wall: Wall, rooms: dict[Side, Room | None]) -> Pointer | None:
    """The outline left out of a room that may be beside the wall, where the other side does not tell that this is the weather's."""
    if wall.kind is WallKind.EXTERIOR and any(room is not None for room in rooms.values()):
        return None
    undrawn = survey.once(_undrawn_rooms, wall.level)
    return undrawn[0].where("outline") if undrawn else None


def _undrawn_rooms(survey: Survey, level: str) -> list[Room]:
    return [room for room in survey.rooms_on_level.get(level, []) if not room.knows("outline")]


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
    """The room drawn on that side of the wall at that point, if there is one.

    Of a wall whose thickness is left out the nearest room within a foot of its centre line is the one beside it.
    """
    probes = (_PROBE,) if wall.knows("thickness") else _PROBES
    spots = (room_at(survey, wall.level, beside_wall(wall, at, side, off)) for off in probes)
    return next((room for room in spots if room is not None), None)


def room_at(survey: Survey, level: str, point: Point) -> Room | None:
    """The first room of the level whose outline holds the point. Rooms without an outline are not found by it."""
    near = survey.once(_room_grid, level).each_near((*point, *point))
    return next((room for room in near if geometry.contains(room.outline, point)), None)


def _room_grid(survey: Survey, level: str) -> geometry.Grid[Room]:
    """The rooms of a level by where they lie, in the plan's order at each place."""
    rooms = [room for room in survey.rooms_on_level.get(level, []) if room.knows("outline")]
    return geometry.Grid(((geometry.bounding_box(room.outline), room) for room in rooms), cell=_ROOM_CELL)


_ROOM_CELL = 120.0
"""Inches; about the size of a room."""
