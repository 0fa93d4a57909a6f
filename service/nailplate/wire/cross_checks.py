"""Faults of the drawing itself, where two facts of a plan cannot both be true. Only what is certain is a fault."""

import math
from collections.abc import Iterator

from nailplate.calc import geometry
from nailplate.plan import BoxEnd, Cable, DeviceEnd, Fault, FaultCode, Part, Plan, Pointer, WallPlace
from nailplate.plan.wiring import End
from nailplate.units import inches, shown, within

SLACK = 0.5
"""Inches that a place may lie beyond its wall's end before the drawing is called wrong; finishes and rounding make as much."""


def drawing_faults(plan: Plan) -> Iterator[Fault]:
    """Every such fault, in the document's order of maps."""
    yield from _wall_faults(plan)
    yield from _opening_faults(plan)
    yield from _outline_faults(plan)
    yield from _place_faults(plan)
    yield from _stair_faults(plan)
    yield from _circuit_faults(plan)
    yield from _cable_faults(plan)


def _wall_faults(plan: Plan) -> Iterator[Fault]:
    for wall in plan.walls.values():
        if _length(plan, wall.id) < 1e-6:
            yield Fault(wall.where("end"), FaultCode.BAD_GEOMETRY, "the wall ends where it begins; a wall has a length")


def _length(plan: Plan, wall_id: str) -> float:
    wall = plan.walls[wall_id]
    return math.dist(wall.start, wall.end)


def _opening_faults(plan: Plan) -> Iterator[Fault]:
    for opening in plan.openings.values():
        if opening.wall not in plan.walls:
            continue
        length = _length(plan, opening.wall)
        end = opening.along + opening.width
        if not within(end, length + SLACK):
            said = f"the opening ends {shown(inches(end))} along a wall that is {shown(inches(length))} long"
            yield Fault(opening.where("width"), FaultCode.BAD_GEOMETRY, said)
        if opening.knows("sill", "head") and opening.sill >= opening.head:
            said = f"the sill at {shown(inches(opening.sill))} is not below the head at {shown(inches(opening.head))}"
            yield Fault(opening.where("head"), FaultCode.BAD_GEOMETRY, said)


_OUTLINES = ("rooms", "stairs", "counters", "fixtures", "appliances")


def _outline_faults(plan: Plan) -> Iterator[Fault]:
    for map_name in _OUTLINES:
        for part in getattr(plan, map_name).values():
            for name in ("outline", "footprint", "bowl", "opening"):
                if name in type(part).__slots__ and part.knows(name):
                    yield from _ring_faults(getattr(part, name), part.where(name))


def _ring_faults(ring: geometry.Outline, pointer: Pointer) -> Iterator[Fault]:
    crossing = geometry.first_self_crossing(ring)
    if crossing is not None:
        x, y = crossing.place
        yield Fault(pointer, FaultCode.BAD_GEOMETRY, f"the outline crosses or touches itself at [{x:g}, {y:g}]")
    elif geometry.area(ring) < 1e-6:
        yield Fault(pointer, FaultCode.BAD_GEOMETRY, "the outline encloses no area")


def _place_faults(plan: Plan) -> Iterator[Fault]:
    for map_name in ("boxes", "devices", "panels"):
        for part in getattr(plan, map_name).values():
            if part.knows("at") and isinstance(part.at, WallPlace):
                yield from _beyond_the_wall(plan, part, part.at)


def _beyond_the_wall(plan: Plan, part: Part, place: WallPlace) -> Iterator[Fault]:
    if place.wall not in plan.walls or not place.knows("along"):
        return
    length = _length(plan, place.wall)
    if not within(place.along, length + SLACK):
        said = f"this is {shown(inches(place.along))} along a wall that is {shown(inches(length))} long"
        yield Fault(place.where("along"), FaultCode.BAD_GEOMETRY, said)


def _stair_faults(plan: Plan) -> Iterator[Fault]:
    for stair in plan.stairs.values():
        if stair.lower == stair.upper:
            yield Fault(stair.where("upper"), FaultCode.CONTRADICTION, "a stair joins two levels; both ends name the same")


def _circuit_faults(plan: Plan) -> Iterator[Fault]:
    for circuit in plan.circuits.values():
        if circuit.knows("multiwire") and circuit.multiwire.partner == circuit.id:
            yield Fault(circuit.multiwire.where("partner"), FaultCode.CONTRADICTION, "a circuit is not its own partner")


def _cable_faults(plan: Plan) -> Iterator[Fault]:
    for cable in plan.cables.values():
        if _end(cable, 0) == _end(cable, 1):
            yield Fault(cable.where("ends"), FaultCode.CONTRADICTION, "both ends of the cable are at the same place")


def _end(cable: Cable, index: int) -> tuple[str, str]:
    end: End = cable.ends[index]
    if isinstance(end, BoxEnd):
        return "boxes", end.box
    return ("devices", end.device) if isinstance(end, DeviceEnd) else ("panels", end.panel)
