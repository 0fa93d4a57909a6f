"""Islands and peninsulas: how large their tops are, into which spaces they fall, and which receptacles serve them, by edition.

A peninsula is measured from the wall that it is joined to (210.52(C)(2), from 2017). A sink or range with less than 12 in of top
behind it parts an island in two (210.52(C)(4) of 2017). Below the top a receptacle serves it until 2020 only: within 12 in, and
where the top overhangs by no more than 6 in.
"""

import math
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.calc.plan_shapes import Extent, extent
from nailplate.plan import Counter, Device, Pointer, Room, UnknownFact
from nailplate.plan.words import CounterKind, Listing, Mount
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, standing
from nailplate.survey.receptacles.counter_receptacles import above_top, in_top, kept_by_appliance
from nailplate.survey.receptacles.counter_units import Unit, units_at
from nailplate.survey.receptacles.room_receptacles import InRoom, receptacles_in
from nailplate.survey.space import TOUCH
from nailplate.units import reaches, within

DEEPEST_BASE = 30.0
"""Inches of another counter that may lie between a peninsula and its wall (common practice)."""


@dataclass(frozen=True, slots=True)
class Top:
    """The top of an island or peninsula. ``outer`` is the direction away from the wall, as a segment from the joined side."""

    counter: Counter
    outline: geometry.Outline
    extent: Extent
    area: float
    outer: geometry.Segment | None


@dataclass(frozen=True, slots=True)
class TopReceptacle:
    """A receptacle at a top, and the facts left out without which it is not known to serve it."""

    device: Device
    point: geometry.Point
    needs: tuple[Pointer, ...]


def top_of(survey: Survey, counter: Counter) -> Top:
    """The top of an island or peninsula. Raises UnknownFact where it is not drawn, or where a peninsula is joined."""
    outline = counter.outline
    if counter.kind is not CounterKind.PENINSULA:
        return Top(counter, outline, extent(outline), geometry.area(outline), None)
    joined = (counter.back[0], counter.back[-1])
    away = _away(outline, joined)
    to_wall = _to_the_wall(survey, counter, away)
    more = geometry.length_of(joined) * to_wall
    size = extent((*outline, *geometry.offset_segment(away, 0.0), *_drawn_out(joined, away, to_wall)))
    return Top(counter, outline, size, geometry.area(outline) + more, away)


def _away(outline: geometry.Outline, joined: geometry.Segment) -> geometry.Segment:
    """From the middle of the joined side to the outer end, square to that side."""
    middle = geometry.point_along(joined, geometry.length_of(joined) / 2)
    far = max((geometry.project(point, joined).offset for point in outline), key=abs)
    nx, ny = geometry.left_normal(joined)
    return (middle, (middle[0] + nx * far, middle[1] + ny * far))


def _drawn_out(joined: geometry.Segment, away: geometry.Segment, to_wall: float) -> geometry.Segment:
    forward = geometry.project(away[1], joined).offset > 0
    return geometry.offset_segment(joined, -to_wall if forward else to_wall)


def _to_the_wall(survey: Survey, counter: Counter, away: geometry.Segment) -> float:
    """How far behind the joined side the wall is, where another counter lies between; 0 where it is not near."""
    room = survey.plan.rooms[counter.room]
    if not room.knows("outline"):
        return 0.0
    behind = (away[0], geometry.point_along(away, -DEEPEST_BASE))
    seen = [
        geometry.distance(away[0], place)
        for side in geometry.sides(room.outline)
        if (place := geometry.meeting_place(behind, side)) is not None
    ]
    nearest = min(seen, default=0.0)
    return nearest if nearest > TOUCH else 0.0


# How many


def required_by_area(survey: Survey, top: Top) -> int:
    """The least number of receptacles by the area of the top (2020)."""
    over = top.area - survey.square_inches("top_area_for_first")
    further = survey.square_inches("top_area_for_further")
    return 1 if within(over, 0) else 1 + math.ceil(round(over / further, 9))


def parts_of(survey: Survey, top: Top) -> tuple[geometry.Interval, ...]:
    """The spaces along the top's long axis that sinks and ranges leave of it. Raises UnknownFact where their place decides."""
    room = survey.plan.rooms[top.counter.room]
    units = units_at(survey, room)
    for counter, need in units.undrawn:
        if counter == top.counter.id:
            raise UnknownFact(need)
    parting = [_along(top, unit) for unit in units.drawn if _stands_in(top, unit) and _parts(survey, top, unit)]
    return geometry.subtracted([(0.0, top.extent.long)], parting)


def large_enough(survey: Survey, top: Top, part: geometry.Interval) -> bool:
    """Whether a space of the top is 24 by 12 in or more."""
    one, two = sorted((part[1] - part[0], top.extent.short))
    return reaches(two, survey.inches("top_space_long")) and reaches(one, survey.inches("top_space_short"))


