"""The outside of the house: outdoor places, which of them a part stands at, the faces of the house, and receptacles out there.

Outdoor places (yards, porches, decks, balconies) are rooms on levels of their own; what hangs on the weather side of a wall
stands at the place drawn there. Heights out there count from grade, or from the floor of the porch, deck or balcony.
"""

from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Device, Level, Opening, Pointer, Room, RoomPlace, UnknownFact, Wall
from nailplate.plan.trade import DOORS, OUTDOOR, RAISED_OUTDOOR
from nailplate.plan.words import Face, LevelKind, Side, Use, WallKind
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, beside_wall, place_of, point_on_wall, room_beside, standing
from nailplate.survey.receptacles import rating_needs, required_kind
from nailplate.units import within

ONE_STEP = 7.75
"""Inches; a floor no higher above grade is one step up (the tallest riser of the residential code, from memory)."""
_OFF_THE_WALL = 2.0
_DRAWN_OFF = 6.0
"""Inches that an outdoor place may be drawn off the wall it lies at."""
_HIGHER = 12.0
"""Inches that the floor of an outdoor place may lie above the floor indoors."""
_TOLD = 20
"""Facts left out that are told, at most."""


@dataclass(frozen=True, slots=True)
class Outside:
    """A receptacle outdoors and the outdoor place that it stands at, if one is drawn; ``needs``: ratings left out."""

    device: Device
    standing: Standing
    place: Room | None
    needs: tuple[Pointer, ...]

    @property
    def face(self) -> Face:
        """The face of the house that it stands at; raises UnknownFact."""
        wall, place = self.standing.wall, self.place
        if wall is not None and (wall.knows("face") or place is None or not place.knows("face")):
            return wall.face
        if place is None:
            raise UnknownFact(self.device.where("at"))
        return place.face

    @property
    def raised(self) -> Room | None:
        """The porch, deck or balcony that it stands at, if it is at one."""
        return self.place if self.place is not None and RAISED_OUTDOOR.intersection(self.place.uses) else None


@dataclass(frozen=True, slots=True)
class OutsideReceptacles:
    """The receptacles outdoors of a kind that 210.52 counts, and the facts left out of others that may be outdoors."""

    found: tuple[Outside, ...]
    unplaced: tuple[Pointer, ...]


def is_outdoor(room: Room) -> bool:
    """Whether a room is a place outdoors and nothing else."""
    return OUTDOOR.issuperset(room.uses)


def is_other_building(room: Room) -> bool:
    """Whether a room is one of a detached garage or another building beside the house."""
    detached = Use.GARAGE in room.uses and room.knows("attached") and not room.attached
    return detached or Use.ACCESSORY in room.uses


def outdoor_place(survey: Survey, found: Standing) -> Room | None:
    """The outdoor place that something stands at. Raises UnknownFact where two lie over each other and no elevation tells."""
    if found.room is not None:
        return found.room if is_outdoor(found.room) else None
    if found.wall is None or found.side is None:
        return None
    point = off_wall(found.wall, found.point, found.side)
    return outdoor_place_at(survey, point, found.wall.level)


def outdoor_place_at(survey: Survey, point: geometry.Point, level: str) -> Room | None:
    """The outdoor place at a point beside a wall of ``level``: the highest whose floor is not above that level's."""
    grid = survey.once(_outdoor_rooms)
    near = grid.near(geometry.grown((*point, *point), _DRAWN_OFF))
    at = [room for room in near if geometry.contains(room.outline, point)]
    at = at or [room for room in near if geometry.contains(room.outline, point, _DRAWN_OFF)]
    if len(at) < 2:
        return at[0] if at else None
    floor = survey.plan.levels[level].elevation
    below = [room for room in at if within(survey.plan.levels[room.level].elevation, floor + _HIGHER)]
    return max(below, key=lambda room: survey.plan.levels[room.level].elevation, default=None)


def outside_receptacles(survey: Survey) -> OutsideReceptacles:
    """Every receptacle outdoors that may be one of those required, in the plan's order."""
    return survey.once(_outside_receptacles)


def outside_near(survey: Survey, box: geometry.Box) -> list[Outside]:
    """Those of them that stand in a box of the plan."""
    return survey.once(_outside_grid).near(box)


def too_high_over_grade(survey: Survey, one: Outside) -> bool:
    """Whether it is on a wall of an upper floor that begins higher than anybody reaches from the place below.

    Of the lowest story and the basement that is not asked: the height stated is over grade and tells.
    """
    if one.standing.wall is None:
        return False
    floor = survey.plan.levels[one.standing.wall.level]
    lowest = lowest_storey(survey)
    if lowest is None or floor is lowest or floor.kind is LevelKind.BASEMENT:
        return False
    ground = survey.plan.levels[one.place.level] if one.place else lowest
    return floor.elevation - ground.elevation > survey.inches("reach_over_grade")


def lowest_storey(survey: Survey) -> Level | None:
    """The story nearest the ground; raises UnknownFact where several are drawn and an elevation is left out."""
    return survey.once(_lowest_storey)


def _lowest_storey(survey: Survey) -> Level | None:
    storeys = [level for level in survey.plan.levels.values() if level.kind is LevelKind.STOREY]
    return storeys[0] if len(storeys) == 1 else min(storeys, key=lambda level: level.elevation, default=None)


