"""Two rooms of a level do not lie over each other.

Why: what a room needs goes by what stands in it. Where two outlines cover one place, what is there is counted for one of them, and the
other is judged without it, or passed without what it lacks.

Fix: draw each outline along the finished inside faces of its own room; of an open plan each use has its own area, or one room names
several uses.

Trap: a room copied to draw the next one is still there, under the first. A closet is no part of the bedroom's outline.

Does not judge: Outdoor places, which may lie over each other, and stairways, which have rooms beneath them. Overlaps no wider than 6 in
are not told; outlines on different levels are never compared.
"""

from collections.abc import Iterator
from itertools import islice
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Room
from nailplate.plan.trade import OUTDOOR
from nailplate.plan.words import Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey import Survey
from nailplate.survey.names import name_of

DEEP: Final = 3.0
"""Inches inside both outlines from which on two rooms are said to overlap: finishes and rounding make less (common practice)."""
_SPOTS: Final = 12
"""Places looked at along and across what two rooms' bounding boxes share."""
_CELL: Final = 120.0
_MOST_TOLD: Final = 20
"""Rooms under one that are told; with so many drawn over each other no more of them help."""

_REMEDY: Final = Remedy("Draw each outline along the inside faces of its own room, or name both uses in one room.")


@rule(
    id="rooms-apart",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.WALL_RECEPTACLES,),
    cites={"nec-2017": Cite("210.52, 210.70", note="outlets count in the room they are in; from memory")},
    hazards=(Hazard.CORDS, Hazard.DARKNESS),
)
def rooms_apart(room: Room, job: Job) -> Outcome | list[Outcome]:
    """One finding for each room drawn before this one that lies over it."""
    if not _is_indoors(room) or not any(
        each is not room and _is_indoors(each) for each in job.survey.rooms_on_level[room.level]
    ):
        return NotConcerned()
    if not room.knows("outline"):
        return Undetermined((room.where("outline"),))
    over = (_over(room, other) for other in _before(room, job.survey) if _overlap(room, other, job.survey))
    return list(islice(over, _MOST_TOLD)) or Pass()


def _is_indoors(room: Room) -> bool:
    return not OUTDOOR.issuperset(room.uses) and Use.STAIRWAY not in room.uses


def _before(room: Room, survey: Survey) -> Iterator[Room]:
    """The rooms near it that come earlier in the document."""
    for other in survey.once(_indoor_rooms, room.level).each_near(geometry.bounding_box(room.outline)):
        if other is room:
            return
        yield other


def _indoor_rooms(survey: Survey, level: str) -> geometry.Grid[Room]:
    rooms = [each for each in survey.rooms_on_level.get(level, []) if each.knows("outline") and _is_indoors(each)]
    return geometry.Grid(((geometry.bounding_box(each.outline), each) for each in rooms), cell=_CELL)


def _overlap(room: Room, other: Room, survey: Survey) -> bool:
    """Whether some place lies well inside both outlines."""
    return survey.once(_has_depth, room.id) if room.outline == other.outline else _meet(room, other)


def _has_depth(survey: Survey, room_id: str) -> bool:
    room = survey.plan.rooms[room_id]
    return _meet(room, room)


def _meet(room: Room, other: Room) -> bool:
    (left, bottom, right, top), (x1, y1, x2, y2) = (geometry.bounding_box(each.outline) for each in (room, other))
    low, high = (max(left, x1) + DEEP, max(bottom, y1) + DEEP), (min(right, x2) - DEEP, min(top, y2) - DEEP)
    if low[0] >= high[0] or low[1] >= high[1]:
        return False
    steps = [number / (_SPOTS - 1) for number in range(_SPOTS)]
    spots = ((low[0] + (high[0] - low[0]) * x, low[1] + (high[1] - low[1]) * y) for x in steps for y in steps)
    return any(_is_deep(room, spot) and _is_deep(other, spot) for spot in spots)


def _is_deep(room: Room, spot: geometry.Point) -> bool:
    inside = geometry.contains(room.outline, spot)
    return inside and geometry.distance_to_outline(spot, room.outline, filled=False) >= DEEP - geometry.DUST


def _over(room: Room, other: Room) -> Violation:
    same = room.outline == other.outline or geometry.bounding_box(room.outline) == geometry.bounding_box(other.outline)
    how = "has the same outline as" if same else "is drawn over a part of"
    return Violation(
        f"{name_of(room)} {how} {name_of(other)} on level {room.level}; what stands there is counted in one of them alone.",
        remedies=(_REMEDY,),
        facet=other.id,
        related=(other.pointer,),
    )
