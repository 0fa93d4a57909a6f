"""Where a receptacle could be added outdoors: on the weather side of the house, clear of openings and of what hangs there."""

from collections.abc import Callable, Iterable, Iterator
from functools import partial

from nailplate.calc import geometry
from nailplate.plan import Level, Room, UnknownFact, Wall
from nailplate.plan.trade import RAISED_OUTDOOR
from nailplate.plan.words import Face, LevelKind, Side
from nailplate.remedies.added_receptacles import ROOM_FOR_BOX, Added
from nailplate.remedies.taken_spots import barred
from nailplate.survey.index import Survey
from nailplate.survey.outdoors import is_outdoor, off_wall, outdoor_place_at, outer_walls, walls_of_face
from nailplate.survey.places import beside_wall, point_on_wall, room_beside
from nailplate.units import within

USUAL_HEIGHT = 24.0
"""Inches above grade of a receptacle that is proposed outdoors (common practice)."""
_STEP = 24.0


def place_on_face(survey: Survey, face: Face) -> Added | None:
    """A place for a receptacle on that face, at grade and clear of openings and of what is on the wall, if there is one."""
    return _first(survey, walls_of_face(survey, face), partial(_is_at_grade, survey))


def place_at(survey: Survey, outdoors: Room, footprint: geometry.Outline | None = None, reach: float = 0.0) -> Added | None:
    """A place on a wall of the house that an outdoor place lies at, within ``reach`` of a footprint there, if there is one."""
    around = geometry.grown(geometry.bounding_box(outdoors.outline), _NEAR_HOUSE)
    walls = survey.once(_outer_walls_by_place).near(around)
    return _first(survey, walls, partial(_is_there, survey, outdoors, footprint, reach))


_Fits = Callable[[Wall, geometry.Point], bool]
_NEAR_HOUSE = 12.0


def _first(survey: Survey, walls: Iterable[Wall], fits: _Fits) -> Added | None:
    for wall in walls:
        side = _outer_side(survey, wall)
        for along in _free_places(survey, wall, side) if side else ():
            if side and fits(wall, off_wall(wall, beside_wall(wall, point_on_wall(wall, along), side, 0.0), side)):
                return Added(wall, side, along, USUAL_HEIGHT)
    return None


def _outer_walls_by_place(survey: Survey) -> geometry.Grid[Wall]:
    return geometry.Grid(
        ((geometry.bounding_box((wall.start, wall.end)), wall) for wall in survey.once(outer_walls)), 10 * _STEP
    )


def _outer_side(survey: Survey, wall: Wall) -> Side | None:
    """The side away from the rooms; asked at three places, since an inner wall may end at one of them."""
    length = geometry.length_of((wall.start, wall.end))
    for part in (0.5, 0.3, 0.7):
        at = point_on_wall(wall, length * part)
        inside = [side for side in Side if (room := room_beside(survey, wall, at, side)) and not is_outdoor(room)]
        if len(inside) == 1:
            return Side.RIGHT if inside[0] is Side.LEFT else Side.LEFT
    return None


def _free_places(survey: Survey, wall: Wall, side: Side) -> Iterator[float]:
    """Whole inches along the wall where a box has room, from the middle of the longest free stretch on."""
    length = geometry.length_of((wall.start, wall.end))
    taken = [
        (opening.along - ROOM_FOR_BOX, opening.along + opening.width + ROOM_FOR_BOX)
        for opening in survey.openings_in_wall.get(wall.id, [])
    ]
    taken += barred(survey, wall.id, side, USUAL_HEIGHT)
    free = geometry.subtracted([(_STEP / 2, length - _STEP / 2)], taken)
    for start, end in sorted(free, key=lambda each: each[0] - each[1]):
        yield float(round((start + end) / 2))
        yield from (start + step * _STEP for step in range(int((end - start) / _STEP) + 1))


def _is_at_grade(survey: Survey, wall: Wall, point: geometry.Point) -> bool:
    try:
        place = outdoor_place_at(survey, point, wall.level)
    except UnknownFact:  # unknown: no receptacle is proposed where its place is not certain
        return False
    if place is None:
        return survey.plan.levels[wall.level].kind is LevelKind.STOREY
    floor, ground = survey.plan.levels[wall.level], survey.plan.levels[place.level]
    if not (floor.knows("elevation") and ground.knows("elevation")):
        return False
    over = floor.elevation - ground.elevation
    low = over <= survey.inches("reach_over_grade") and not _is_under_ground(wall, floor, over)
    return low and not RAISED_OUTDOOR.intersection(place.uses) and not _is_another_face(place, wall)


def _is_under_ground(wall: Wall, floor: Level, over: float) -> bool:
    """Whether a wall, as of a basement, ends below the height of a receptacle over grade."""
    if wall.knows("height"):
        return over + wall.height < USUAL_HEIGHT
    return floor.kind is LevelKind.BASEMENT and over < 0


def _is_another_face(place: Room, wall: Wall) -> bool:
    return place.knows("face") and wall.knows("face") and place.face is not wall.face


def _is_there(
    survey: Survey, outdoors: Room, footprint: geometry.Outline | None, reach: float, wall: Wall, point: geometry.Point
) -> bool:
    if footprint is not None and not within(geometry.distance_to_outline(point, footprint), reach):
        return False
    floor, ground = survey.plan.levels[wall.level], survey.plan.levels[outdoors.level]
    if floor.knows("elevation") and ground.knows("elevation"):
        over = floor.elevation - ground.elevation
        if over > survey.inches("reach_over_grade") or _is_under_ground(wall, floor, over):
            return False
    try:
        return outdoor_place_at(survey, point, wall.level) is outdoors
    except UnknownFact:  # unknown: no receptacle is proposed where its place is not certain
        return False
