"""Faults of the drawing itself, where two facts of a plan cannot both be true. Only what is certain is a fault."""

import math
from collections import deque
from collections.abc import Iterable, Iterator
from itertools import groupby, pairwise
from typing import Final

from nailplate.calc import geometry
from nailplate.calc.framing import DEPTHS
from nailplate.plan import BoxEnd, Cable, DeviceEnd, Fault, FaultCode, Opening, Plan, Pointer, Segment, Wall, WallPlace
from nailplate.plan.cables import End
from nailplate.plan.faults import UNITS_HINT
from nailplate.plan.marks import LONGEST
from nailplate.plan.trade import OUTSIDE_THE_WALLS, YOKED
from nailplate.plan.words import FedFrom, LevelKind, OpeningKind, WallKind
from nailplate.units import inches, reaches, shown, within

SLACK = 0.5
"""Inches that a place may lie beyond its wall's end before the drawing is called wrong; finishes and rounding make as much."""


STUD: Final = 1.25
"""Inches: studs of light steel are no thinner (common practice); those of wood are 1-1/2 in."""


def drawing_faults(plan: Plan) -> Iterator[Fault]:
    """Every such fault, in the document's order of maps."""
    yield from _wall_faults(plan)
    yield from _stud_faults(plan)
    yield from _reach_faults(plan)
    yield from _opening_faults(plan)
    yield from _overlap_faults(plan)
    yield from _outline_faults(plan)
    yield from _outside_faults(plan)
    yield from _line_faults(plan)
    yield from _place_faults(plan)
    yield from _stair_faults(plan)
    yield from _circuit_faults(plan)
    yield from _cable_faults(plan)
    yield from _feed_through_faults(plan)
    yield from _yoke_faults(plan)
    yield from _need_faults(plan)


def _wall_faults(plan: Plan) -> Iterator[Fault]:
    for wall in plan.walls.values():
        if _length(plan, wall.id) < geometry.DUST:
            yield Fault(wall.where("end"), FaultCode.BAD_GEOMETRY, "the wall ends where it begins; a wall has a length")


def _stud_faults(plan: Plan) -> Iterator[Fault]:
    """Studs said one by one beyond their wall's end, or closer than they are thick. A layout past the end of a short wall gives it none."""
    for wall in plan.walls.values():
        if wall.knows("framing") and wall.framing.knows("spacing") and not reaches(wall.framing.spacing, STUD):
            said = f"studs {shown(inches(wall.framing.spacing))} on center would stand in one another; they are {shown(inches(STUD))} thick"
            yield Fault(wall.framing.where("spacing"), FaultCode.BAD_GEOMETRY, said)
        if wall.knows("framing") and wall.framing.knows("studs"):
            length, farthest = _length(plan, wall.id), max(wall.framing.studs, default=0.0)
            if not within(farthest, length + SLACK):
                said = f"a stud {shown(inches(farthest))} along a wall that is {shown(inches(length))} long"
                yield Fault(wall.framing.where("studs"), FaultCode.BAD_GEOMETRY, said)


def _reach_faults(plan: Plan) -> Iterator[Fault]:
    """Parts that reach farther than a small house does: rules walk along walls and tops, and may not walk for ever."""
    hint = "" if plan.knows("units") else UNITS_HINT
    for pointer, points in _drawn_points(plan):
        left, bottom, right, top = geometry.bounding_box(points)
        reach = max(right - left, top - bottom)
        if not within(reach, LONGEST):
            said = f"this reaches {shown(inches(reach))}; at most {shown(inches(LONGEST))} was wanted{hint}"
            yield Fault(pointer, FaultCode.BAD_GEOMETRY, said)


def _drawn_points(plan: Plan) -> Iterator[tuple[Pointer, Iterable[geometry.Point]]]:
    """What is drawn in points, and where the plan says it. The route of a cable may cross the land."""
    yield from ((wall.where("end"), (wall.start, wall.end)) for wall in plan.walls.values())
    for map_name in _OUTLINES:
        for part in getattr(plan, map_name).values():
            for name in ("outline", "footprint", "bowl", "opening", "back"):
                if name in type(part).__slots__ and part.knows(name):
                    yield part.where(name), getattr(part, name)
    yield from ((device.where("track"), device.track) for device in plan.devices.values() if device.knows("track"))


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


_REACHES_THE_FLOOR: Final = frozenset(OpeningKind) - {OpeningKind.WINDOW, OpeningKind.FIXED_GLASS}
_NEIGHBOURS: Final = 20
"""Openings of one wall that each is held against; more do not stand over each other in a house."""


def _overlap_faults(plan: Plan) -> Iterator[Fault]:
    """Openings in one wall where another is. A light over a door is none: both height and way along must overlap."""
    placed = [opening for opening in plan.openings.values() if _lower_edge(opening) is not None]
    by_wall = sorted(placed, key=lambda opening: (opening.wall, opening.along))
    for _, openings in groupby(by_wall, key=lambda opening: opening.wall):
        yield from _overlaps(openings)


