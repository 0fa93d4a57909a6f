"""Where receptacles could be added so that a wall space is covered: as few as will do, on wall that a box can be set in."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from nailplate.calc import geometry
from nailplate.calc.spacing import Coverage, coverage
from nailplate.codes.tables import RunLimits
from nailplate.plan import Wall
from nailplate.plan.words import ApplianceKind, Side
from nailplate.remedies.patches import MOST_PROPOSED
from nailplate.remedies.taken_spots import barred
from nailplate.survey.index import Survey
from nailplate.survey.places import point_on_wall, room_beside
from nailplate.survey.receptacles import Case, Judged, Patch, Spot, judged_in_room, overlap
from nailplate.survey.space import Stretch, Surface, WallSpace, touched
from nailplate.units import Inches, within

USUAL_HEIGHT = 16.0
"""Inches from the floor to the center of a wall receptacle (common practice)."""
ROOM_FOR_BOX = 3.0
"""Inches that a one-gang box's center keeps from a corner, an opening's edge or a sill (common practice)."""


@dataclass(frozen=True, slots=True)
class Added:
    """A place for a new receptacle on a wall."""

    wall: Wall
    side: Side
    along: float
    height: float


def additions(
    survey: Survey, room: str, level: str, tops_break: bool, limits: RunLimits, cases: Sequence[Case], region: Sequence[Patch]
) -> tuple[Added, ...]:
    """Places that clear what is short in ``region`` of a room's floor line, in every case; none if the walls have no room."""
    orders = (cases, cases[::-1]) if len(cases) > 1 else (cases,)
    ways = (_in_turn(survey, room, level, tops_break, limits, order, region) for order in orders)
    return min((way for way in ways if way), key=len, default=())


def _in_turn(
    survey: Survey, room: str, level: str, tops_break: bool, limits: RunLimits, cases: Sequence[Case], region: Sequence[Patch]
) -> tuple[Added, ...]:
    """Case after case, with what the ones before have added; fewer may do in another order."""
    spots: list[Spot] = []
    added: list[Added] = []
    for case in cases:
        for judged in survey.once(judged_in_room, level, tops_break, limits, case).get(room, ()):
            if not overlap(judged.short_in(room), region):
                continue
            found = _for_space(survey, judged, room, limits, spots)
            if found is None:
                return ()
            spots += [(stretch.room, stretch.edge, along) for stretch, along in found]
            added += [_added(stretch, along) for stretch, along in found]
    return tuple(added)


def fewest(survey: Survey, judged: Judged, limits: RunLimits, height: float) -> tuple[Added, ...]:
    """The fewest places at ``height`` that serve one run, beside the receptacles it has; none if it has no room for them."""
    found = _for_space(survey, judged, judged.space.stretches[0].room, limits, (), height)
    return tuple(_added(stretch, along, height) for stretch, along in found or ())


def _added(stretch: Stretch, along: float, height: float | None = None) -> Added:
    if stretch.wall is None or stretch.side is None:
        raise ValueError("a receptacle is added on a wall")
    place = stretch.along_wall(along)
    whole = round(place) if abs(place - round(place)) < _EXACT else place
    return Added(stretch.wall, stretch.side, whole, box_height(stretch.wall) if height is None else height)


_EXACT = 1e-6


def box_height(wall: Wall) -> float:
    """The usual height, or half of a wall that is too low for it."""
    if wall.knows("height") and wall.height < USUAL_HEIGHT + 2 * ROOM_FOR_BOX:
        return wall.height / 2
    return USUAL_HEIGHT


