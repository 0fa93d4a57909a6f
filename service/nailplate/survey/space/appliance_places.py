"""Which appliances stand in a room, and which of them stay where they are."""

from collections.abc import Mapping, Sequence

from nailplate.calc import geometry
from nailplate.plan import Appliance, Room
from nailplate.plan.trade import NOT_EASILY_MOVED
from nailplate.survey.index import Survey
from nailplate.survey.places import room_at


def stays(appliance: Appliance) -> bool:
    """Whether an appliance is not easily moved, by its kind or since it is fastened."""
    return appliance.kind in NOT_EASILY_MOVED or (appliance.knows("fastened") and appliance.fastened)


def appliances_in(survey: Survey, room: Room) -> Sequence[Appliance]:
    """The appliances that say they stand in a room, in the plan's order."""
    return survey.once(_by_room).get(room.id, ())


def possible_rooms_of(survey: Survey, appliance: Appliance) -> Sequence[Room]:
    """The room that an appliance names; where it names none, those in which its footprint is drawn, or all of them."""
    if appliance.knows("room"):
        return [survey.plan.rooms[appliance.room]]
    if not appliance.knows("footprint"):
        return list(survey.plan.rooms.values())
    middle = geometry.centroid(appliance.footprint)
    on_levels = (room_at(survey, level, middle) for level in survey.plan.levels)
    return [room for room in on_levels if room is not None]


def _by_room(survey: Survey) -> Mapping[str, list[Appliance]]:
    found: dict[str, list[Appliance]] = {}
    for appliance in survey.plan.appliances.values():
        if appliance.knows("room"):
            found.setdefault(appliance.room, []).append(appliance)
    return found
