"""The receptacles that a cord reaches from where something will be used: along the floor, around walls, through doorways."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from nailplate.calc import geometry
from nailplate.calc.cord_floor import SearchTooLarge
from nailplate.calc.cord_path import shortest_path
from nailplate.plan import Device, Need, UnknownFact
from nailplate.plan.trade import CARRIED, DOORWAYS
from nailplate.plan.words import DeviceKind
from nailplate.survey import Survey, standing
from nailplate.survey.protection import appliances_served, barriers_on
from nailplate.survey.protection.cords import plug_of
from nailplate.survey.space.contact import widest_footprints
from nailplate.units import reaches

LOOKED_AT: Final = 12
"""Receptacles that are measured to from one place, the nearest as the crow flies."""
FARTHEST: Final = 300.0
"""Inches within which the nearest receptacle is still told where none is in reach."""
_BUDGET: Final = 20_000
_LINE_TO_LINE: Final = 200.0


@dataclass(frozen=True, slots=True)
class InReach:
    """A receptacle and the way of a cord to it."""

    device: Device
    way: float


def outlets_around(survey: Survey, need: Need) -> tuple[InReach, ...]:
    """The receptacles around, nearest first. Raises UnknownFact where the place is not drawn, SearchTooLarge never."""
    level, starts = survey.plan.rooms[need.place.room].level, _starts(survey, need)
    near = [
        (min(geometry.distance_to_outline(point, start) for start in starts), device.id, point, device)
        for device, point in survey.once(_receptacles).get(level, ())
    ]
    found = []
    for straight, _, point, device in sorted(near, key=lambda each: each[:2])[:LOOKED_AT]:
        if straight <= FARTHEST:
            ways = [way for start in starts if (way := _way(survey, level, start, point)) is not None]
            if ways:
                found.append(InReach(device, min(ways)))
    return tuple(sorted(found, key=lambda each: (each.way, each.device.id)))


def _starts(survey: Survey, need: Need) -> tuple[geometry.Outline, ...]:
    place, room = need.place, survey.plan.rooms[need.place.room]
    if place.knows("point"):
        return ((place.point,),)
    if place.knows("counter"):
        return widest_footprints(survey.plan.counters[place.counter], room)
    return (room.outline,)


def _way(survey: Survey, level: str, start: geometry.Outline, point: geometry.Point) -> float | None:
    try:
        found = shortest_path(start, [point], barriers_on(survey, level, through=DOORWAYS), FARTHEST, budget=_BUDGET)
    except SearchTooLarge:
        return None
    return found.length if found else None


def _receptacles(survey: Survey) -> dict[str, list[tuple[Device, geometry.Point]]]:
    """Level to its receptacles for general use, with where the plug is."""
    found: dict[str, list[tuple[Device, geometry.Point]]] = {}
    for device in _for_use(survey):
        try:
            where = standing(survey, device)
        except UnknownFact:  # unknown: nothing is said to reach from a place that is not drawn
            continue
        found.setdefault(where.level, []).append((device, plug_of(where)))
    return found


def _for_use(survey: Survey) -> Iterator[Device]:
    for device in survey.plan.devices.values():
        if device.kind is not DeviceKind.RECEPTACLE or device.knows("part_of"):
            continue
        if device.knows("voltage") and reaches(device.voltage, _LINE_TO_LINE):
            continue
        if all(each.kind in CARRIED for each in appliances_served(survey, device)):
            yield device
