"""How large the front of a box is, where it and a panel stand in their walls, and where in space a cable reaches them.

The plan states gangs, shape and trade size, and no outside measures. Two figures are taken: the least that any such box has, for
what surely overlaps, and the most, for what surely does not reach (common practice, makers' sheets: a one-gang box is 2 to 2-1/4 in
by 3 to 3-3/4 in, each further gang adds 1-13/16 in, round and square boxes are 4 in across).
"""

from typing import Final

from nailplate.calc import geometry
from nailplate.plan import ROOT, Box, Device, Panel, Pointer, Room, RoomPlace, UnknownFact, Wall
from nailplate.plan.trade import ROUND_OR_SQUARE
from nailplate.plan.words import BoxShape, WallKind
from nailplate.records import record
from nailplate.survey.index import Survey
from nailplate.survey.outdoors import is_outdoor, outdoor_place
from nailplate.survey.places import place_of, point_on_wall, standing

GANG: Final = 1.8125
"""Inches from the center of one device to the next in one box (NEMA WD 6)."""
_ONE: Final = (2.0, 3.0)
_ONE_AT_MOST: Final = (2.75, 4.25)
_ROUND: Final = 3.5
_ROUND_AT_MOST: Final = 4.75
"""Square boxes come 4 and 4-11/16 in across, round ones 3-1/2 to 4 in."""
_SLIGHT: Final = 2.0
"""Inches across, for a box of which nothing is said."""


@record(frozen=True, slots=True)
class Front:
    """The front of a box or panel on its wall: the stretch along the wall and of heights that it surely takes (inches)."""

    wall: Wall
    left: float
    right: float
    low: float
    high: float

    def overlap(self, left: float, right: float, low: float, high: float) -> tuple[float, float]:
        """How far it and a rectangle of the wall lie over each other, along and up; not positive where they do not."""
        return min(self.right, right) - max(self.left, left), min(self.high, high) - max(self.low, low)


@record(frozen=True, slots=True)
class Spot3:
    """A place in space: over the plan's datum; ``height`` is None where the plan does not tell it."""

    point: tuple[float, float]
    height: float | None


def least_front(box: Box) -> tuple[float, float]:
    """Width and height that the front of a box has at the least (inches)."""
    shape = box.shape if box.knows("shape") else None
    if shape in ROUND_OR_SQUARE:
        return _ROUND, _ROUND
    if shape is None and not box.knows("gangs"):
        return _SLIGHT, _SLIGHT
    return _ONE[0] + (_gangs(box) - 1) * GANG, _ONE[1]


def most_front(box: Box) -> tuple[float, float]:
    """Width and height that the front of a box has at the most (inches)."""
    wide = _ONE_AT_MOST[0] + (_gangs(box) - 1) * GANG
    return max(wide, _ROUND_AT_MOST), max(_ONE_AT_MOST[1], _ROUND_AT_MOST)


def most_width(box: Box) -> float:
    """How wide a box is at the most (inches): of a device box by its gangs, of any other shape as the widest of them."""
    return _ONE_AT_MOST[0] + (_gangs(box) - 1) * GANG if box.is_(shape=BoxShape.DEVICE) else most_front(box)[0]


def front_of(survey: Survey, part: Box | Panel) -> Front | None:
    """The front of a box or panel in its wall, over the floor of the wall's level. None on no wall. Raises UnknownFact."""
    place = part.at
    if isinstance(place, RoomPlace):
        return None
    width, height = least_front(part) if isinstance(part, Box) else (float(part.face.width), float(part.face.height))
    middle = height_in_wall(survey, part)
    if middle is None:
        raise UnknownFact(_unsaid_of_height(survey, part))
    wall = survey.plan.walls[place.wall]
    return Front(wall, place.along - width / 2, place.along + width / 2, middle - height / 2, middle + height / 2)


