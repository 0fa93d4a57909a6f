"""Which appliances stand in a room, and which of them stay where they are."""

from collections.abc import Mapping, Sequence

from nailplate.plan import Appliance, Room
from nailplate.plan.trade import NOT_EASILY_MOVED
from nailplate.survey.index import Survey


def stays(appliance: Appliance) -> bool:
    """Whether an appliance is not easily moved, by its kind or since it is fastened."""
    return appliance.kind in NOT_EASILY_MOVED or (appliance.knows("fastened") and appliance.fastened)


def appliances_in(survey: Survey, room: Room) -> Sequence[Appliance]:
    """The appliances that say they stand in a room, in the plan's order."""
    return survey.once(_by_room).get(room.id, ())


def _by_room(survey: Survey) -> Mapping[str, list[Appliance]]:
    found: dict[str, list[Appliance]] = {}
    for appliance in survey.plan.appliances.values():
        if appliance.knows("room"):
            found.setdefault(appliance.room, []).append(appliance)
    return found
