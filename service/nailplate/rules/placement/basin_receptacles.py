"""The receptacles of a basin's room as 210.52(D) requires them: how far off, on what, and how high."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Device, Fixture, Pointer, Room, RoomPlace, UnknownFact
from nailplate.plan.words import Listing, Mount, Side
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, room_beside, standing
from nailplate.survey.receptacles import PassedOver, passed_over, place_of, rating_needs, required_kind
from nailplate.survey.space import TOUCH, footprints
from nailplate.units import inches, reaches, shown, within

HIGHEST_RIM = 42.0
"""Inches; no basin stands higher (common practice). A receptacle high enough for it is so for any unstated rim."""
ADJACENT = 12.0
"""Inches from basin or counter within which a wall is surely adjacent to it (our own measure); farther off it is contested."""


@dataclass(frozen=True, slots=True)
class Near:
    """A receptacle near a basin. ``needs`` are the facts left out without which it is not known to serve it."""

    device: Device
    distance: float
    adjacent: bool
    needs: tuple[Pointer, ...]


@dataclass(frozen=True, slots=True)
class AtBasin:
    """What can be said of the receptacles in a basin's room; ``unplaced``: the places left out of others."""

    near: tuple[Near, ...]
    unplaced: tuple[Pointer, ...]


def at_basin(survey: Survey, basin: Fixture) -> AtBasin:
    """The receptacles that may serve a basin, nearest first. Raises UnknownFact where the basin's outline decides."""
    room = survey.plan.rooms[basin.room]
    placed, unplaced = survey.once(_candidates)
    near = _nearest(survey, basin, placed.get(room.id, ()))
    missing = tuple(pointer for device, pointer in unplaced if _may_be_in(survey, device, room))
    return AtBasin(tuple(sorted(near, key=lambda each: each.distance)), missing)


def _nearest(survey: Survey, basin: Fixture, candidates: Sequence[tuple[Device, Standing]]) -> list[Near]:
    """Those within reach in the plan's order, and with them the nearest of all; of the others nobody asks."""
    if not basin.knows("outline"):
        return [said for device, found in candidates if (said := _near(survey, basin, device, found)) is not None]
    box, enough = geometry.bounding_box(basin.outline), survey.inches("basin_reach") + geometry.DUST
    at_least = sorted((_to_box(found.on_floor_line, box), place) for place, (_, found) in enumerate(candidates))
    kept: dict[int, Near] = {}
    nearest = math.inf
    for least, place in at_least:
        if least > max(enough, nearest + geometry.DUST):
            break
        said = _near(survey, basin, *candidates[place])
        if said is not None:
            kept[place] = said
            nearest = min(nearest, said.distance)
    return [kept[place] for place in sorted(kept)]


def _to_box(point: geometry.Point, box: geometry.Box) -> float:
    """How far a point is from a rectangle, which is no farther than from what lies in it."""
    return math.hypot(max(box[0] - point[0], 0.0, point[0] - box[2]), max(box[1] - point[1], 0.0, point[1] - box[3]))


def not_for_basin(survey: Survey, basin: Fixture) -> tuple[PassedOver, ...]:
    """The receptacles within 3 ft of a basin that do not count for it, and why."""
    room = survey.plan.rooms[basin.room]
    found = [*passed_over(survey, room), *_too_low(survey, basin, room)]
    return tuple(
        each for each in found if within(geometry.distance_to_outline(each.point, basin.outline), survey.inches("basin_reach"))
    )


def _too_low(survey: Survey, basin: Fixture, room: Room) -> Iterator[PassedOver]:
    top = top_of(survey, basin)
    for device, where in survey.once(_candidates)[0].get(room.id, ()):
        if top is None or not where.place.knows("height") or device.is_(mount=Mount.COUNTERTOP):
            continue
        under = top - where.height
        if not within(under, survey.inches("below_basin_top")):
            why = f"it is {shown(inches(under))} below the basin's top, and {shown(survey.measure('below_basin_top'))} is the most"
            yield PassedOver(device, where.point, why)


def _candidates(survey: Survey) -> tuple[dict[str, list[tuple[Device, Standing]]], list[tuple[Device, Pointer]]]:
    """By room, the receptacles that may serve a basin in it; and those without a place, with what is missing of it."""
    placed: dict[str, list[tuple[Device, Standing]]] = {}
    unplaced: list[tuple[Device, Pointer]] = []
    for device in survey.plan.devices.values():
        if not _may_serve(device):
            continue
        try:
            found = standing(survey, device)
        except UnknownFact as unknown:
            unplaced.append((device, unknown.pointer))
            continue
        if found.room is not None:
            placed.setdefault(found.room.id, []).append((device, found))
    return placed, unplaced


