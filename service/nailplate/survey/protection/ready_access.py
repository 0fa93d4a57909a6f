"""What keeps a person from reaching a device at once: an appliance in front of it, its height, a hatch, a cabinet.

Ready access asks that nobody has to move or climb over anything, or fetch a ladder, to reach it. A plan shows only what is drawn:
furniture is not.
"""

from dataclasses import dataclass
from typing import Final

from nailplate.plan import Device, UnknownFact
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import ApplianceKind, LevelKind, Mount, Use
from nailplate.survey.index import Survey
from nailplate.survey.names import name_of
from nailplate.survey.places import Standing, standing
from nailplate.survey.protection.ratings import appliances_served
from nailplate.survey.space import stays
from nailplate.units import Inches, inches, shown, within

_NEVER_IN_FRONT: Final = frozenset({ApplianceKind.SUMP_PUMP, ApplianceKind.GARAGE_DOOR_OPENER})
"""In a pit and overhead; what they plug into is not behind them."""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """What is in the way, in words; ``contested`` where some would say that it is not. ``height`` where that decides."""

    words: str
    contested: bool = False
    height: Inches | None = None


def obstacle(survey: Survey, device: Device) -> Obstacle | None:
    """What keeps a device from being readily accessible as drawn, its height by 404.8(A): 210.8 names no figure of its own.

    UnknownFact where the plan says neither that nor its place."""
    if device.knows("readily_accessible"):
        return None if device.readily_accessible else Obstacle("the plan says that it is not")
    if device.knows("dedicated_space") and _may_stand_before(survey.plan.appliances[device.dedicated_space]):
        return Obstacle(f"it is behind {name_of(survey.plan.appliances[device.dedicated_space])}, which is not easily moved")
    served = appliances_served(survey, device)
    if served and all(_may_stand_before(each) for each in served):
        return Obstacle(f"it is there for {name_of(served[0])}, which may stand in front of it", contested=True)
    if device.knows("in_cabinet") and device.in_cabinet:
        return Obstacle("it is in a cabinet, where things get stored in front of it", contested=True)
    if device.knows("mount") and device.mount is Mount.CEILING:
        return Obstacle("it is in the ceiling")
    return _by_place(survey, _standing(survey, device), device)


def _standing(survey: Survey, device: Device) -> Standing:
    try:
        return standing(survey, device)
    except UnknownFact:
        raise UnknownFact(device.where("readily_accessible")) from None


def _by_place(survey: Survey, where: Standing, device: Device) -> Obstacle | None:
    room, level = where.room, survey.plan.levels[where.level].kind
    if level is LevelKind.ATTIC or (room and Use.ATTIC in room.uses):
        return Obstacle("it is in an attic")
    if level is LevelKind.CRAWL_SPACE or (room and Use.CRAWL_SPACE in room.uses):
        return Obstacle("it is in a crawl space", contested=True)
    if not where.place.knows("height"):
        raise UnknownFact(device.where("readily_accessible"))
    if not within(where.height, survey.inches("handle_highest")):
        return Obstacle(f"it is {shown(inches(where.height))} up", contested=True, height=Inches(where.height))
    return None


def _may_stand_before(appliance: Appliance) -> bool:
    return stays(appliance) and appliance.kind not in _NEVER_IN_FRONT


def is_readily_accessible(survey: Survey, device: Device) -> bool:
    """Whether nothing drawn is in the way; not where the plan says too little."""
    try:
        return obstacle(survey, device) is None
    except UnknownFact:  # unknown: asked where a GFCI device is to be proposed, and what may be out of reach is not
        return False
