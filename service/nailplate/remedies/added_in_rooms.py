"""Where a receptacle could be added on a wall of a room: near something, clear of openings and of what is on the wall."""

from collections.abc import Callable, Iterator

from nailplate.calc import geometry
from nailplate.plan import Room, UnknownFact
from nailplate.plan.trade import NO_WALL_BOX
from nailplate.remedies.added_receptacles import Added, room_for_boxes, stands_there
from nailplate.remedies.taken_spots import barred
from nailplate.survey.index import Survey
from nailplate.survey.space import Stretch, Surface, floor_line

_TOPS_BREAK = False  # no matter here: only what a box can be set in is looked for


def place_in_room(
    survey: Survey, room: Room, height: float, fits: Callable[[geometry.Point], bool], near: geometry.Point | None = None
) -> Added | None:
    """The place on a wall of the room that is nearest to ``near`` (to the room's middle if None) among those that fit."""
    try:
        line = survey.once(floor_line, room.id, _TOPS_BREAK)
        middle = near if near is not None else geometry.centroid(room.outline)
    except UnknownFact:  # unknown: the remedy stands in words alone
        return None
    found = [
        (geometry.distance(point, middle), place)
        for stretch in line
        for point, place in _spots(survey, stretch, height, middle)
        if fits(point)
    ]
    return min(found, key=lambda each: each[0])[1] if found else None


def _spots(survey: Survey, stretch: Stretch, height: float, near: geometry.Point) -> Iterator[tuple[geometry.Point, Added]]:
    wall, side = stretch.wall, stretch.side
    if wall is None or side is None or stretch.surface is Surface.OPEN or wall.kind in NO_WALL_BOX:
        return
    wanted = geometry.project(near, stretch.segment).along
    taken = [_along_edge(stretch, each) for each in barred(survey, wall.id, side, height)]
    for start, end in geometry.subtracted(room_for_boxes(survey, stretch, height), taken):
        for along in (min(max(wanted, start), end), (start + end) / 2):
            if stands_there(survey, stretch, along):
                yield geometry.point_along(stretch.segment, along), Added(wall, side, stretch.along_wall(along), height)


def _along_edge(stretch: Stretch, on_wall: geometry.Interval) -> geometry.Interval:
    if stretch.wall is None:
        return on_wall
    line = (stretch.wall.start, stretch.wall.end)
    one, two = (geometry.project(geometry.point_along(line, along), stretch.segment).along for along in on_wall)
    return (min(one, two), max(one, two))
