"""Where one comes into a room: its doorways, the open edges of an open plan, and the stairs and ladders that lead to it."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Opening, Pointer, Room, Stair, Wall
from nailplate.plan.trade import DOORWAYS
from nailplate.plan.words import OpeningKind, Side
from nailplate.survey.index import Survey
from nailplate.survey.names import name_of
from nailplate.survey.places import beside_wall, point_on_wall, room_at, room_beside
from nailplate.survey.space.edge_walls import walls_on
from nailplate.survey.space.floor_line import BRIDGED
from nailplate.survey.space.joined_walls import SNAP, THICKEST

_RoomSides = geometry.Grid[tuple[Room, geometry.Segment]]


@dataclass(frozen=True, slots=True)
class Entrance:
    """One way into a room, as a line in the plane of a level; ``beyond`` is the room that one comes from, if one is drawn."""

    name: str
    level: str
    line: geometry.Segment
    beyond: Room | None
    part: Pointer | None = None
    is_open: bool = False
    is_vehicle_door: bool = False

    def away(self, level: str, point: geometry.Point) -> float | None:
        """How far a point is from it; None on another level."""
        return geometry.distance_to_segment(point, self.line) if level == self.level else None


def entrances(survey: Survey, room_id: str) -> tuple[Entrance, ...]:
    """Every drawn way into a room."""
    found = (
        *survey.once(_doorways).get(room_id, ()),
        *survey.once(_open_edges, room_id),
        *survey.once(_climbs).get(room_id, ()),
    )
    return tuple(found)


def rooms_beside(survey: Survey, opening: Opening) -> tuple[Room | None, Room | None]:
    """The rooms on the left and the right of an opening's wall. A stated ``leads_to`` fills the side where none is drawn."""
    return survey.once(_beside, opening.id)


def opening_line(survey: Survey, opening: Opening) -> geometry.Segment:
    """An opening in the plane of its level, along its wall's center line."""
    wall = survey.plan.walls[opening.wall]
    return (point_on_wall(wall, opening.along), point_on_wall(wall, opening.along + opening.width))


def _beside(survey: Survey, opening_id: str) -> tuple[Room | None, Room | None]:
    opening = survey.plan.openings[opening_id]
    wall = survey.plan.walls[opening.wall]
    middle = point_on_wall(wall, opening.along + opening.width / 2)
    left, right = (_room_on(survey, wall, middle, side) for side in (Side.LEFT, Side.RIGHT))
    if opening.knows("leads_to"):
        there = survey.plan.rooms[opening.leads_to]
        if left is None and there is not right:
            left = there
        elif right is None and there is not left:
            right = there
    return left, right


def _room_on(survey: Survey, wall: Wall, at: geometry.Point, side: Side) -> Room | None:
    """The room on a side of a wall; one whose thickness is not said is looked for across the thickest."""
    if wall.knows("thickness"):
        return room_beside(survey, wall, at, side)
    return room_beside(survey, wall, at, side) or room_at(survey, wall.level, beside_wall(wall, at, side, THICKEST))


def _doorways(survey: Survey) -> dict[str, list[Entrance]]:
    found: dict[str, list[Entrance]] = {}
    for opening in survey.plan.openings.values():
        if opening.kind in DOORWAYS:
            line, rooms = opening_line(survey, opening), rooms_beside(survey, opening)
            for room, beyond in (rooms, rooms[::-1]):
                if room is not None:
                    found.setdefault(room.id, []).append(_doorway(survey, opening, line, beyond))
    return found


def _doorway(survey: Survey, opening: Opening, line: geometry.Segment, beyond: Room | None) -> Entrance:
    return Entrance(
        name=name_of(opening),
        level=survey.plan.walls[opening.wall].level,
        line=line,
        beyond=beyond,
        part=opening.pointer,
        is_open=opening.kind is OpeningKind.CASED,
        is_vehicle_door=opening.kind is OpeningKind.VEHICLE_DOOR,
    )


