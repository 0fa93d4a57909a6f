"""How wet the place of a device gets: as the plan states it of the device, or of the room or outdoor place that it is in."""

from nailplate.plan import Device, Level, Room, UnknownFact
from nailplate.plan.trade import WEATHER_UNSAID
from nailplate.plan.words import Exposure, LevelKind
from nailplate.survey.index import Survey
from nailplate.survey.outdoors.house_faces import lowest_storey, outdoor_place
from nailplate.survey.places import Standing, standing
from nailplate.units import within


def exposure_of(survey: Survey, device: Device) -> Exposure:
    """Dry, damp or wet. An indoor room of which nothing is stated is dry; an outdoor place or crawl space has to say it.

    Raises UnknownFact with the pointer where it would be said.
    """
    if device.knows("exposure"):
        return device.exposure
    room = room_or_place(survey, standing(survey, device))
    if room is None:
        raise UnknownFact(device.where("exposure"))
    return exposure_of_room(survey, room)


def room_or_place(survey: Survey, where: Standing) -> Room | None:
    """The room that something is in, or the porch, deck or yard that it hangs at outside; None on a floor higher up."""
    if where.room is not None or not where.outside:
        return where.room
    try:
        place = outdoor_place(survey, where)
        if place is None:
            return None
        return place if _hangs_at(survey, survey.plan.levels[where.level], survey.plan.levels[place.level]) else None
    except UnknownFact:  # unknown: as where no place is drawn, whoever asks is asked for the exposure itself
        return None


def _hangs_at(survey: Survey, floor: Level, ground: Level) -> bool:
    """Whether a wall of a floor stands at a place on the ground; without elevations that of the lowest storey does."""
    if floor is ground:
        return True
    if floor.knows("elevation") and ground.knows("elevation"):
        return within(floor.elevation - ground.elevation, survey.inches("reach_over_grade"))
    return floor is lowest_storey(survey)


def exposure_of_room(survey: Survey, room: Room) -> Exposure:
    """As the room says; what it does not say is dry indoors, and unknown in the weather or in a crawl space."""
    in_crawl_space = survey.plan.levels[room.level].kind is LevelKind.CRAWL_SPACE
    if room.knows("exposure") or in_crawl_space or WEATHER_UNSAID.intersection(room.uses):
        return room.exposure
    return Exposure.DRY