def _overlaps(openings: Iterable[Opening]) -> Iterator[Fault]:
    earlier: deque[Opening] = deque(maxlen=_NEIGHBOURS)
    for opening in openings:
        other = next((each for each in earlier if _overlap(each, opening)), None)
        if other is not None:
            along = shown(inches(min(other.along + other.width, opening.along + opening.width) - opening.along))
            said = f"this opening and {other.id!r} overlap by {along} along their wall"
            yield Fault(opening.where("along"), FaultCode.BAD_GEOMETRY, said)
        earlier.append(opening)


def _overlap(left: Opening, right: Opening) -> bool:
    """Whether two openings certainly overlap; ``left`` begins first."""
    if within(left.along + left.width, right.along + SLACK):
        return False
    low, high = sorted((left, right), key=lambda opening: _lower_edge(opening) or 0.0)
    rise = (_lower_edge(high) or 0.0) - (_lower_edge(low) or 0.0)
    return rise < geometry.DUST or (low.knows("head") and not within(low.head, _lower_edge(high) or 0.0))


def _lower_edge(opening: Opening) -> float | None:
    """The height at which an opening begins, if that is known."""
    if opening.knows("sill"):
        return opening.sill
    return 0.0 if opening.kind in _REACHES_THE_FLOOR else None


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
    elif geometry.area(ring) < geometry.DUST:
        yield Fault(pointer, FaultCode.BAD_GEOMETRY, "the outline encloses no area")


_OUTSIDE: Final = 12.0
"""Inches that a room may reach past the walls of its level before the drawing is called wrong."""


def _outside_faults(plan: Plan) -> Iterator[Fault]:
    """Rooms beyond the outside walls of their level, where those are drawn all around."""
    by_level: dict[str, list[Wall]] = {}
    for wall in plan.walls.values():
        by_level.setdefault(wall.level, []).append(wall)
    around = {level.id: _walls_around(by_level.get(level.id, [])) for level in plan.levels.values() if level.kind in _WALLED}
    for room in plan.rooms.values():
        walls = around.get(room.level)
        if walls is None or not room.knows("outline") or OUTSIDE_THE_WALLS.intersection(room.uses):
            continue
        left, bottom, right, top = geometry.bounding_box(room.outline)
        past = max(walls[0] - left, walls[1] - bottom, right - walls[2], top - walls[3])
        if not within(past, _OUTSIDE):
            said = f"the room reaches {shown(inches(past))} past the outside walls of its level"
            yield Fault(room.where("outline"), FaultCode.BAD_GEOMETRY, said)


_WALLED: Final = (LevelKind.STOREY, LevelKind.BASEMENT)


def _walls_around(walls: list[Wall]) -> geometry.Box | None:
    """The rectangle around a level's walls, if its outside walls are drawn without a gap."""
    outside = [wall for wall in walls if wall.kind is WallKind.EXTERIOR]
    ends = geometry.Grid(((*end, *end), wall.id) for wall in outside for end in (wall.start, wall.end))
    for wall in outside:
        for end in (wall.start, wall.end):
            if not any(other != wall.id for other in ends.near(geometry.grown((*end, *end), _OUTSIDE))):
                return None
    return geometry.bounding_box([end for wall in walls for end in (wall.start, wall.end)]) if outside else None


def _line_faults(plan: Plan) -> Iterator[Fault]:
    for counter in plan.counters.values():
        if counter.knows("back") and sum(math.dist(one, two) for one, two in pairwise(counter.back)) < geometry.DUST:
            yield Fault(counter.where("back"), FaultCode.BAD_GEOMETRY, "the back line has no length")


def _place_faults(plan: Plan) -> Iterator[Fault]:
    for place in _places(plan):
        if isinstance(place, WallPlace):
            yield from _beyond_the_wall(plan, place)


def _places(plan: Plan) -> Iterator[object]:
    """Every place that the plan gives anything."""
    supplies = plan.supplies.values()
    yield from (supply.inlet for supply in supplies if supply.knows("inlet"))
    emergency = [supply.emergency_disconnect for supply in supplies if supply.knows("emergency_disconnect")]
    main = [supply.disconnect for supply in supplies if supply.knows("disconnect")]
    disconnects = [*main, *(each.disconnect for each in plan.appliances.values() if each.knows("disconnect"))]
    yield from (each.at for each in (*disconnects, *emergency) if each.knows("at"))
    for parts in (plan.boxes, plan.devices, plan.panels):
        yield from (part.at for part in parts.values() if part.knows("at"))


def _beyond_the_wall(plan: Plan, place: WallPlace) -> Iterator[Fault]:
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
        for segment in cable.route if cable.knows("route") else ():
            if segment.knows("points", "heights") and len(segment.points) != len(segment.heights):
                said = f"{len(segment.heights)} heights were found for {len(segment.points)} points; each point has one"
                yield Fault(segment.where("heights"), FaultCode.CONTRADICTION, said)
            yield from _segment_faults(plan, segment)


