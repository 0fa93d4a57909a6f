"""Whether a room has a lighting outlet under a control that counts, and what lights the rooms that it opens into."""

from dataclasses import dataclass

from nailplate.plan import ROOT, Device, Pointer, Room, UnknownFact
from nailplate.plan.trade import OUTDOOR
from nailplate.plan.words import DeviceKind
from nailplate.survey.index import Survey
from nailplate.survey.lights.switch_points import ControlPoint, controlled, controls_told, lights, switched_receptacles
from nailplate.survey.names import name_of
from nailplate.survey.places import standing
from nailplate.survey.space import Entrance, entrances


@dataclass(frozen=True, slots=True)
class RoomLight:
    """The lighting outlets of a room, the points that control them and count, and without any what is missing.

    ``perhaps`` are the fans of which it is not said whether they have a light.
    """

    outlets: tuple[Device, ...]
    points: tuple[ControlPoint, ...]
    needs: tuple[Pointer, ...]
    perhaps: tuple[Device, ...] = ()


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a control point is from the entrance of a room that is nearest to it."""

    point: ControlPoint
    entrance: Entrance
    away: float


def room_light(survey: Survey, room_id: str, *, receptacles: bool, automatic: bool) -> RoomLight:
    """The controlled lighting outlets of a room; with ``receptacles``, switched receptacles do too."""
    return survey.once(_room_light, room_id, receptacles, automatic)


def _room_light(survey: Survey, room_id: str, receptacles: bool, automatic: bool) -> RoomLight:
    every = lights(survey)
    outlets = every.in_room.get(room_id, ())
    switched = switched_receptacles(survey)
    found = controlled(survey, (*outlets, *(switched.in_room.get(room_id, ()) if receptacles else ())), automatic=automatic)
    if found.points:
        return RoomLight(outlets, found.points, ())
    perhaps = () if outlets else _perhaps(survey, room_id, automatic=automatic)
    needs = [*found.needs, *every.unplaced, *(fan.where("with_light") for fan in perhaps)]
    needs += switched.unplaced if receptacles else ()
    if not every.any:
        needs.append(ROOT / "devices")  # a drawing without a single light shows no lights at all yet
    if receptacles and not controls_told(survey):
        in_rooms, unplaced = survey.once(_receptacle_rooms)
        needs += (*([ROOT / "controls"] if room_id in in_rooms or unplaced else ()), *unplaced)
    return RoomLight(outlets, (), tuple(dict.fromkeys(needs)), perhaps)


def _perhaps(survey: Survey, room_id: str, *, automatic: bool) -> tuple[Device, ...]:
    """The fans of a room that would light it under control if they have a light; it is not said whether they do."""
    fans = lights(survey).perhaps.get(room_id, ())
    told = controls_told(survey)
    return tuple(fan for fan in fans if not told or controlled(survey, (fan,), automatic=automatic).points)


def without_light(found: RoomLight, room: Room) -> str:
    """What is to say of a room of which it is not known whether it has a light; nothing where pointers tell it."""
    if not found.perhaps:
        return ""
    fans = " and ".join(name_of(fan) for fan in found.perhaps[:2])
    return f"{name_of(room)} has no lighting outlet unless its fan has a light, and that is not said of {fans}."


def _receptacle_rooms(survey: Survey) -> tuple[frozenset[str], tuple[Pointer, ...]]:
    """Rooms with a receptacle, which may be switched; and what is missing of the places of the others, which may be in any."""
    rooms, unplaced = set[str](), list[Pointer]()
    for device in survey.plan.devices.values():
        if device.kind is DeviceKind.RECEPTACLE:
            try:
                room = standing(survey, device).room
            except UnknownFact as unknown:
                unplaced.append(unknown.pointer)
                continue
            rooms |= {room.id} if room is not None else set()
    return frozenset(rooms), tuple(unplaced[:_NAMED])


_NAMED = 5


def open_to(survey: Survey, room_id: str) -> tuple[Room, ...]:
    """The indoor rooms that a room opens into with no wall or leaf between."""
    beyond = [each.beyond for each in entrances(survey, room_id) if each.is_open and each.beyond is not None]
    return tuple(dict.fromkeys(room for room in beyond if not OUTDOOR.intersection(room.uses)))


def walk_in(survey: Survey, room_id: str) -> tuple[Entrance, ...]:
    """The ways into a room that people use: vehicle doors are none."""
    return tuple(each for each in entrances(survey, room_id) if not each.is_vehicle_door)


def nearest_to_entrance(survey: Survey, room_id: str, points: tuple[ControlPoint, ...]) -> Reach | None:
    """The control point that is nearest to any entrance of the room. UnknownFact where no point's place is known."""
    ways, found, missing = walk_in(survey, room_id), list[Reach](), list[UnknownFact]()
    for point in points:
        try:
            where = standing(survey, point.device)
        except UnknownFact as unknown:
            missing.append(unknown)
            continue
        away = ((way, way.away(where.level, where.point)) for way in ways)
        found += [Reach(point, way, distance) for way, distance in away if distance is not None]
    if missing and not found:
        raise missing[0]
    return min(found, key=lambda reach: reach.away, default=None)
