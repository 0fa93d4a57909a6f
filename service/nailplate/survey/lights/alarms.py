"""Alarms by where they stand, the rooms that people sleep in, and the way from such a room to an alarm outside it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from nailplate.calc import geometry
from nailplate.calc.cord_floor import SearchTooLarge
from nailplate.calc.cord_path import shortest_path
from nailplate.plan import Device, Pointer, Room, UnknownFact
from nailplate.plan.trade import GATHERING, OUTDOOR
from nailplate.plan.words import DeviceKind, LevelKind, Sensing, Use
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, standing
from nailplate.survey.protection import DOORWAYS, barriers_on
from nailplate.survey.space import Entrance, entrances

VICINITY = 252.0
"""Inches; NFPA 72 makes "in the immediate vicinity" 21 ft along the way from a sleeping room's door."""

SLEEPING = frozenset({Use.BEDROOM, Use.LOFT_SLEEPING})
_NO_WAY_OUT = OUTDOOR | {Use.CLOSET, Use.BATHROOM, Use.TOILET}


@dataclass(frozen=True, slots=True)
class Placed:
    """An alarm and where it stands."""

    device: Device
    where: Standing


@dataclass(frozen=True, slots=True)
class Alarms:
    """Alarms of one kind: those with a place, sorted by room and by level, and what is missing of the others."""

    placed: tuple[Placed, ...]
    missing: tuple[Pointer, ...]
    in_room: dict[str, list[Placed]] = field(default_factory=dict)
    on_level: dict[str, list[Placed]] = field(default_factory=dict)
    grids: dict[str, geometry.Grid[Placed]] = field(default_factory=dict)

    def around(self, level: str, point: geometry.Point, reach: float) -> list[Placed]:
        """The alarms on a level within a square around a point."""
        return self.grids[level].near(geometry.grown((*point, *point), reach)) if level in self.grids else []


@dataclass(frozen=True, slots=True)
class Outside:
    """The alarm outside a sleeping room that is nearest by foot, how far, and whether that is within the vicinity."""

    alarm: Placed
    away: float
    near: bool


def smoke_alarms(survey: Survey) -> Alarms:
    """The smoke alarms; a heat alarm is none."""
    return survey.once(_smoke)


def co_alarms(survey: Survey) -> Alarms:
    """The carbon monoxide alarms, alone or with a smoke alarm; where a smoke alarm does not say it, that is missing."""
    return survey.once(_carbon_monoxide)


def sleeping_rooms(survey: Survey) -> tuple[Room, ...]:
    """The rooms and lofts that people sleep in."""
    return tuple(room for room in survey.plan.rooms.values() if SLEEPING.intersection(room.uses))


def is_lived_in(room: Room) -> bool:
    """Whether a sleeping room is a living room or kitchen too, so that it has no door between bed and living space."""
    return bool(GATHERING.intersection(room.uses))


def is_loft(survey: Survey, room: Room) -> bool:
    """Whether people sleep there in a loft, open to the room below."""
    return Use.LOFT_SLEEPING in room.uses or survey.plan.levels[room.level].kind is LevelKind.LOFT


def ways_out(survey: Survey, room: Room) -> tuple[Entrance, ...]:
    """The ways out of a sleeping room into the house; through a bath or closet only where there is no other."""
    every = [each for each in entrances(survey, room.id) if not each.is_vehicle_door]
    inner = [each for each in every if each.beyond is None or not _NO_WAY_OUT.intersection(each.beyond.uses)]
    return tuple(inner or every)


def outside(survey: Survey, room: Room, alarms: Alarms) -> Outside | None:
    """The nearest of these alarms outside a sleeping room, on the levels that its ways out are on. None if there is none."""
    ways = ways_out(survey, room)
    for _, way, alarm in sorted(_within_vicinity(room, alarms, ways), key=lambda each: each[0]):
        walked = walk(survey, way.level, (_middle(way),), alarm.where.point, VICINITY)
        if walked is not None:
            return Outside(alarm, walked, near=True)
    return _farther(room, alarms, ways)


