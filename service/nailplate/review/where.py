"""Where a finding is: the part, and as far as the drawing says it the room, level, wall and point, and the ends of a stretch."""

from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import (
    PART_KINDS,
    Appliance,
    Box,
    BoxEnd,
    Cable,
    Counter,
    Device,
    DeviceEnd,
    Facts,
    Fixture,
    Opening,
    Panel,
    PanelEnd,
    Part,
    Pointer,
    Room,
    Stair,
    UnknownFact,
    Wall,
)
from nailplate.review.report import Where
from nailplate.rulekit import Job, Judgement, Undetermined, Violation
from nailplate.survey import standing
from nailplate.survey.places import point_on_wall

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Place:
    room: str | None = None
    level: str | None = None
    point: Point | None = None
    wall: str | None = None


def where_of(job: Job, judged: Facts, outcome: Violation | Judgement | Undetermined) -> Where:
    """The place of an outcome about a part."""
    pointer = outcome.at or judged.pointer
    named = _part_at(job, pointer)  # none where a finding is about a whole map, whose name is not that of the part judged
    part = named or judged
    parts = [each for each in dict.fromkeys((part, judged)) if isinstance(each, Part)]
    stretch = None if isinstance(outcome, Undetermined) else outcome.stretch
    place = _place(job, part)
    return Where(
        pointer=pointer,
        ids=tuple(each.id for each in parts),
        label=named.label if named is not None and named.knows("label") else None,
        room=place.room,
        level=place.level,
        point=stretch[len(stretch) // 2] if stretch else place.point,
        wall=place.wall,
        ends=(stretch[0], stretch[-1]) if stretch else None,
        related=() if isinstance(outcome, Undetermined) else outcome.related,
    )


def _part_at(job: Job, pointer: Pointer) -> Part | None:
    members = pointer.members
    if len(members) < 2 or members[0] not in PART_KINDS:
        return None
    part: Part | None = getattr(job.plan, members[0]).get(members[1])
    return part


def _place(job: Job, part: Facts) -> _Place:
    try:
        return _drawn(job, part)
    except UnknownFact:  # unknown: a finding has as much of a place as is drawn
        return _in_room(job, part, None)


def _drawn(job: Job, part: Facts) -> _Place:
    """Raises UnknownFact where the drawing does not say so much."""
    match part:
        case Device() | Box() | Panel():
            found = standing(job.survey, part)
            room = found.drawn.id if found.drawn else None
            return _Place(room, found.level, found.point, found.wall.id if found.wall else None)
        case Cable():
            return _of_cable(job, part)
        case Wall():
            return _Place(None, part.level, _middle(part.start, part.end), part.id)
        case Opening():
            wall = job.plan.walls[part.wall]
            return _Place(None, wall.level, point_on_wall(wall, part.along + part.width / 2), wall.id)
        case Room():
            return _Place(part.id, part.level, _inside(part.outline) if part.knows("outline") else None)
        case Stair():
            return _Place(None, part.lower, geometry.centroid(part.outline))
        case Counter() | Fixture():
            return _in_room(job, part, _of_outline(part))
        case Appliance():
            if not part.knows("footprint") and part.knows("outlet"):
                return _drawn(job, job.plan.devices[part.outlet])
            return _in_room(job, part, geometry.centroid(part.footprint))
        case _:
            return _in_room(job, part, None)


def _of_outline(part: Counter | Fixture) -> Point:
    if isinstance(part, Counter) and not part.knows("outline"):
        return _middle(part.back[0], part.back[-1])
    return geometry.centroid(part.outline)


def _of_cable(job: Job, cable: Cable) -> _Place:
    """Where its first end stands, of those that are drawn; that a route runs elsewhere is for the message to say."""
    for end in cable.ends:
        try:
            match end:
                case BoxEnd():
                    return _drawn(job, job.plan.boxes[end.box])
                case PanelEnd():
                    return _drawn(job, job.plan.panels[end.panel])
                case DeviceEnd():
                    return _drawn(job, job.plan.devices[end.device])
        except UnknownFact:  # unknown: the next end may be drawn
            continue
    return _Place()


def _in_room(job: Job, part: Facts, point: Point | None) -> _Place:
    room = getattr(part, "room", None) if part.may_state("room") and part.knows("room") else None
    if isinstance(part, Room | Wall):
        return _Place(part.id if isinstance(part, Room) else None, part.level, point)
    return _Place(room, job.plan.rooms[room].level if room else None, point)


def _middle(one: Point, two: Point) -> Point:
    return (one[0] + two[0]) / 2, (one[1] + two[1]) / 2


def _inside(outline: tuple[Point, ...]) -> Point:
    """The centroid, unless a room's shape leaves it outside: then a corner."""
    middle = geometry.centroid(outline)
    return middle if geometry.contains(outline, middle) else outline[0]
