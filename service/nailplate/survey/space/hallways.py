"""Hallways by their center line. Zones of one hall that no wall parts are one hallway; a doorway ends it (210.52(H))."""

from collections.abc import Iterator
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.calc.plan_shapes import CentreLine, centre_line
from nailplate.plan import Room
from nailplate.plan.words import Use
from nailplate.survey.index import Survey
from nailplate.survey.space.edge_walls import walls_on
from nailplate.survey.space.joined_walls import SNAP


@dataclass(frozen=True, slots=True)
class Hallway:
    """One hallway: its zones in the plan's order, and how long it is along its center line."""

    rooms: tuple[Room, ...]
    length: CentreLine


def hallway_of(survey: Survey, room: Room) -> Hallway:
    """The hallway that a room is, or is a zone of."""
    return survey.once(_hallways, room.level)[room.id]


def _hallways(survey: Survey, level: str) -> dict[str, Hallway]:
    halls = [each for each in survey.rooms_on_level.get(level, []) if Use.HALLWAY in each.uses and each.knows("outline")]
    grid = survey.once(halls_on, level)
    found: dict[str, Hallway] = {}
    for room in halls:
        if room.id not in found:
            zones = _joined(survey, room, grid)
            ordered = tuple(zones.values())
            found |= dict.fromkeys(zones, Hallway(ordered, _length(ordered)))
    return found


def halls_on(survey: Survey, level: str) -> geometry.Grid[Room]:
    """The zones of hallways on a level, by where they are."""
    halls = [each for each in survey.rooms_on_level.get(level, []) if Use.HALLWAY in each.uses and each.knows("outline")]
    return geometry.Grid((geometry.bounding_box(each.outline), each) for each in halls)


def _length(zones: tuple[Room, ...]) -> CentreLine:
    """Zones of one width that meet end to end, or at a bend, are together as long as their center lines."""
    each_of = [centre_line(zone.outline) for zone in zones]
    return CentreLine(sum(each.least for each in each_of), sum(each.most for each in each_of))


def _joined(survey: Survey, room: Room, grid: geometry.Grid[Room]) -> dict[str, Room]:
    zones, waiting = {room.id: room}, [room]
    while waiting:
        for other in _beside(survey, waiting.pop(), grid):
            if other.id not in zones:
                zones[other.id] = other
                waiting.append(other)
    return zones


def _beside(survey: Survey, room: Room, grid: geometry.Grid[Room]) -> Iterator[Room]:
    for other in grid.near(geometry.grown(geometry.bounding_box(room.outline), SNAP)):
        if other is not room and any(open_between(survey, room, side, other) for side in geometry.sides(room.outline)):
            yield other


def open_between(survey: Survey, room: Room, side: geometry.Segment, other: Room) -> bool:
    """Whether two zones share a stretch of border with no wall on it."""
    if geometry.length_of(side) <= geometry.DUST:
        return False
    shared = [lap for edge in geometry.sides(other.outline) if (lap := geometry.collinear_overlap(side, edge, SNAP))]
    if not shared:
        return False
    inside_left = geometry.signed_area(room.outline) >= 0
    edge = side if inside_left else (side[1], side[0])
    length = geometry.length_of(side)
    walled = [
        (on.start, on.end) if inside_left else (length - on.end, length - on.start) for on in walls_on(survey, room.level, edge)
    ]
    return any(end - start > 2 * SNAP for start, end in geometry.subtracted(shared, walled))
