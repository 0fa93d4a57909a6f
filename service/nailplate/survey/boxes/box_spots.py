"""Where a box is set: in a wall, in a ceiling, in a floor or cabinet, or on a post in the open; and how wet its place gets."""

from enum import StrEnum
from typing import Final

from nailplate.plan import Box, RoomPlace, UnknownFact
from nailplate.plan.trade import FROM_DRY_TO_WET
from nailplate.plan.words import Exposure, LevelKind, Mount, Use
from nailplate.survey.index import Survey
from nailplate.survey.outdoors import exposure_of_room, room_or_place
from nailplate.survey.places import standing
from nailplate.survey.protection import NO_ROOM
from nailplate.survey.space import ceiling_over
from nailplate.units import reaches

BELOW_CEILING: Final = 12.0
"""Inches below its ceiling to which a box on no wall counts as one in the ceiling, on a beam or bracket."""
LOWEST_CEILING: Final = 60.0
LOWEST_OF_LOFT: Final = 24.0
"""Inches: where no ceiling is drawn, what is lower is in the floor, an island or a cabinet."""
_OPEN_AIR: Final = frozenset({Use.OUTDOORS, Use.DECK, Use.BALCONY})
"""Outdoor places without a ceiling; a porch has one."""


class Spot(StrEnum):
    """What a box is set in."""

    WALL = "wall"
    CEILING = "ceiling"
    FLOOR = "floor or cabinet"
    OPEN_AIR = "open air"


def spot_of(survey: Survey, box: Box) -> Spot:
    """What a box is set in. Raises UnknownFact where its place is not said."""
    if not isinstance(box.at, RoomPlace):
        return Spot.WALL
    mounts = [device.mount for device in survey.devices_in_box.get(box.id, []) if device.knows("mount")]
    if mounts:
        return _BY_MOUNT.get(mounts[0], Spot.FLOOR)
    if _OPEN_AIR.issuperset(survey.plan.rooms[box.at.room].uses):
        return Spot.OPEN_AIR
    return Spot.CEILING if reaches(box.at.height, _lowest_of_ceiling(survey, box.at)) else Spot.FLOOR


_BY_MOUNT: Final = {Mount.CEILING: Spot.CEILING, Mount.WALL: Spot.WALL}


def _lowest_of_ceiling(survey: Survey, place: RoomPlace) -> float:
    level = survey.plan.levels[survey.plan.rooms[place.room].level]
    try:
        return ceiling_over(survey, level.id, place.point) - BELOW_CEILING
    except UnknownFact:  # unknown: where no ceiling is drawn, height alone tells the ceiling from floor and cabinets
        return LOWEST_OF_LOFT if level.kind is LevelKind.LOFT else LOWEST_CEILING


def exposure_of_box(survey: Survey, box: Box) -> Exposure:
    """How wet a box's place gets: as a device in it says, or its room. Indoors it is dry where the plan says nothing.

    Raises UnknownFact, with the pointer where it would be said, for a place in the weather or a crawl space.
    """
    devices = survey.devices_in_box.get(box.id, [])
    stated = [device.exposure for device in devices if device.knows("exposure")]
    if stated:
        return max(stated, key=FROM_DRY_TO_WET.index)
    room = room_or_place(survey, standing(survey, box))
    if room is None:
        raise UnknownFact(devices[0].where("exposure") if devices else NO_ROOM)
    return exposure_of_room(survey, room)