def _open_edges(survey: Survey, room_id: str) -> tuple[Entrance, ...]:
    """The edges that a room shares with another and that have no wall on them.

    Of rooms drawn over each other (`rooms-apart`) those that fill an edge ``_MOST_OVER`` times are told.
    """
    room = survey.plan.rooms[room_id]
    return tuple(_without_walls(survey, room)) if room.knows("outline") else ()


_MOST_OVER: Final = 4
"""Rooms over each other along one edge that are told as open to it; where that many are, the drawing is wrong, and no more help."""


def _without_walls(survey: Survey, room: Room) -> Iterator[Entrance]:
    grid = survey.once(_room_sides, room.level)
    for edge in geometry.sides(geometry.counter_clockwise(room.outline)):
        length = geometry.length_of(edge)
        walls = [(each.start, each.end) for each in walls_on(survey, room.level, edge)]
        if all(end - start <= BRIDGED for start, end in geometry.subtracted([(0.0, length)], walls)):
            continue
        for other, shared in _shared(grid, room, edge, _MOST_OVER * length):
            for start, end in geometry.subtracted([shared], walls):
                if end - start > BRIDGED:
                    line = (geometry.point_along(edge, start), geometry.point_along(edge, end))
                    yield Entrance(f"the open side toward {name_of(other)}", room.level, line, other, is_open=True)


def _shared(grid: _RoomSides, room: Room, edge: geometry.Segment, most: float) -> Iterator[tuple[Room, geometry.Interval]]:
    """The stretches of an edge that sides of other rooms lie on, until they come to ``most`` inches in all."""
    for other, side in grid.each_near(geometry.grown(geometry.bounding_box(edge), SNAP)):
        if other is not room and (shared := geometry.collinear_overlap(edge, side, SNAP)):
            yield other, shared
            most -= shared[1] - shared[0]
            if most <= 0:
                return


def _room_sides(survey: Survey, level: str) -> _RoomSides:
    rooms = [room for room in survey.rooms_on_level.get(level, []) if room.knows("outline")]
    return geometry.Grid((geometry.bounding_box(side), (room, side)) for room in rooms for side in geometry.sides(room.outline))


# Stairs and ladders


def _climbs(survey: Survey) -> dict[str, list[Entrance]]:
    """Room id to the stairs that lead up or down into it; the foot of a stair is a way into the room at its head too."""
    found: dict[str, list[Entrance]] = {}
    for stair in survey.plan.stairs.values():
        foot, head = _foot(stair), _head(stair)
        for room in _rooms_at(survey, stair, stair.upper, head):
            found.setdefault(room.id, []).extend(_ways(stair, [*head, *foot]))
        for room in _rooms_at(survey, stair, stair.lower, foot):
            found.setdefault(room.id, []).extend(_ways(stair, foot))
    return found


_Spot = tuple[str, geometry.Segment]


def _foot(stair: Stair) -> list[_Spot]:
    stated = _stated(stair, stair.lower)
    return stated or ([(stair.lower, side) for side in geometry.sides(stair.outline)] if stair.knows("outline") else [])


def _head(stair: Stair) -> list[_Spot]:
    stated = _stated(stair, stair.upper)
    return stated or ([(stair.upper, side) for side in geometry.sides(stair.opening)] if stair.knows("opening") else [])


def _stated(stair: Stair, level: str) -> list[_Spot]:
    entries = stair.entries if stair.knows("entries") else ()
    at_level = (each for each in entries if each.knows("level", "point") and each.level == level)
    return [(level, (each.point, each.point)) for each in at_level]


def _rooms_at(survey: Survey, stair: Stair, level: str, spots: list[_Spot]) -> list[Room]:
    entries = stair.entries if stair.knows("entries") else ()
    named = [
        survey.plan.rooms[each.room] for each in entries if each.knows("room") and survey.plan.rooms[each.room].level == level
    ]
    found = named or [room for at, line in spots if (room := room_at(survey, at, line[0])) is not None]
    return list(dict.fromkeys(found))


def _ways(stair: Stair, spots: list[_Spot]) -> Iterator[Entrance]:
    for level, line in spots:
        yield Entrance(name_of(stair), level, line, None, stair.pointer)