def _for_space(
    survey: Survey, judged: Judged, room: str, limits: RunLimits, spots: Iterable[Spot], height: float | None = None
) -> list[tuple[Stretch, float]] | None:
    """Places to add in one wall space beside those already added, or None if there is no way."""
    space = judged.space
    have = [*judged.places, *_on_space(space, spots)]
    found = _coverage(space, have, limits)
    short = _short_in(space, found, room)
    if not short:
        return []
    if sum(end - start for start, end in short) > MOST_PROPOSED * 2 * limits.reach:
        return None
    allowed = _allowed(survey, space, height)
    enough = _even(space, have, found.suggested, room, limits, allowed)
    if enough is None:
        enough = _swept(space, have, room, limits, allowed)
    if enough is None:
        return None
    # Where the room has all of the run, none of the fewest that cover it can be spared.
    is_least = len(enough) <= len(found.suggested) and all(each.room == room for each in space.stretches)
    fewest = enough if is_least else _pruned(space, have, enough, room, limits)
    places = [space.place(each) for each in _rounded(space, have, fewest, room, limits, allowed)]
    return places if all(stands_there(survey, *each) for each in places) else None


def stands_there(survey: Survey, stretch: Stretch, along: float) -> bool:
    """Whether what is set there stands in the room whose run it is; of two rooms drawn over each other it stands in the first."""
    if stretch.wall is None or stretch.side is None:
        return False
    stands = room_beside(survey, stretch.wall, point_on_wall(stretch.wall, stretch.along_wall(along)), stretch.side)
    return stands is not None and stands.id == stretch.room


def _even(
    space: WallSpace,
    have: list[float],
    even: Sequence[float],
    room: str,
    limits: RunLimits,
    allowed: Sequence[geometry.Interval],
) -> list[float] | None:
    """Evenly spread places, each moved to the nearest that a box can be set at, if they still cover the run."""
    # Around a ring with no receptacle yet the whole set can be turned until none falls in a corner.
    turns = range(0, int(limits.reach), int(2 * ROOM_FOR_BOX)) if space.closed and not have else (0,)
    for turn in turns:
        turned = ((each + turn) % space.length if turn else each for each in even)
        snapped = [place for each in turned if (place := _snapped(each, allowed)) is not None]
        if not _short(space, [*have, *snapped], room, limits):
            return snapped
    return None


def _on_space(space: WallSpace, spots: Iterable[Spot]) -> list[float]:
    on = []
    for room, edge, along in spots:
        for stretch, at in zip(space.stretches, space.starts, strict=True):
            if (stretch.room, stretch.edge) == (room, edge) and stretch.start <= along <= stretch.end:
                on.append(at + along - stretch.start)
                break
    return on


def _short(space: WallSpace, places: Iterable[float], room: str, limits: RunLimits) -> list[geometry.Interval]:
    """The stretches of the run in the room that are out of reach of all of ``places``."""
    return _short_in(space, _coverage(space, places, limits), room)


def _coverage(space: WallSpace, places: Iterable[float], limits: RunLimits) -> Coverage:
    return coverage(Inches(space.length), [Inches(each) for each in places], limits, closed=space.closed)


def _short_in(space: WallSpace, found: Coverage, room: str) -> list[geometry.Interval]:
    gaps = [(float(gap.start), float(gap.end)) for gap in found.gaps]
    in_room = [
        (at, at + stretch.length) for stretch, at in zip(space.stretches, space.starts, strict=True) if stretch.room == room
    ]
    return list(geometry.intersected(gaps, in_room))


def _allowed(survey: Survey, space: WallSpace, height: float | None) -> list[geometry.Interval]:
    """Where along the run a box can be set, in order."""
    return [
        (at + start - stretch.start, at + end - stretch.start)
        for stretch, at in zip(space.stretches, space.starts, strict=True)
        if stretch.clear and stretch.wall is not None and stretch.surface is Surface.WALL
        for start, end in room_for_boxes(survey, stretch, box_height(stretch.wall) if height is None else height)
    ]


