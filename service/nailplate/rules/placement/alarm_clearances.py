"""What a smoke alarm keeps clear of: cooking, the doors of bathrooms, fans and registers; and where in a room it would."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Part, Pointer, Room, UnknownFact
from nailplate.plan.trade import COOKING
from nailplate.plan.words import DeviceKind, FixtureKind, Use
from nailplate.survey.index import Survey
from nailplate.survey.lights import Placed, walk
from nailplate.survey.places import standing
from nailplate.survey.space import entrances

FARTHEST: Final = 240.0
"""Inches; the longest of the distances, 20 ft from cooking. What is farther away is not looked at."""
_STEAM: Final = frozenset({FixtureKind.TUB, FixtureKind.SHOWER})


class Nuisance(StrEnum):
    """What sets off an alarm that stands too near."""

    COOKING = "cooking"
    BATH = "bath"
    FAN = "fan"
    REGISTER = "register"


@dataclass(frozen=True, slots=True)
class Source:
    """One such thing. ``ring`` is its edge, or with ``needs`` the edge of the room that it stands somewhere in."""

    kind: Nuisance
    part: Part
    ring: geometry.Outline
    needs: tuple[Pointer, ...] = ()


@dataclass(frozen=True, slots=True)
class Near:
    """A source within 20 ft: how far in a straight line, and how far around walls where that is within the limit asked about."""

    source: Source
    straight: float


def sources_near(survey: Survey, alarm: Placed) -> list[Near]:
    """The sources within 20 ft of an alarm on its level, nearest first."""
    point = alarm.where.point
    grid = survey.once(_sources, alarm.where.level)
    found = [Near(each, _away(point, each.ring)) for each in grid.near(geometry.grown((*point, *point), FARTHEST))]
    return sorted((each for each in found if each.straight < FARTHEST), key=lambda each: each.straight)


def is_around_a_wall(survey: Survey, alarm: Placed, near: Near, limit: float) -> bool:
    """Whether walls make the way longer than ``limit`` though the straight line is not."""
    return walk(survey, alarm.where.level, near.source.ring, alarm.where.point, limit - geometry.DUST) is None


def unplaced_sources(survey: Survey, level: str) -> tuple[Pointer, ...]:
    """Pointers of what is missing of cooking appliances of which not even the room is drawn."""
    rooms = survey.plan.rooms
    return tuple(
        each.where("footprint")
        for each in survey.plan.appliances.values()
        if each.kind in COOKING and not each.knows("footprint")
        if not each.knows("room") or (rooms[each.room].level == level and not rooms[each.room].knows("outline"))
    )


def unplaced_fans(survey: Survey) -> tuple[Pointer, ...]:
    """Pointers of the places left out of ceiling fans."""
    return survey.once(_unplaced_fans)


def _unplaced_fans(survey: Survey) -> tuple[Pointer, ...]:
    found = []
    for device in survey.plan.devices.values():
        if device.kind is DeviceKind.FAN:
            try:
                standing(survey, device)
            except UnknownFact as unknown:
                found.append(unknown.pointer)
    return tuple(found)


def clear_spot(room: Room, sources: list[Near], limits: dict[Nuisance, float], near: geometry.Point) -> geometry.Point | None:
    """The place in a room that keeps clear of all these and is nearest to ``near``; None where there is none."""
    if not room.knows("outline"):
        return None
    spots = (spot for spot in _spots(room.outline) if all(_is_clear(spot, each.source, limits) for each in sources))
    return min(spots, key=lambda spot: (geometry.distance(spot, near), spot), default=None)


def _is_clear(spot: geometry.Point, source: Source, limits: dict[Nuisance, float]) -> bool:
    return _away(spot, source.ring) >= limits.get(source.kind, 0.0)


_STEP: Final = 6.0
_MOST_STEPS: Final = 40
_OFF_THE_WALL: Final = 6.0


def _spots(outline: geometry.Outline) -> Iterator[geometry.Point]:
    """Places over a room's floor at whole inches, half a foot apart, in large rooms farther."""
    left, bottom, right, top = geometry.grown(geometry.bounding_box(outline), -_OFF_THE_WALL)
    left, bottom = math.ceil(left), math.ceil(bottom)
    step = max(_STEP, math.ceil((right - left) / _MOST_STEPS), math.ceil((top - bottom) / _MOST_STEPS))
    for row in range(int((top - bottom) / step) + 1):
        for column in range(int((right - left) / step) + 1):
            spot = (left + column * step, bottom + row * step)
            if geometry.contains(outline, spot):
                yield spot


def _away(point: geometry.Point, ring: geometry.Outline) -> float:
    if len(ring) < 3:
        return min(geometry.distance_to_segment(point, (ring[0], end)) for end in ring)
    return geometry.distance_to_outline(point, ring)


# What there is on a level


def _sources(survey: Survey, level: str) -> geometry.Grid[Source]:
    found = [*_cooking(survey, level), *_baths(survey, level), *_fans(survey, level), *_registers(survey, level)]
    return geometry.Grid((geometry.bounding_box(each.ring), each) for each in found)


def _cooking(survey: Survey, level: str) -> Iterator[Source]:
    for appliance in survey.plan.appliances.values():
        if appliance.kind not in COOKING or not appliance.knows("room"):
            continue
        room = survey.plan.rooms[appliance.room]
        if room.level == level and appliance.knows("footprint"):
            yield Source(Nuisance.COOKING, appliance, appliance.footprint)
        elif room.level == level and room.knows("outline"):
            yield Source(Nuisance.COOKING, appliance, room.outline, (appliance.where("footprint"),))


def _baths(survey: Survey, level: str) -> Iterator[Source]:
    for room in survey.rooms_on_level.get(level, []):
        if not {Use.BATHROOM, Use.TOILET}.intersection(room.uses):
            continue
        fixtures = survey.fixtures_in_room.get(room.id, [])
        if fixtures and not any(each.kind in _STEAM for each in fixtures):
            continue
        needs = () if fixtures else (Pointer("/fixtures"),)
        for way in entrances(survey, room.id):
            yield Source(Nuisance.BATH, room, way.line, needs)


def _fans(survey: Survey, level: str) -> Iterator[Source]:
    """A ceiling fan by its center; how far its blades reach is asked for where it matters."""
    for device in survey.plan.devices.values():
        if device.kind is DeviceKind.FAN:
            try:
                where = standing(survey, device)
            except UnknownFact:  # unknown: the rule asks for the place by ``unplaced_fans``
                continue
            if where.level == level:
                yield Source(Nuisance.FAN, device, (where.point, where.point))


def _registers(survey: Survey, level: str) -> Iterator[Source]:
    for room in survey.rooms_on_level.get(level, []):
        for fixture in survey.fixtures_in_room.get(room.id, []):
            if fixture.kind is FixtureKind.SUPPLY_REGISTER and fixture.knows("outline"):
                yield Source(Nuisance.REGISTER, fixture, fixture.outline)