def _segment_faults(plan: Plan, segment: Segment) -> Iterator[Fault]:
    """Stretches of no length, and cuts that no member can have."""
    if segment.knows("points", "heights") and len(set(segment.points)) == len(set(segment.heights)) == 1:
        yield Fault(segment.where("points"), FaultCode.BAD_GEOMETRY, "this stretch of the route ends where it begins")
    if segment.knows("hole", "notch_depth"):
        said = "a hole and a notch are stated of one place; a member is not cut twice in one section"
        yield Fault(segment.where("notch_depth"), FaultCode.CONTRADICTION, said)
    depth = _member_depth(plan, segment)
    if depth is None:
        return
    if segment.knows("notch_depth") and not within(segment.notch_depth, depth):
        yield Fault(segment.where("notch_depth"), FaultCode.BAD_GEOMETRY, _too_large("notch", segment.notch_depth, depth))
    if segment.knows("hole") and not within(segment.hole.diameter, depth):
        yield Fault(segment.hole.where("diameter"), FaultCode.BAD_GEOMETRY, _too_large("hole", segment.hole.diameter, depth))
    elif segment.knows("hole") and segment.hole.knows("centre_offset") and not within(segment.hole.centre_offset, depth / 2):
        said = f"the hole's center is {shown(inches(segment.hole.centre_offset))} from the middle of a member {shown(inches(depth))} deep"
        yield Fault(segment.hole.where("centre_offset"), FaultCode.BAD_GEOMETRY, said)


def _member_depth(plan: Plan, segment: Segment) -> float | None:
    """As the route states its member, else as the framing of its wall does."""
    if segment.knows("member"):
        return DEPTHS[segment.member]
    wall = plan.walls.get(segment.wall) if segment.knows("wall") else None
    if wall is None or segment.knows("role") or not wall.knows("framing") or not wall.framing.knows("member"):
        return None
    return DEPTHS[wall.framing.member]


def _too_large(cut: str, size: float, depth: float) -> str:
    return f"the {cut} is {shown(inches(size))} and its member {shown(inches(depth))} deep"


def _end(cable: Cable, index: int) -> tuple[str, str]:
    end: End = cable.ends[index]
    if isinstance(end, BoxEnd):
        return "boxes", end.box
    return ("devices", end.device) if isinstance(end, DeviceEnd) else ("panels", end.panel)


def _feed_through_faults(plan: Plan) -> Iterator[Fault]:
    for device in plan.devices.values():
        if device.knows("feed_through_source") and device.feed_through_source == device.id:
            said = "a device is not fed from its own LOAD side"
            yield Fault(device.where("feed_through_source"), FaultCode.CONTRADICTION, said)
        elif device.knows("feed_through_source", "fed_from") and device.fed_from is FedFrom.CIRCUIT:
            said = "the device names a LOAD side that feeds it, and is said to be fed from the circuit itself"
            yield Fault(device.where("fed_from"), FaultCode.CONTRADICTION, said)


def _yoke_faults(plan: Plan) -> Iterator[Fault]:
    """Halves of a combination device are in one box, and one of them stands for the yoke."""
    for device in plan.devices.values():
        head = plan.devices.get(device.yoke_with) if device.knows("yoke_with") else None
        if head is None:
            continue
        where = device.where("yoke_with")
        if head is device:
            yield Fault(where, FaultCode.CONTRADICTION, "a device shares the yoke of another one, not its own")
        elif head.knows("yoke_with"):
            said = f"{head.id!r} is on the yoke of {head.yoke_with!r} itself; name the device that stands for the yoke"
            yield Fault(where, FaultCode.CONTRADICTION, said)
        elif device.knows("box") and head.knows("box") and device.box != head.box:
            yield Fault(
                where,
                FaultCode.CONTRADICTION,
                f"{head.id!r} is in box {head.box!r} and this one in {device.box!r}; one yoke is in one box",
            )
        elif not {device.kind, head.kind} <= YOKED:
            yield Fault(where, FaultCode.CONTRADICTION, "only switches, receptacles and other wiring devices are on a yoke")


def _need_faults(plan: Plan) -> Iterator[Fault]:
    for need in plan.needs.values():
        place = need.place if need.knows("place") else None
        room = plan.rooms.get(place.room) if place is not None and place.knows("room") else None
        if place is None or room is None:
            continue  # told already: the plan has other faults
        counter = plan.counters.get(place.counter) if place.knows("counter") else None
        if counter is not None and counter.knows("room") and counter.room != room.id:
            said = f"counter {counter.id} stands in {counter.room}, not in {room.id}"
            yield Fault(place.where("counter"), FaultCode.CONTRADICTION, said)
        if place.knows("point") and room.knows("outline") and geometry.distance_to_outline(place.point, room.outline) > 0:
            yield Fault(place.where("point"), FaultCode.CONTRADICTION, f"the point lies outside room {room.id}")
