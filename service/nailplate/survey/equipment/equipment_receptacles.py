"""Receptacles for servicing: those of 125 V, 15 or 20 A near a piece of equipment, indoors and out, and on which level."""

from collections.abc import Iterator
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Device, Pointer, Room, UnknownFact
from nailplate.plan.trade import HVAC
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import Connection, DeviceKind, LevelKind
from nailplate.survey.index import Survey
from nailplate.survey.outdoors import is_outdoor, outdoor_place
from nailplate.survey.places import Standing, standing
from nailplate.survey.protection import outlets_of
from nailplate.survey.receptacles import rating_needs, required_kind
from nailplate.units import Inches, within

_OUTDOOR_CELL = 120.0
_TOLD = 20


@dataclass(frozen=True, slots=True)
class ForService:
    """A receptacle that somebody who services equipment may use; ``level`` is None outdoors where no place is drawn."""

    device: Device
    point: geometry.Point
    outdoors: bool
    level: str | None
    needs: tuple[Pointer, ...]


@dataclass(frozen=True, slots=True)
class Near:
    """A receptacle and how far it is; no distance where the plan says that it is there for the equipment."""

    receptacle: Device
    distance: Inches | None


def receptacles_around(survey: Survey, equipment: Appliance) -> list[tuple[Inches, ForService]]:
    """Those within 25 ft of equipment, nearest first, on whatever level."""
    around = geometry.grown(geometry.bounding_box(equipment.footprint), survey.inches("service_receptacle_reach"))
    near = (
        (Inches(geometry.distance_to_outline(one.point, equipment.footprint)), one) for one in survey.once(_grid).near(around)
    )
    return sorted(
        (each for each in near if within(each[0], survey.inches("service_receptacle_reach"))), key=lambda each: each[0]
    )


def service_receptacles(survey: Survey, equipment: Appliance) -> tuple[Near, ...]:
    """The receptacles that the plan says serve equipment, or else those within 25 ft that may, nearest first. Raises UnknownFact."""
    if equipment.knows("connection") and equipment.connection is Connection.HARD_WIRED:
        stated = [each for each in outlets_of(survey, equipment) if each.kind is DeviceKind.RECEPTACLE]
        if stated:
            return tuple(Near(each, None) for each in stated)
    room = survey.plan.rooms[equipment.room]
    near = receptacles_around(survey, equipment)
    return tuple(Near(one.device, off) for off, one in near if same_level(survey, room, one) is not False)


def serviced_equipment(survey: Survey) -> Iterator[Appliance]:
    """Heating and cooling equipment that needs servicing, and anything else that is said to be listed as such."""
    for appliance in survey.plan.appliances.values():
        if appliance.kind in HVAC or (appliance.knows("listed_hvac") and appliance.listed_hvac):
            yield appliance


def unplaced_receptacles(survey: Survey) -> tuple[Pointer, ...]:
    """What is left out of the places of others."""
    return survey.once(_all)[1]


def same_level(survey: Survey, room: Room, one: ForService) -> bool | None:
    """Whether a receptacle is on the level of equipment that stands in ``room``; None where that can be read two ways."""
    if one.outdoors is not is_outdoor(room):
        return False
    if one.level == room.level:
        return True
    if not one.outdoors:
        return False
    kinds = {survey.plan.levels[level].kind for level in (room.level, one.level) if level is not None}
    if kinds <= {LevelKind.GRADE}:
        return True
    return None if kinds <= {LevelKind.GRADE, LevelKind.DECK} else False


def _grid(survey: Survey) -> geometry.Grid[ForService]:
    return geometry.Grid((((*each.point, *each.point), each) for each in survey.once(_all)[0]), _OUTDOOR_CELL)


def _all(survey: Survey) -> tuple[tuple[ForService, ...], tuple[Pointer, ...]]:
    found: list[ForService] = []
    unplaced: list[Pointer] = []
    for device in survey.plan.devices.values():
        if required_kind(device) and not device.knows("part_of"):
            try:
                found.append(_for_service(survey, device, standing(survey, device)))
            except UnknownFact as unknown:
                unplaced.append(unknown.pointer)
    return tuple(found), tuple(dict.fromkeys(unplaced))[:_TOLD]


def _for_service(survey: Survey, device: Device, stands: Standing) -> ForService:
    outdoors = stands.outside or (stands.room is not None and is_outdoor(stands.room))
    if not outdoors:
        return ForService(device, stands.point, outdoors=False, level=stands.level, needs=rating_needs(device))
    place = outdoor_place(survey, stands)
    level = place.level if place else None
    return ForService(device, stands.point, outdoors=True, level=level, needs=rating_needs(device))
