"""Where the ends of a cable stand: on a wall, or free in a room (ceiling, floor)."""

from dataclasses import dataclass

from nailplate.plan import Box, BoxEnd, Cable, Device, Panel, PanelEnd, UnknownFact, Wall, WallPlace
from nailplate.plan.cables import End
from nailplate.survey.index import Survey
from nailplate.survey.names import name_of
from nailplate.survey.places import place_of, point_on_wall

Point = tuple[float, float]


class NoRoute(Exception):
    """Why a cable cannot be routed, in words for people; never leaves this wing."""


@dataclass(frozen=True, slots=True)
class Stand:
    """Where an end stands: inches in the plane of its level, and above that level's floor. ``wall`` is None free in a room."""

    part: Box | Panel | Device
    level: str
    point: Point
    height: float
    wall: Wall | None = None
    along: float = 0.0


def stand_of(survey: Survey, cable: Cable, index: int) -> Stand:
    """Where one end of a cable stands. Raises NoRoute where the plan does not say it."""
    part = part_at_end(survey, cable.ends[index])
    try:
        return _stand(survey, part)
    except UnknownFact as unknown:
        raise NoRoute(f"the plan does not state {unknown.pointer}, where {name_of(part)} is") from None


def part_at_end(survey: Survey, end: End) -> Box | Panel | Device:
    """The part that a cable ends at; a device that is in a box is wired there."""
    if isinstance(end, BoxEnd):
        return survey.plan.boxes[end.box]
    if isinstance(end, PanelEnd):
        return survey.plan.panels[end.panel]
    device = survey.plan.devices[end.device]
    return survey.plan.boxes[device.box] if device.knows("box") else device


def _stand(survey: Survey, part: Box | Panel | Device) -> Stand:
    place = place_of(survey, part)
    if isinstance(place, WallPlace):
        wall = survey.plan.walls[place.wall]
        return Stand(part, wall.level, point_on_wall(wall, place.along), place.height, wall, place.along)
    return Stand(part, survey.plan.rooms[place.room].level, place.point, place.height)
