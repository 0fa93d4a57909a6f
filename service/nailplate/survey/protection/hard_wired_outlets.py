"""Outlets other than receptacles that stand outdoors, in a garage or in an accessory building: what is wired there for good."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from nailplate.plan import Device, Pointer, Room, UnknownFact
from nailplate.plan.trade import OUTDOOR, WIRED_OUTLETS
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import Connection, DeviceKind, Use
from nailplate.survey.index import Survey
from nailplate.survey.places import standing
from nailplate.survey.protection import NO_ROOM, outlets_of
from nailplate.units import reaches


class Ground(StrEnum):
    """Where an outlet stands, as far as 210.8(F) asks."""

    OUTDOORS = "outdoors"
    GARAGE = "in a garage with its floor at or below grade"
    ACCESSORY = "in an accessory building"


@dataclass(frozen=True, slots=True)
class HardWired:
    """One outlet, by the appliance that it feeds or else by its device; ``ground`` is None where it stands elsewhere."""

    part: Appliance | Device
    ground: Ground | None
    unknown: tuple[Pointer, ...] = ()

    @property
    def facet(self) -> str:
        """What names it among the outlets of a plan."""
        return "/".join(self.part.pointer.members[:2])


def hard_wired_outlets(survey: Survey) -> Iterator[HardWired]:
    """Every hard-wired appliance and, of the devices that feed none, connections and fans. Lights are left out."""
    feeding: set[str] = set()
    for appliance in survey.plan.appliances.values():
        feeding.update(each.id for each in outlets_of(survey, appliance))
        if not _has_cord(survey, appliance):
            yield _placed(survey, appliance)
    for device in survey.plan.devices.values():
        if device.kind in WIRED_OUTLETS and device.id not in feeding and not device.knows("part_of"):
            yield _placed(survey, device)


def _has_cord(survey: Survey, appliance: Appliance) -> bool:
    if appliance.knows("connection"):
        return appliance.connection is Connection.CORD
    return any(each.kind is DeviceKind.RECEPTACLE for each in outlets_of(survey, appliance))


def _placed(survey: Survey, part: Appliance | Device) -> HardWired:
    try:
        ground = _of_appliance(survey, part) if isinstance(part, Appliance) else _of_device(survey, part)
    except UnknownFact as missing:
        return HardWired(part, None, (missing.pointer,))
    return HardWired(part, ground)


def _of_appliance(survey: Survey, appliance: Appliance) -> Ground | None:
    if appliance.knows("outdoors") and appliance.outdoors:
        return Ground.OUTDOORS
    return _of_room(survey.plan.rooms[appliance.room])


def _of_device(survey: Survey, device: Device) -> Ground | None:
    where = standing(survey, device)
    if where.outside:
        return Ground.OUTDOORS
    if where.room is None:
        raise UnknownFact(NO_ROOM)
    return _of_room(where.room)


def _of_room(room: Room) -> Ground | None:
    if any(use in OUTDOOR for use in room.uses):
        return Ground.OUTDOORS
    if Use.ACCESSORY in room.uses:
        return Ground.ACCESSORY
    if Use.GARAGE in room.uses:
        return Ground.GARAGE if reaches(0.0, room.floor_above_grade) else None
    return None