def _stands_in(top: Top, unit: Unit) -> bool:
    return geometry.contains(top.outline, geometry.centroid(unit.ring))


def _along(top: Top, unit: Unit) -> geometry.Interval:
    seen = [geometry.project(point, top.extent.axis).along for point in unit.ring]
    return min(seen), max(seen)


def _parts(survey: Survey, top: Top, unit: Unit) -> bool:
    """Whether less than 12 in of top lie behind a unit. Raises UnknownFact where it depends on which side one works from."""
    if unit.behind is not None:
        return not reaches(unit.behind, survey.inches("counter_behind_unit"))
    offsets = [geometry.project(point, top.extent.axis).offset for point in unit.ring]
    rims = (top.extent.short / 2 - max(offsets), top.extent.short / 2 + min(offsets))
    if not any(reaches(rim, survey.inches("counter_behind_unit")) for rim in rims):
        return True
    if all(reaches(rim, survey.inches("counter_behind_unit")) for rim in rims):
        return False
    raise UnknownFact(unit.part.where("depth_behind"))


# What serves it


def serving_top(survey: Survey, top: Top, *, below_serves: bool, only_flat: bool) -> tuple[TopReceptacle, ...]:
    """The receptacles that serve, or may serve, a top; ``only_flat``: below it only where nothing rises from the top (2017)."""
    found = (_serving(survey, top, each, below_serves, only_flat) for each in receptacles_at(survey, top.counter))
    return tuple(each for each in found if each is not None)


def within_outer_end(survey: Survey, top: Top, receptacle: TopReceptacle) -> bool:
    """Whether a receptacle is within 24 in of a peninsula's outer end; any is at an island."""
    if top.outer is None:
        return True
    along = geometry.project(receptacle.point, top.outer).along
    return within(geometry.length_of(top.outer) - along, survey.inches("peninsula_outer_end"))


def lies_in(top: Top, part: geometry.Interval, receptacle: TopReceptacle) -> bool:
    """Whether a receptacle belongs to one space of a top."""
    along = geometry.project(receptacle.point, top.extent.axis).along
    return part[0] - TOUCH <= along <= part[1] + TOUCH


def receptacles_at(survey: Survey, counter: Counter) -> list[InRoom]:
    """Receptacles at a counter's top or on its cabinet, in whatever zone of an open plan they stand."""
    level = survey.plan.rooms[counter.room].level
    box = geometry.grown(geometry.bounding_box(counter.outline), TOUCH)
    near = survey.once(_receptacles_on, level).near(box)
    return [each for each in near if geometry.contains(counter.outline, each.point, TOUCH)]


def _receptacles_on(survey: Survey, level: str) -> geometry.Grid[InRoom]:
    rooms: list[Room] = survey.rooms_on_level.get(level, [])
    found = (each for room in rooms for each in receptacles_in(survey, room).found)
    return geometry.Grid(((*each.point, *each.point), each) for each in found)


def _serving(survey: Survey, top: Top, each: InRoom, below_serves: bool, only_flat: bool) -> TopReceptacle | None:
    if kept_by_appliance(survey, each.device):
        return None
    mount = each.device.mount if each.device.knows("mount") else None
    where = standing(survey, each.device)
    if mount is Mount.COUNTERTOP:
        needs = in_top(survey, each.device, top.counter)
    elif mount in (Mount.FLOOR, Mount.DRAWER):
        return None
    else:
        needs = above_top(survey, top.counter, where)
        if needs is None and below_serves:
            needs = _below(survey, top, where, only_flat)
        if needs is None and mount is None and each.device.is_among(listing=_OF_A_TOP):
            needs = (each.device.where("mount"),)  # it may be set in the top
    return None if needs is None else TopReceptacle(each.device, each.point, tuple(dict.fromkeys((*needs, *each.needs))))


_OF_A_TOP = (Listing.COUNTERTOP, Listing.WORK_SURFACE)


def _below(survey: Survey, top: Top, where: Standing, only_flat: bool) -> tuple[Pointer, ...] | None:
    """None if a receptacle below the top does not serve it; heights are known here."""
    counter, under = top.counter, top.counter.height - where.height
    if reaches(0, under) or not within(under, survey.inches("island_receptacle_below_top")):
        return None
    if not within(overhang_at(counter, where.point), survey.inches("overhang_over_receptacle")):
        return None
    if not only_flat:
        return ()
    if not counter.knows("backsplash"):
        return (counter.where("backsplash"),)
    return () if within(counter.backsplash, 0) else None


def overhang_at(counter: Counter, point: geometry.Point) -> float:
    """How far the top reaches out over a receptacle on the cabinet under it: as stated at most, else as drawn."""
    drawn = geometry.distance_to_outline(point, counter.outline, filled=False)
    if not geometry.contains(counter.outline, point):
        drawn = 0.0
    return min(drawn, counter.overhang) if counter.knows("overhang") else drawn
