"""Fixed room dividers that stand free of the floor line: half walls, railings, bar counters, the far sides of peninsulas.

Each face of a solid divider is a floor line; an open railing is one line that is used from both sides (210.52(A)(2)(3)). Where a
divider is joined to a wall, what serves that wall near the joint serves the divider too.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.calc.plan_shapes import extent
from nailplate.codes.tables import RunLimits
from nailplate.plan import Counter, Pointer, Room, Wall
from nailplate.plan.words import CounterKind, Mount, Side, Use, WallKind
from nailplate.survey.index import Survey
from nailplate.survey.places import room_at, standing
from nailplate.survey.receptacles.room_receptacles import InRoom, receptacles_in
from nailplate.survey.receptacles.shortages import Case, Judged, judged_in_room, needs_of
from nailplate.survey.space import SNAP, TOUCH, Reading, Stretch, WallSpace, faces_left, floor_lines, half_thickness
from nailplate.units import reaches

BEYOND = 6.0
"""Inches in front of a face at which the room there is looked for."""
WORKING = frozenset({Use.KITCHEN, Use.PANTRY})
"""Rooms whose side of a divider is a working side, which 210.52(C) treats."""


@dataclass(frozen=True, slots=True)
class Face:
    """One face of a divider: a line with the room to its left; ``both_sides`` where it is used from both."""

    part: Wall | Counter
    room: Room
    line: geometry.Segment
    side: Side | None
    both_sides: bool = False

    @property
    def length(self) -> float:
        """How long it is."""
        return geometry.length_of(self.line)


@dataclass(frozen=True, slots=True)
class JudgedFace:
    """A face with what serves it; ``gaps``: out of reach of all that surely serves it, ``at_best`` of all that may."""

    face: Face
    places: tuple[float, ...]
    gaps: tuple[geometry.Interval, ...]
    at_best: tuple[geometry.Interval, ...]
    needs: tuple[Pointer, ...]


def free_walls(survey: Survey, room: Room, tops_break: bool) -> Iterator[Face]:
    """The faces of half walls and railings that stand inside a room's outline."""
    for wall in survey.once(_free_standing, room.level, tops_break).get(room.id, ()):
        line = _inside(room, (wall.start, wall.end))
        if wall.kind is WallKind.RAILING:
            yield Face(wall, room, line, None, both_sides=True)
            continue
        half = half_thickness(wall) if wall.knows("thickness") else 0.0
        (start, end), (other_start, other_end) = geometry.offset_segment(line, half), geometry.offset_segment(line, -half)
        yield Face(wall, room, (start, end), Side.LEFT)
        yield Face(wall, room, (other_end, other_start), Side.RIGHT)


def _inside(room: Room, line: geometry.Segment) -> geometry.Segment:
    """A wall's line from face to face of the walls that it is joined to, though it is drawn to their center lines."""
    start, end = line
    for side in geometry.sides(room.outline):
        place = geometry.meeting_place(line, side)
        if place is not None and not geometry.contains(room.outline, start):
            start = place
        elif place is not None and not geometry.contains(room.outline, end):
            end = place
    return (start, end)


def _free_standing(survey: Survey, level: str, tops_break: bool) -> dict[str, list[Wall]]:
    drawn = {stretch.wall.id for line in survey.once(floor_lines, level, tops_break) for stretch in line if stretch.wall}
    found: dict[str, list[Wall]] = {}
    for wall in survey.walls_on_level.get(level, []):
        if wall.id in drawn or wall.kind not in (WallKind.HALF, WallKind.RAILING):
            continue
        room = room_at(survey, level, ((wall.start[0] + wall.end[0]) / 2, (wall.start[1] + wall.end[1]) / 2))
        if room is not None:
            found.setdefault(room.id, []).append(wall)
    return found


def counter_faces(survey: Survey, counter: Counter) -> Iterator[Face]:
    """The long sides of a bar counter, island or peninsula that are turned to a room which is no kitchen.

    Raises UnknownFact where its outline is not drawn. Of an island or peninsula only what is turned to another zone is meant.
    """
    own = survey.plan.rooms[counter.room]
    size = extent(counter.outline)
    for off in (size.short / 2, -size.short / 2):
        start, end = geometry.offset_segment(size.axis, off)
        line = (start, end) if off > 0 else (end, start)
        beyond = geometry.point_along(geometry.offset_segment(line, BEYOND), size.long / 2)
        room = room_at(survey, own.level, beyond)
        if room is None or WORKING.issuperset(room.uses) or _is_front(counter, own, line):
            continue
        if counter.kind is CounterKind.DIVIDER or room is not own:
            yield Face(counter, room, line, None)


def _is_front(counter: Counter, room: Room, line: geometry.Segment) -> bool:
    """Whether a face is the side that one works from, where the plan says which that is."""
    if not counter.knows("back") or counter.kind is CounterKind.PENINSULA:
        return False
    left = faces_left((counter.back[0], counter.back[-1]), counter, room)
    (ax, ay), (bx, by) = geometry.left_normal((counter.back[0], counter.back[-1])), geometry.left_normal(line)
    return (ax * bx + ay * by > 0) is left


