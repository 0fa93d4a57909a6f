"""Which receptacles serve a counter, and where along its back line they stand.

Follows 210.52(C): on or above the top by no more than 20 in, or in the top and listed for it; not in a cabinet, not kept by an
appliance that is fastened in place or has a space of its own.
"""

from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Counter, Device, Fixture, Pointer, Room, WallPlace
from nailplate.plan.trade import STAND_ON_COUNTERS
from nailplate.plan.words import Listing, Mount
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, standing
from nailplate.survey.protection import appliances_served
from nailplate.survey.receptacles.counter_lines import CounterSpace
from nailplate.survey.receptacles.counter_units import sinks_in
from nailplate.survey.receptacles.room_receptacles import InRoom, receptacles_in
from nailplate.survey.space import TOUCH
from nailplate.units import reaches, within

IN_TOP = (Listing.COUNTERTOP, Listing.WORK_SURFACE)


@dataclass(frozen=True, slots=True)
class Serving:
    """A receptacle at a counter space: how far along it, how far off the wall line, and whether it is on a side wall.

    ``needs`` are the facts left out without which it is not known to serve the counter.
    """

    device: Device
    along: float
    off: float
    on_side_wall: bool
    needs: tuple[Pointer, ...]


def serving(survey: Survey, room: Room, found: CounterSpace) -> tuple[Serving, ...]:
    """The receptacles that serve, or may serve, a wall counter space."""
    each_of = (_at(survey, room, found, each) for each in receptacles_in(survey, room).found)
    return tuple(sorted((each for each in each_of if each is not None), key=lambda each: (each.along, each.device.id)))


def kept_by_appliance(survey: Survey, device: Device) -> bool:
    """Whether an appliance that is fastened, or stands in a space of its own, keeps the receptacle for itself."""
    if device.knows("dedicated_space"):
        return True
    served = appliances_served(survey, device)
    return any(each.kind not in STAND_ON_COUNTERS or (each.knows("fastened") and each.fastened) for each in served)


def above_top(survey: Survey, counter: Counter, where: Standing) -> tuple[Pointer, ...] | None:
    """None if a receptacle is not on or above the top within reach, else the heights left out that would tell."""
    needs = [part.where("height") for part in (where.place, counter) if not part.knows("height")]
    if needs:
        return tuple(needs)
    over = where.height - counter.height
    return () if reaches(over, 0) and within(over, survey.inches("counter_receptacle_above_top")) else None


def in_top(survey: Survey, device: Device, counter: Counter) -> tuple[Pointer, ...] | None:
    """None if a receptacle in the top has no listing for it, else the facts left out that would tell.

    An assembly for work surfaces does not do where a sink is set in the top (406.5(E), (F)).
    """
    if not device.knows("listing"):
        return (device.where("listing"),)
    if device.listing is Listing.WORK_SURFACE and has_sink(survey, counter):
        return None
    return () if device.listing in IN_TOP else None


def has_sink(survey: Survey, counter: Counter) -> bool:
    """Whether a sink is set in a counter, as far as the plan says or draws it."""
    return any(_set_in(counter, sink, ring) for sink, ring in sinks_in(survey, survey.plan.rooms[counter.room]))


def _set_in(counter: Counter, sink: Fixture, ring: geometry.Outline) -> bool:
    if sink.knows("counter"):
        return sink.counter == counter.id
    return counter.knows("outline") and geometry.contains(counter.outline, geometry.centroid(ring))


def _at(survey: Survey, room: Room, found: CounterSpace, each: InRoom) -> Serving | None:
    placed = along_space(found, each.point)
    if placed is None or kept_by_appliance(survey, each.device):
        return None
    number, along, off = placed
    stretch = found.space.stretches[number]
    where = standing(survey, each.device)
    counter = found.counter
    mount = each.device.mount if each.device.knows("mount") else None
    if mount is Mount.COUNTERTOP:
        needs = in_top(survey, each.device, counter)
    elif mount in (Mount.BELOW_COUNTER, Mount.FLOOR, Mount.DRAWER):
        return None
    else:
        needs = above_top(survey, counter, where)
    if needs is None:
        return None
    at_end = within(along, TOUCH) or reaches(along, found.space.length - TOUCH)
    side = off > 0 and isinstance(where.place, WallPlace) and where.wall is not stretch.wall and at_end
    return Serving(each.device, along, off, side, (*needs, *(n for n in each.needs if n not in needs)))


def along_space(found: CounterSpace, point: geometry.Point) -> tuple[int, float, float] | None:
    """The stretch in front of which a point lies, how far along the space, and how far off the wall line."""
    space, depth = found.space, found.counter.depth if found.counter.knows("depth") else 0.0
    best: tuple[float, int, float] | None = None
    for number, (stretch, at) in enumerate(zip(space.stretches, space.starts, strict=True)):
        seen = geometry.project(point, stretch.segment)
        abreast = reaches(seen.along, stretch.start) and within(seen.along, stretch.end)
        if abreast and -TOUCH <= seen.offset <= max(depth, TOUCH) + geometry.DUST:
            one = (abs(seen.offset), number, at + seen.along - stretch.start)
            best = one if best is None or one[0] < best[0] else best
    if best is None:
        return None
    off, number, along = best
    return number, along, off if off > TOUCH else 0.0
