"""What lights a stair, and from which of its levels and landings that is controlled."""

from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Device, Pointer, Stair, UnknownFact
from nailplate.plan.house import StairEntry
from nailplate.plan.words import Use
from nailplate.survey.index import Survey
from nailplate.survey.lights import ControlPoint, controlled, lights
from nailplate.survey.places import Standing, room_at, standing

OVER = 6.0
"""Inches that a light may be off a stair's outline and still stand over the stair, on the wall beside it."""
AT_LANDING = 72.0
"""Inches from where one steps on at a landing; a control within them, or in the room entered from, is at that landing."""


@dataclass(frozen=True, slots=True)
class StairPlace:
    """A floor level or landing that a stair is entered from."""

    name: str
    level: str | None
    entry: StairEntry | None = None


def lights_over(survey: Survey, stair: Stair) -> tuple[Device, ...]:
    """The lighting outlets over the stair, or in a stairway that it stands in."""
    return tuple(device for device, where in survey.once(_placed) if _is_over(stair, where))


def lights_beside(survey: Survey, stair: Stair) -> tuple[Device, ...]:
    """The lighting outlets of the rooms at its foot and head."""
    rooms = dict.fromkeys(room for entry in _entries(stair) if (room := _room_of(survey, entry)) is not None)
    return tuple(device for room in rooms for device in lights(survey).in_room.get(room, ()))


def places(survey: Survey, stair: Stair) -> tuple[StairPlace, ...]:
    """The floor levels that a stair joins, and the landings with an entry that the plan states."""
    floors = tuple(StairPlace(_named(survey, level), level) for level in (stair.lower, stair.upper))
    landings = tuple(
        StairPlace(f"the landing {number}", None, entry)
        for number, entry in enumerate((each for each in _entries(stair) if _is_landing(each)), start=1)
    )
    return (*floors, *landings)


def is_at(survey: Survey, device: Device, place: StairPlace) -> bool:
    """Whether a control stands on a floor level, or at a landing. UnknownFact where the plan does not say its place."""
    where = standing(survey, device)
    if place.entry is None:
        return where.level == place.level
    entry = place.entry
    if entry.knows("room") and where.room is not None and where.room.id == entry.room:
        return True
    return geometry.distance(where.point, entry.point) <= AT_LANDING


def stair_controls(survey: Survey, outlets: tuple[Device, ...]) -> tuple[tuple[ControlPoint, ...], tuple[Pointer, ...]]:
    """The control points of these lights that count at a stair, automatic ones too, and what is missing for others."""
    found = controlled(survey, outlets, automatic=True)
    return found.points, found.needs


def _is_over(stair: Stair, where: Standing) -> bool:
    if where.room is not None and Use.STAIRWAY in where.room.uses and where.level in (stair.lower, stair.upper):
        return True
    rings = ((stair.lower, "outline"), (stair.upper, "opening"))
    return any(
        level == where.level and stair.knows(name) and geometry.contains(getattr(stair, name), where.point, OVER)
        for level, name in rings
    )


def _placed(survey: Survey) -> tuple[tuple[Device, Standing], ...]:
    every = lights(survey)
    inside = (device for room in every.in_room.values() for device in room)
    return (*((device, standing(survey, device)) for device in inside), *every.outside)


def _entries(stair: Stair) -> tuple[StairEntry, ...]:
    return stair.entries if stair.knows("entries") else ()


def _is_landing(entry: StairEntry) -> bool:
    return entry.knows("height") and entry.height > 0


def _room_of(survey: Survey, entry: StairEntry) -> str | None:
    if entry.knows("room"):
        return entry.room
    if not entry.knows("level", "point"):
        return None
    room = room_at(survey, entry.level, entry.point)
    return room.id if room else None


def _named(survey: Survey, level: str) -> str:
    part = survey.plan.levels[level]
    return f"'{part.label}'" if part.knows("label") else f"'{part.id}'"


def missing_places(survey: Survey, points: tuple[ControlPoint, ...]) -> tuple[Pointer, ...]:
    """Pointers of the places of controls that the plan does not say."""
    found = []
    for point in points:
        try:
            standing(survey, point.device)
        except UnknownFact as unknown:
            found.append(unknown.pointer)
    return tuple(dict.fromkeys(found))