def room_for_boxes(survey: Survey, stretch: Stretch, height: float) -> tuple[geometry.Interval, ...]:
    """The parts of a stretch of wall where no corner, opening, other box or panel is in the way of a box at ``height``."""
    if stretch.wall is None:
        return ()
    length = geometry.length_of(stretch.segment)
    taken = [(-ROOM_FOR_BOX, ROOM_FOR_BOX), (length - ROOM_FOR_BOX, length + ROOM_FOR_BOX)]
    line = (stretch.wall.start, stretch.wall.end)
    first, last = sorted(stretch.along_wall(along) for along in (stretch.start, stretch.end))
    for start, end in _in_the_way(survey, stretch.wall.id, stretch.side, height):
        if start <= last + _BEYOND and end >= first - _BEYOND:
            taken.append(_on_edge(line, stretch, (start, end)))
    taken += [place for each in survey.once(_ranges) if (place := touched(stretch.segment, each))]
    return geometry.subtracted([(stretch.start, stretch.end)], taken)


def _ranges(survey: Survey) -> tuple[geometry.Outline, ...]:
    """Where ranges stand: nobody plugs a lamp in behind one, and its drawers take up the wall."""
    every = survey.plan.appliances.values()
    return tuple(each.footprint for each in every if each.kind is ApplianceKind.RANGE and each.knows("footprint"))


_BEYOND: Final = 24.0
"""Inches past the ends of a stretch from which on what stands in its wall is in nobody's way there."""


def _in_the_way(survey: Survey, wall: str, side: Side | None, height: float) -> list[geometry.Interval]:
    """Where along a wall no box can be set at a height: openings that reach so low, and what is there already."""
    kept = survey.shelf(_in_the_way)
    key = (wall, side, height)
    if key not in kept:
        kept[key] = [
            *(
                (opening.along - ROOM_FOR_BOX, opening.along + opening.width + ROOM_FOR_BOX)
                for opening in survey.openings_in_wall.get(wall, [])
                if not (opening.knows("sill") and within(height + ROOM_FOR_BOX, opening.sill))
            ),
            *barred(survey, wall, side, height),
        ]
    return kept[key]


def _on_edge(line: geometry.Segment, stretch: Stretch, ends: geometry.Interval) -> geometry.Interval:
    """A stretch of a wall's own line as a stretch of the edge of the room that it is on."""
    one, two = sorted(geometry.project(geometry.point_along(line, end), stretch.segment).along for end in ends)
    return one, two


def _snapped(place: float, allowed: Sequence[geometry.Interval]) -> float | None:
    near = [min(max(place, start), end) for start, end in allowed]
    return min(near, key=lambda each: abs(each - place), default=None)


def _swept(
    space: WallSpace, have: list[float], room: str, limits: RunLimits, allowed: Sequence[geometry.Interval]
) -> list[float] | None:
    """Each as far on as still reaches the first place that is out of reach; on a run with ends no set of fewer covers it."""
    added: list[float] = []
    while short := _short(space, [*have, *added], room, limits):
        first = short[0][0]
        reachable = geometry.clipped(allowed, first - limits.reach, first + limits.reach)
        if not reachable or any(abs(reachable[-1][1] - each) < geometry.DUST for each in added):
            return None
        added.append(reachable[-1][1])
    return added


def _pruned(space: WallSpace, have: list[float], added: list[float], room: str, limits: RunLimits) -> list[float]:
    kept = list(added)
    for each in added:
        others = [other for other in kept if other != each]
        if not _short(space, [*have, *others], room, limits):
            kept = others
    return kept


def _rounded(
    space: WallSpace, have: list[float], added: list[float], room: str, limits: RunLimits, allowed: Sequence[geometry.Interval]
) -> list[float]:
    """The same places on whole inches of their walls, where that still covers the run."""
    whole = [_to_whole(space, each, allowed) for each in added]
    return added if _short(space, [*have, *whole], room, limits) else whole


def _to_whole(space: WallSpace, place: float, allowed: Sequence[geometry.Interval]) -> float:
    stretch, along = space.place(place)
    at = stretch.along_wall(along)
    forward = stretch.side is Side.LEFT
    moved = place + (round(at) - at if forward else at - round(at))
    return moved if any(start <= moved <= end for start, end in allowed) else place