# What serves a face


def judged_face(survey: Survey, face: Face, limits: RunLimits, tops_break: bool) -> JudgedFace | None:
    """A face judged; None where it is too short to be wall space, with the wall it is joined to."""
    joined = [*_joined_ends(survey, face, limits, tops_break, _SURE)]
    if not reaches(face.length + sum(each.more for each in joined), limits.minimum):
        return None
    on_face = [*_on_face(survey, face)]
    served = [reached for each in joined for reached in _from_joint(face, each, limits.reach)]
    sure = [*served, *((along - limits.reach, along + limits.reach) for along, needs in on_face if not needs)]
    at_best = [*_joined_ends(survey, face, limits, tops_break, _AT_BEST)]
    may_serve = [reached for each in at_best for reached in _from_joint(face, each, limits.reach)]
    every = [*may_serve, *((along - limits.reach, along + limits.reach) for along, _ in on_face)]
    whole = [(0.0, face.length)]
    needs = (
        *(need for _, missing in on_face for need in missing),
        *receptacles_in(survey, face.room).unplaced,
        *_joint_needs(survey, face, tops_break, joined, at_best),
    )
    places = tuple(sorted(along for along, missing in on_face if not missing))
    return JudgedFace(
        face, places, geometry.subtracted(whole, sure), geometry.subtracted(whole, every), tuple(dict.fromkeys(needs))
    )


def _on_face(survey: Survey, face: Face) -> Iterator[tuple[float, tuple[Pointer, ...]]]:
    """How far along a face the receptacles of its room are that are on it or, in the floor, within 18 in of it."""
    for each in receptacles_in(survey, face.room).found:
        seen = geometry.project(each.point, face.line)
        if -TOUCH <= seen.along <= face.length + TOUCH and _belongs(survey, face, each, seen.offset):
            yield min(max(seen.along, 0.0), face.length), each.needs


def _belongs(survey: Survey, face: Face, each: InRoom, offset: float) -> bool:
    in_floor = each.device.knows("mount") and each.device.mount is Mount.FLOOR
    off = abs(offset) if face.both_sides else offset
    if in_floor:
        return -TOUCH <= off <= survey.inches("floor_receptacle_to_wall") + geometry.DUST
    where = standing(survey, each.device)
    if isinstance(face.part, Wall):
        return where.wall is face.part and (face.side is None or where.side is face.side)
    low = where.place.knows("height") and face.part.knows("height") and where.height < face.part.height
    return abs(offset) <= TOUCH and low


@dataclass(frozen=True, slots=True)
class _Joint:
    """Where a face meets a wall space of its room.

    ``more``: how far that runs on, on the face's side of the joint; ``away``: how far off the nearest receptacle there is.
    """

    at_start: bool
    more: float
    away: float | None
    space: WallSpace


def _joint_needs(survey: Survey, face: Face, tops_break: bool, sure: list[_Joint], at_best: list[_Joint]) -> Iterator[Pointer]:
    """What is left out of receptacles beside a joint that would serve the face if they count."""
    for one, other in zip(sure, at_best, strict=True):
        if one.away != other.away:
            yield from needs_of(survey, face.room.level, tops_break, [other.space], face.room.id)


def _joined_ends(survey: Survey, face: Face, limits: RunLimits, tops_break: bool, case: Case) -> Iterator[_Joint]:
    for at_start, end in ((True, face.line[0]), (False, face.line[1])):
        for judged in survey.once(judged_in_room, face.room.level, tops_break, limits, case).get(face.room.id, ()):
            for stretch, start in zip(judged.space.stretches, judged.space.starts, strict=True):
                if stretch.room == face.room.id and _touches(stretch, end, face):
                    yield _joint(face, at_start, judged, stretch, start)
                    break


_SURE, _AT_BEST = (Case(Reading(), all_count=every) for every in (False, True))


def _touches(stretch: Stretch, end: geometry.Point, face: Face) -> bool:
    reach = SNAP + (half_thickness(face.part) if isinstance(face.part, Wall) else TOUCH)
    seen = geometry.project(end, stretch.segment)
    return abs(seen.offset) <= reach and stretch.start <= seen.along <= stretch.end


def _joint(face: Face, at_start: bool, judged: Judged, stretch: Stretch, start: float) -> _Joint:
    """The way along the wall space from the joint, on the side that the face is turned to."""
    along = geometry.project(face.line[0] if at_start else face.line[1], stretch.segment).along
    onward = geometry.project(geometry.point_along(stretch.segment, along + 1.0), face.line).offset > 0
    at, length = start + along - stretch.start, judged.space.length
    ways = [place - at if onward else at - place for place in judged.places]
    if judged.space.closed:
        ways = [way % length for way in ways]
    away = min((way for way in ways if way >= 0), default=None)
    return _Joint(at_start, length - at if onward else at, away, judged.space)


def _from_joint(face: Face, joint: _Joint, reach: float) -> Iterable[geometry.Interval]:
    if joint.away is None or joint.away >= reach:
        return ()
    left = reach - joint.away
    return ((0.0, left),) if joint.at_start else ((face.length - left, face.length),)
