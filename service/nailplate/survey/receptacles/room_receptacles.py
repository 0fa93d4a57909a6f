"""The receptacles of a room that may be one which 210.52 requires there, whatever wall they are on."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Device, Pointer, Room, RoomPlace, UnknownFact
from nailplate.plan.words import Mount, Side
from nailplate.survey.index import Survey
from nailplate.survey.places import place_of, point_on_wall, room_beside, standing
from nailplate.survey.protection import appliances_served
from nailplate.survey.receptacles.wall_receptacles import rating_needs, required_kind
from nailplate.units import within


@dataclass(frozen=True, slots=True)
class InRoom:
    """A receptacle in a room; ``needs`` are the facts left out without which it is not known to count."""

    device: Device
    point: geometry.Point
    for_equipment: bool
    needs: tuple[Pointer, ...]


@dataclass(frozen=True, slots=True)
class RoomReceptacles:
    """The receptacles of a room that may count, and the facts left out of others that may be in it."""

    found: tuple[InRoom, ...]
    unplaced: tuple[Pointer, ...]

    @property
    def for_use(self) -> tuple[InRoom, ...]:
        """Those that are not there for equipment."""
        return tuple(each for each in self.found if not each.for_equipment)


def receptacles_in(survey: Survey, room: Room) -> RoomReceptacles:
    """The receptacles of a room, those too high, in cabinets or built into equipment left out."""
    found, unplaced = survey.once(_by_room)
    return RoomReceptacles(tuple(found.get(room.id, ())), (*unplaced.get(room.id, ()), *unplaced.get(ANYWHERE, ())))


ANYWHERE = ""
"""Stands for every room where nothing is said of a place."""


def _by_room(survey: Survey) -> tuple[Mapping[str, list[InRoom]], Mapping[str, list[Pointer]]]:
    found: dict[str, list[InRoom]] = {}
    unplaced: dict[str, list[Pointer]] = {}
    for device in survey.plan.devices.values():
        if not required_kind(device) or device.knows("part_of") or _overhead(device):
            continue
        try:
            stands = standing(survey, device)
        except UnknownFact as unknown:
            for room in possible_rooms(survey, device):
                unplaced.setdefault(room, []).append(unknown.pointer)
            continue
        if stands.room is not None and (
            not stands.place.knows("height") or within(stands.height, survey.inches("receptacle_highest"))
        ):
            height = () if stands.place.knows("height") else (stands.place.where("height"),)
            serves = bool(appliances_served(survey, device))
            one = InRoom(device, stands.on_floor_line, serves, (*rating_needs(device), *height))
            found.setdefault(stands.room.id, []).append(one)
    return found, unplaced


def _overhead(device: Device) -> bool:
    return device.knows("mount") and device.mount is Mount.CEILING


def possible_rooms(survey: Survey, device: Device) -> Iterator[str]:
    """The rooms that a receptacle without a certain place may be in."""
    try:
        place = place_of(survey, device)
    except UnknownFact:  # unknown: it may be in any room
        yield ANYWHERE
        return
    if isinstance(place, RoomPlace):
        yield place.room
        return
    wall = survey.plan.walls[place.wall]
    sides = (place.side,) if place.knows("side") else tuple(Side)
    length = geometry.length_of((wall.start, wall.end))
    places = (place.along,) if place.knows("along") else (length / 4, length / 2, 3 * length / 4)
    beside = (room_beside(survey, wall, point_on_wall(wall, along), side) for side in sides for along in places)
    undrawn = (room for room in survey.rooms_on_level.get(wall.level, []) if not room.knows("outline"))
    yield from dict.fromkeys(room.id for room in (*beside, *undrawn) if room is not None)
