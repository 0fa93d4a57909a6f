"""The vehicle bays of a garage: the strips inward of its vehicle doors, and which of them a place on its walls belongs to.

A plan says how many vehicles a garage holds, not where they stand. The bays lie side by side behind the vehicle doors, as many
behind each door as its share of their whole width comes to.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

from nailplate.calc import geometry
from nailplate.plan import Opening, Room, UnknownFact
from nailplate.plan.words import OpeningKind, Side
from nailplate.survey.index import Survey
from nailplate.survey.places import point_on_wall, room_beside

SHARED = 12.0
"""Inches either side of the line between two bays within which a receptacle may be taken for either (our own measure)."""
_MOST_PERMUTED = 6


@dataclass(frozen=True, slots=True)
class Bay:
    """A vehicle bay by the line that runs from the middle of its door into the garage."""

    number: int
    line: geometry.Segment


def bays(survey: Survey, room: Room) -> tuple[Bay, ...]:
    """The bays of a garage, in the order in which its doors are drawn. Raises UnknownFact where no vehicle door is."""
    wanted = room.vehicle_bays
    doors = survey.once(_vehicle_doors).get(room.id, [])
    if not doors:
        raise UnknownFact(survey.plan.where("openings"))
    lines = [
        line for door, count in zip(doors, _shares(doors, wanted), strict=True) for line in _lines(survey, room, door, count)
    ]
    return tuple(Bay(number + 1, line) for number, line in enumerate(lines))


def empty_bays(found: Sequence[Bay], points: Sequence[geometry.Point]) -> tuple[Bay, ...]:
    """The bays that none of the places is in; one on the line between two counts for either, but not for both."""
    homes = [_homes(found, point) for point in points]
    sure = {home[0].number for home in homes if len(home) == 1}
    left = [bay for bay in found if bay.number not in sure]
    shared = [tuple(bay.number for bay in home) for home in homes if len(home) > 1][:_MOST_PERMUTED]
    return min((_left_over(left, order) for order in permutations(shared)), key=len)


def is_in(found: Sequence[Bay], bay: Bay, point: geometry.Point) -> bool:
    """Whether a place is in this bay and surely in no other."""
    return _homes(found, point) == (bay,)


def _left_over(left: Sequence[Bay], shared: Sequence[tuple[int, ...]]) -> tuple[Bay, ...]:
    open_bays = list(left)
    for numbers in shared:
        taken = next((bay for bay in open_bays if bay.number in numbers), None)
        if taken is not None:
            open_bays.remove(taken)
    return tuple(open_bays)


def _homes(found: Sequence[Bay], point: geometry.Point) -> tuple[Bay, ...]:
    off = [abs(geometry.project(point, bay.line).offset) for bay in found]
    least, slack = min(off), 2 * SHARED + geometry.DUST
    return tuple(bay for distance, bay in zip(off, found, strict=True) if distance - least <= slack)


def _shares(doors: Sequence[Opening], wanted: int) -> list[int]:
    """How many bays are behind each door: at least one, the rest to the widest for each."""
    counts = [1 for _ in doors]
    while sum(counts) < wanted:
        widest = max(range(len(doors)), key=lambda index: doors[index].width / (counts[index] + 1))
        counts[widest] += 1
    return counts


def _lines(survey: Survey, room: Room, door: Opening, count: int) -> list[geometry.Segment]:
    wall = survey.plan.walls[door.wall]
    nx, ny = geometry.left_normal((wall.start, wall.end))
    into = 1.0 if room_beside(survey, wall, point_on_wall(wall, door.along + door.width / 2), Side.LEFT) is room else -1.0
    middles = [point_on_wall(wall, door.along + door.width * (index + 0.5) / count) for index in range(count)]
    return [((x, y), (x + nx * into, y + ny * into)) for x, y in middles]


def _vehicle_doors(survey: Survey) -> dict[str, list[Opening]]:
    """Room id to the vehicle doors in its walls."""
    found: dict[str, list[Opening]] = {}
    for opening in survey.plan.openings.values():
        if opening.kind is OpeningKind.VEHICLE_DOOR:
            wall = survey.plan.walls[opening.wall]
            at = point_on_wall(wall, opening.along + opening.width / 2)
            for side in Side:
                room = room_beside(survey, wall, at, side)
                if room is not None:
                    found.setdefault(room.id, []).append(opening)
    return found