def height_over_grade(one: Outside) -> float:
    """How high above grade it is; raises UnknownFact."""
    return one.standing.height + (one.raised.floor_above_grade if one.raised else 0.0)


def reached_from_grade(one: Outside) -> bool:
    """Whether one gets to it from grade without climbing; raises UnknownFact."""
    if one.device.knows("readily_accessible") and not one.device.readily_accessible:
        return False
    if one.raised is None or (one.raised.knows("floor_above_grade") and within(one.raised.floor_above_grade, ONE_STEP)):
        return True
    return one.raised.steps_to_grade


def entrances_to(survey: Survey, place: Room) -> tuple[tuple[Opening, ...], tuple[Pointer, ...]]:
    """The doors of the house that lead to an outdoor place, and what is left out of doors that may."""
    doors, unknown = survey.once(_entrances)
    return tuple(door for door, leads_to in doors if leads_to == place.id), unknown


def walls_of_face(survey: Survey, face: Face) -> list[Wall]:
    """The exterior walls of that face, lofts and attics left out."""
    return [wall for wall in survey.once(outer_walls) if wall.knows("face") and wall.face is face]


def outer_walls(survey: Survey) -> tuple[Wall, ...]:
    """The exterior walls of the house's floors."""
    upper = (LevelKind.LOFT, LevelKind.ATTIC, LevelKind.ROOF)
    return tuple(
        wall
        for wall in survey.plan.walls.values()
        if wall.kind is WallKind.EXTERIOR and survey.plan.levels[wall.level].kind not in upper
    )


# How it is worked out


def _outdoor_rooms(survey: Survey) -> geometry.Grid[Room]:
    rooms = [room for room in survey.plan.rooms.values() if room.knows("outline") and is_outdoor(room)]
    return geometry.Grid(((geometry.bounding_box(room.outline), room) for room in rooms), 120.0)


def off_wall(wall: Wall, point: geometry.Point, side: Side) -> geometry.Point:
    """The point a little off the wall's face at ``point``, on that side."""
    nx, ny = geometry.left_normal((wall.start, wall.end))
    off = _OFF_THE_WALL if side is Side.LEFT else -_OFF_THE_WALL
    return (point[0] + nx * off, point[1] + ny * off)


def _outside_receptacles(survey: Survey) -> OutsideReceptacles:
    found: list[Outside] = []
    unplaced: list[Pointer] = []
    for device in survey.plan.devices.values():
        if not required_kind(device) or device.knows("part_of"):
            continue
        try:
            stands = standing(survey, device)
            if (stands.outside or (stands.room is not None and is_outdoor(stands.room))) and _at_the_house(survey, stands):
                found.append(Outside(device, stands, outdoor_place(survey, stands), rating_needs(device)))
        except UnknownFact as unknown:
            if _may_be_outside(survey, device):
                unplaced.append(unknown.pointer)
    return OutsideReceptacles(tuple(found), tuple(dict.fromkeys(unplaced))[:_TOLD])


def _outside_grid(survey: Survey) -> geometry.Grid[Outside]:
    found = outside_receptacles(survey).found
    return geometry.Grid((((*each.standing.point, *each.standing.point), each) for each in found), 120.0)


def _at_the_house(survey: Survey, found: Standing) -> bool:
    """Not on a detached garage or another building beside the house."""
    if found.wall is None or found.side is None:
        return True
    other = Side.RIGHT if found.side is Side.LEFT else Side.LEFT
    within_it = room_beside(survey, found.wall, point_on_wall(found.wall, _along(found)), other)
    return within_it is None or not is_other_building(within_it)


def _along(found: Standing) -> float:
    wall = found.wall
    return geometry.project(found.point, (wall.start, wall.end)).along if wall else 0.0


def _may_be_outside(survey: Survey, device: Device) -> bool:
    try:
        place = place_of(survey, device)
    except UnknownFact:  # unknown: it may be anywhere
        return True
    if isinstance(place, RoomPlace):
        return is_outdoor(survey.plan.rooms[place.room])
    return survey.plan.walls[place.wall].kind is WallKind.EXTERIOR


def _entrances(survey: Survey) -> tuple[tuple[tuple[Opening, str], ...], tuple[Pointer, ...]]:
    doors: list[tuple[Opening, str]] = []
    unknown: list[Pointer] = []
    for opening in survey.plan.openings.values():
        wall = survey.plan.walls[opening.wall]
        if opening.kind not in DOORS or wall.kind is not WallKind.EXTERIOR:
            continue
        if opening.knows("leads_to"):
            doors.append((opening, opening.leads_to))
            continue
        place = _beyond(survey, opening, wall)
        if place is None:
            unknown.append(opening.where("leads_to"))
        else:
            doors.append((opening, place.id))
    return tuple(doors), tuple(unknown)


def _beyond(survey: Survey, opening: Opening, wall: Wall) -> Room | None:
    at = point_on_wall(wall, opening.along + opening.width / 2)
    places = [outdoor_place_at(survey, off_wall(wall, beside_wall(wall, at, side, 0.0), side), wall.level) for side in Side]
    return next((place for place in places if place is not None), None)