def _may_serve(device: Device) -> bool:
    """Not one built into a medicine cabinet or luminaire, nor one in the floor or ceiling."""
    if not required_kind(device) or device.knows("part_of"):
        return False
    return not device.knows("mount") or device.mount in (Mount.WALL, Mount.COUNTERTOP, Mount.BELOW_COUNTER)


def _may_be_in(survey: Survey, device: Device, room: Room) -> bool:
    try:
        place = place_of(survey, device)
    except UnknownFact:  # unknown: it may be in any room
        return True
    if isinstance(place, RoomPlace):
        return place.room == room.id
    wall = survey.plan.walls[place.wall]
    if wall.level != room.level:
        return False
    middle = ((wall.start[0] + wall.end[0]) / 2, (wall.start[1] + wall.end[1]) / 2)
    sides = (place.side,) if place.knows("side") else tuple(Side)
    return any(room_beside(survey, wall, middle, side) is room for side in sides)


def _near(survey: Survey, basin: Fixture, device: Device, found: Standing) -> Near | None:
    """None if it is too high, too low, or on a top without the listing for it."""
    mount = device.mount if device.knows("mount") else None
    edge = _edge_of(survey, device, survey.plan.rooms[basin.room], found)
    if mount is Mount.COUNTERTOP:
        needs = _listed(device)
    elif edge is None and mount is None:
        needs = (device.where("mount"),)
    else:
        needs = _high_enough(survey, basin, found)
    if needs is None:
        return None
    on_cabinet = mount in (Mount.COUNTERTOP, Mount.BELOW_COUNTER)
    adjacent = on_cabinet or edge is None or adjacent_to(survey, basin, edge)
    distance = geometry.distance_to_outline(found.on_floor_line, basin.outline)
    return Near(device, distance, adjacent, (*rating_needs(device), *needs))


def _listed(device: Device) -> tuple[Pointer, ...] | None:
    if not device.knows("listing"):
        return (device.where("listing"),)
    return () if device.listing is Listing.COUNTERTOP else None


def _high_enough(survey: Survey, basin: Fixture, found: Standing) -> tuple[Pointer, ...] | None:
    """None if it is above reach or too far below the top, else the heights that are not stated and decide."""
    if not found.place.knows("height"):
        return (found.place.where("height"),)
    if not within(found.height, survey.inches("receptacle_highest")):
        return None
    top = top_of(survey, basin)
    if top is not None:
        return () if reaches(found.height, top - survey.inches("below_basin_top")) else None
    return () if reaches(found.height, HIGHEST_RIM - survey.inches("below_basin_top")) else (basin.where("height"),)


def top_of(survey: Survey, basin: Fixture) -> float | None:
    """How high the basin's counter, or the basin itself, stands, if the plan says it."""
    counter = survey.plan.counters[basin.counter] if basin.knows("counter") else None
    if counter is not None and counter.knows("height"):
        return counter.height
    return basin.height if basin.knows("height") else None


def _edge_of(survey: Survey, device: Device, room: Room, found: Standing) -> geometry.Segment | None:
    kept = survey.shelf(_edge_at)
    if (device, room) not in kept:
        kept[device, room] = _edge_at(room, found)
    return kept[device, room]


def _edge_at(room: Room, found: Standing) -> geometry.Segment | None:
    """The straight edge of the room that the receptacle is on. Without an outline, the wall's own line."""
    if room.knows("outline"):
        edge = min(geometry.sides(room.outline), key=lambda side: geometry.distance_to_segment(found.point, side))
        near = found.wall is not None or geometry.distance_to_segment(found.point, edge) <= TOUCH
        return edge if near else None
    return (found.wall.start, found.wall.end) if found.wall is not None else None


def adjacent_to(survey: Survey, basin: Fixture, edge: geometry.Segment) -> bool:
    """Whether a wall's edge is adjacent to a basin or to the counter that it is set in."""
    kept = survey.shelf(_is_adjacent)
    if (basin, edge) not in kept:
        kept[basin, edge] = _is_adjacent(survey, basin, edge)
    return kept[basin, edge]


def _is_adjacent(survey: Survey, basin: Fixture, edge: geometry.Segment) -> bool:
    return any(within(_distance(ring, edge), ADJACENT) for ring in (basin.outline, *_tops(survey, basin)))


def _distance(ring: geometry.Outline, edge: geometry.Segment) -> float:
    return min(geometry.distance_between_segments(side, edge) for side in geometry.sides(ring))


def _tops(survey: Survey, basin: Fixture) -> tuple[geometry.Outline, ...]:
    if not basin.knows("counter"):
        return ()
    try:
        return footprints(survey.plan.counters[basin.counter], survey.plan.rooms[basin.room])
    except UnknownFact:  # unknown: the basin's own outline tells what is adjacent, and farther walls are a judgement
        return ()