def _within_vicinity(room: Room, alarms: Alarms, ways: tuple[Entrance, ...]) -> Iterator[tuple[float, Entrance, Placed]]:
    for way in ways:
        middle = _middle(way)
        for alarm in alarms.around(way.level, middle, VICINITY):
            if _is_outside(alarm, room):
                yield geometry.distance(middle, alarm.where.point), way, alarm


def _farther(room: Room, alarms: Alarms, ways: tuple[Entrance, ...]) -> Outside | None:
    levels = dict.fromkeys((room.level, *(way.level for way in ways)))
    others = [each for level in levels for each in alarms.on_level.get(level, ()) if _is_outside(each, room)]
    apart = [
        (geometry.distance(_middle(way), each.where.point), each)
        for way in ways
        for each in others
        if way.level == each.where.level
    ]
    if apart:
        away, alarm = min(apart, key=lambda each: each[0])
        return Outside(alarm, away, near=False)
    return Outside(others[0], 0.0, near=False) if others else None


def halls_outside(survey: Survey) -> frozenset[str]:
    """The rooms that a sleeping room's door leads to."""
    return survey.once(_halls_outside)


def _halls_outside(survey: Survey) -> frozenset[str]:
    ways = (way for room in sleeping_rooms(survey) for way in ways_out(survey, room))
    return frozenset(way.beyond.id for way in ways if way.beyond is not None)


def walk(survey: Survey, level: str, start: geometry.Outline, goal: geometry.Point, limit: float) -> float | None:
    """The way on foot around walls and through doorways; None if over ``limit``. The straight one where walls are too many."""
    try:
        found = shortest_path(start, [goal], barriers_on(survey, level, through=DOORWAYS), limit)
    except SearchTooLarge:
        straight = geometry.distance_to_outline(goal, start) if len(start) > 2 else geometry.distance(goal, start[0])
        return straight if straight <= limit else None
    return found.length if found else None


def _middle(way: Entrance) -> geometry.Point:
    (ax, ay), (bx, by) = way.line
    return ((ax + bx) / 2, (ay + by) / 2)


def _is_outside(alarm: Placed, room: Room) -> bool:
    there = alarm.where.room
    if there is None:
        return not alarm.where.outside
    if there is room or Use.GARAGE in there.uses or OUTDOOR.intersection(there.uses):
        return False
    return not SLEEPING.intersection(there.uses) or is_lived_in(there)


# Alarms by kind


def _smoke(survey: Survey) -> Alarms:
    return _sorted(survey, (each for each in survey.plan.devices.values() if _senses_smoke(each)), ())


def _senses_smoke(device: Device) -> bool:
    if device.kind is not DeviceKind.SMOKE_ALARM:
        return False
    return not (device.knows("sensing") and device.sensing is Sensing.HEAT)


def _carbon_monoxide(survey: Survey) -> Alarms:
    devices = survey.plan.devices.values()
    smoke = [each for each in devices if each.kind is DeviceKind.SMOKE_ALARM]
    unsaid = tuple(each.where("with_co") for each in smoke if not each.knows("with_co"))
    both = {each.id for each in smoke if each.knows("with_co") and each.with_co}
    return _sorted(survey, (each for each in devices if each.kind is DeviceKind.CO_ALARM or each.id in both), unsaid)


def _sorted(survey: Survey, devices: Iterable[Device], missing: tuple[Pointer, ...]) -> Alarms:
    placed, unplaced = list[Placed](), list[Pointer](missing)
    for device in devices:
        try:
            placed.append(Placed(device, standing(survey, device)))
        except UnknownFact as unknown:
            unplaced.append(unknown.pointer)
    found = Alarms(tuple(placed), tuple(dict.fromkeys(unplaced)))
    for each in placed:
        found.on_level.setdefault(each.where.level, []).append(each)
        if each.where.room is not None:
            found.in_room.setdefault(each.where.room.id, []).append(each)
    for level, some in found.on_level.items():
        found.grids[level] = geometry.Grid(((*each.where.point, *each.where.point), each) for each in some)
    return found