def height_in_wall(survey: Survey, part: Box | Panel | Device) -> float | None:
    """The height of a part's center over the floor of the level that it is drawn on; outdoors heights count from grade or deck.

    None where it hangs outdoors and nothing tells how that place lies to the floor. Raises UnknownFact.
    """
    place = place_of(survey, part)
    if isinstance(place, RoomPlace):
        return place.height
    try:
        stands = standing(survey, part)
    except UnknownFact:
        if survey.plan.walls[place.wall].kind is WallKind.EXTERIOR and len(survey.plan.levels) > 1:
            raise  # on its weather side the height counts from another level
        return place.height  # unknown: inside the house it counts from this floor on either side of the wall
    if not stands.outside:
        return place.height
    outdoors = outdoor_place(survey, stands)
    levels = survey.plan.levels
    other = next((each for each in survey.once(_undrawn_outdoors) if outdoors and each.level != outdoors.level), None)
    if other is not None:
        raise UnknownFact(other.where("outline"))  # a deck, for instance, that may lie over the place found
    if outdoors is None or outdoors.level == stands.level:
        return place.height if outdoors is not None else None
    floor, ground = levels[stands.level], levels[outdoors.level]
    return place.height + ground.elevation - floor.elevation if floor.knows("elevation") and ground.knows("elevation") else None


def _undrawn_outdoors(survey: Survey) -> tuple[Room, ...]:
    return tuple(room for room in survey.plan.rooms.values() if is_outdoor(room) and not room.knows("outline"))


def _unsaid_of_height(survey: Survey, part: Box | Panel) -> Pointer:
    """What is left out where a height outdoors is stated and does not tell how it lies to the floor indoors."""
    stands = standing(survey, part)
    outdoors = outdoor_place(survey, stands)
    if outdoors is None:
        return next((room.where("outline") for room in survey.once(_undrawn_outdoors)), ROOT / "rooms")
    levels = (survey.plan.levels[outdoors.level], survey.plan.levels[stands.level])
    return next(level.where("elevation") for level in levels if not level.knows("elevation"))


def in_space(survey: Survey, part: Box | Panel | Device) -> Spot3:
    """Where a part stands over the plan's datum, on the center line of its wall. Raises UnknownFact."""
    place = place_of(survey, part)
    point: tuple[float, float]
    if isinstance(place, RoomPlace):
        level, point = survey.plan.rooms[place.room].level, place.point
    else:
        wall = survey.plan.walls[place.wall]
        level, point = wall.level, point_on_wall(wall, place.along)
    height = height_in_wall(survey, part)
    drawn = survey.plan.levels[level]
    if len(survey.plan.levels) > 1 and not drawn.knows("elevation"):
        return Spot3(point, None)
    return Spot3(point, None if height is None else height + (drawn.elevation if drawn.knows("elevation") else 0.0))


def fronts_on(survey: Survey, wall: Wall) -> tuple[tuple[Box | Panel, Front | UnknownFact], ...]:
    """The boxes and panels on a wall, each with its front, or with the fact without which that is not known."""
    return tuple(survey.once(_fronts).get(wall.id, ()))


def front_at(survey: Survey, part: Box | Panel) -> Front | None:
    """The front of a part on its wall; None on no wall, or where it is not known."""
    return survey.once(_known_fronts).get((part.pointer.members[0], part.id))


def fronts_near(survey: Survey, front: Front) -> list[tuple[Box | Panel, Front]]:
    """The boxes and panels on the same wall that may lie over a front, on either face, its own among them."""
    return survey.once(_front_grid, front.wall.id).near((front.left, front.low, front.right, front.high))


def _known_fronts(survey: Survey) -> dict[tuple[str, str], Front]:
    known = ((part, front) for parts in survey.once(_fronts).values() for part, front in parts)
    return {(part.pointer.members[0], part.id): front for part, front in known if isinstance(front, Front)}


def _front_grid(survey: Survey, wall_id: str) -> geometry.Grid[tuple[Box | Panel, Front]]:
    known = [(part, front) for part, front in survey.once(_fronts).get(wall_id, []) if isinstance(front, Front)]
    return geometry.Grid(
        (((front.left, front.low, front.right, front.high), (part, front)) for part, front in known), cell=24.0
    )


def _fronts(survey: Survey) -> dict[str, list[tuple[Box | Panel, Front | UnknownFact]]]:
    found: dict[str, list[tuple[Box | Panel, Front | UnknownFact]]] = {}
    parts: list[Box | Panel] = [*survey.plan.boxes.values(), *survey.plan.panels.values()]
    for part in parts:
        if not part.knows("at") or isinstance(part.at, RoomPlace) or not part.at.knows("along"):
            continue
        try:
            front: Front | UnknownFact | None = front_of(survey, part)
        except UnknownFact as missing:
            front = missing
        if front is not None:
            found.setdefault(part.at.wall, []).append((part, front))
    return found


def _gangs(box: Box) -> int:
    return box.gangs if box.knows("gangs") else 1
