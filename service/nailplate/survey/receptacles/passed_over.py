"""Receptacles that are drawn and do not count, each with why: whoever sees one in the drawing asks for it."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Device, Pointer, Room, UnknownFact
from nailplate.plan.words import DeviceKind, Mount
from nailplate.survey.index import Survey
from nailplate.survey.names import name_of
from nailplate.survey.places import Standing, standing
from nailplate.survey.protection import appliances_served
from nailplate.survey.receptacles.counter_lines import CounterSpace
from nailplate.survey.receptacles.counter_receptacles import above_top, along_space, in_top, kept_by_appliance
from nailplate.survey.receptacles.room_receptacles import receptacles_in
from nailplate.survey.receptacles.wall_receptacles import (
    RATINGS,
    VOLTAGES,
    stands_in_for_light,
)
from nailplate.survey.space import WallSpace
from nailplate.units import amperes, inches, shown, volts, within

_NAMED = 2


@dataclass(frozen=True, slots=True)
class PassedOver:
    """A receptacle that does not count, where it stands, and why, as the end of a sentence."""

    device: Device
    point: geometry.Point
    why: str


def passed_over(survey: Survey, room: Room) -> tuple[PassedOver, ...]:
    """The receptacles in a room that are not among those that 210.52 requires."""
    return tuple(survey.once(_by_room).get(room.id, ()))


def passed_over_for_use(survey: Survey, room: Room) -> tuple[PassedOver, ...]:
    """Those that are not for general use in a room: passed over there anyway, or there for equipment."""
    kept = (each for each in receptacles_in(survey, room).found if each.for_equipment)
    return (*passed_over(survey, room), *(PassedOver(each.device, each.point, why_kept(survey, each.device)) for each in kept))


def passed_over_along(survey: Survey, room: Room, space: WallSpace) -> tuple[PassedOver, ...]:
    """Those of a room that stand along a wall space and do not count for it."""
    return tuple(
        each for each in (*passed_over(survey, room), *_switched(survey, room)) if _is_along(survey, each.point, room, space)
    )


def passed_over_at(survey: Survey, found: CounterSpace) -> tuple[PassedOver, ...]:
    """Those in front of a counter's back line that do not serve it."""
    room = survey.plan.rooms[found.counter.room]
    return tuple(_for_counter(survey, room, found))


def told(some: Iterable[PassedOver]) -> str:
    """What a message adds of them; nothing where there are none."""
    return "".join(f" Receptacle {name_of(each.device)} does not count: {each.why}." for each in list(some)[:_NAMED])


def pointers(some: Iterable[PassedOver]) -> tuple[Pointer, ...]:
    """The receptacles that are told of."""
    return tuple(each.device.pointer for each in list(some)[:_NAMED])


def _by_room(survey: Survey) -> Mapping[str, list[PassedOver]]:
    found: dict[str, list[PassedOver]] = {}
    for device, where in survey.once(_placed):
        if where.room is not None and (why := _why(survey, device, where)):
            found.setdefault(where.room.id, []).append(PassedOver(device, where.on_floor_line, why))
    return found


def _placed(survey: Survey) -> list[tuple[Device, Standing]]:
    """The receptacles that stand somewhere; those of which it is not said are asked for as facts left out."""
    found = []
    for device in survey.plan.devices.values():
        if device.kind is DeviceKind.RECEPTACLE:
            try:
                where = standing(survey, device)
                _ = where.room
            except UnknownFact:  # unknown: what is not placed is asked for by the rules themselves, whatever is told beside
                continue
            found.append((device, where))
    return found


def _why(survey: Survey, device: Device, where: Standing) -> str:
    if device.is_(in_cabinet=True):
        return "it is inside a cabinet"
    if device.knows("rating") and device.rating not in RATINGS:
        return f"it is a {shown(amperes(device.rating))} receptacle"
    if device.knows("voltage") and device.voltage not in VOLTAGES:
        return f"it is a {shown(volts(device.voltage))} receptacle"
    if device.knows("part_of") and not device.is_(mount=Mount.BASEBOARD_HEATER):
        return "it is a part of other equipment"
    if device.is_(mount=Mount.CEILING):
        return "it is in the ceiling"
    if where.place.knows("height") and not within(where.height, survey.inches("receptacle_highest")):
        return f"it is {shown(inches(where.height))} above the floor, and {shown(survey.measure('receptacle_highest'))} is the most"
    return ""


def _switched(survey: Survey, room: Room) -> Iterator[PassedOver]:
    for device, where in survey.once(_placed):
        if where.room is not room or _why(survey, device, where):
            continue
        if stands_in_for_light(survey, device, room.id):
            yield PassedOver(device, where.on_floor_line, "a switch turns all of it off, in place of a ceiling light")
        elif device.is_among(mount=(Mount.COUNTERTOP, Mount.BELOW_COUNTER)):
            yield PassedOver(device, where.on_floor_line, "it is in a counter")


def _is_along(survey: Survey, point: geometry.Point, room: Room, space: WallSpace) -> bool:
    for stretch in space.stretches:
        seen = geometry.project(point, stretch.segment)
        if (
            stretch.room == room.id
            and stretch.start <= seen.along <= stretch.end
            and abs(seen.offset) <= survey.inches("floor_receptacle_to_wall")
        ):
            return True
    return False


def _for_counter(survey: Survey, room: Room, found: CounterSpace) -> Iterator[PassedOver]:
    for device, where in survey.once(_placed):
        if where.room is room and along_space(found, where.on_floor_line) is not None:
            why = _why(survey, device, where) or _why_not_at(survey, device, where, found)
            if why:
                yield PassedOver(device, where.on_floor_line, why)


def why_kept(survey: Survey, device: Device) -> str:
    """Why one that is there for an appliance does not count, as the end of a sentence."""
    served = appliances_served(survey, device)
    return f"it is there for {name_of(served[0])}" if served else "it is in a space of its own for an appliance"


def _why_not_at(survey: Survey, device: Device, where: Standing, found: CounterSpace) -> str:
    counter = found.counter
    if kept_by_appliance(survey, device):
        return why_kept(survey, device)
    if device.is_(mount=Mount.COUNTERTOP):
        return "it is not listed for countertops" if in_top(survey, device, counter) is None else ""
    if device.is_among(mount=(Mount.BELOW_COUNTER, Mount.FLOOR, Mount.DRAWER)):
        return "it is below the top"
    if above_top(survey, counter, where) is not None:
        return ""
    over = where.height - counter.height
    most = shown(survey.measure("counter_receptacle_above_top"))
    return f"it is {shown(inches(over))} above the top, and {most} is the most" if over > 0 else "it is below the top"
