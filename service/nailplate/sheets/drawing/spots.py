"""Where a part of the plan lies, for a drawing: its level and its point, and for what is on a wall the way into the room."""

from dataclasses import dataclass
from itertools import chain

from nailplate.calc.geometry import length_of, point_along
from nailplate.plan import (
    Appliance,
    Box,
    Cable,
    Circuit,
    Control,
    Counter,
    Device,
    Fixture,
    Opening,
    Panel,
    Part,
    Place,
    Plan,
    Pointer,
    Room,
    RoomPlace,
    Stair,
    Supply,
    UnknownFact,
    Wall,
    WallPlace,
)
from nailplate.plan.words import Side
from nailplate.sheets.drawing.svg import Point
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, beside_wall, point_on_wall, room_beside, standing
from nailplate.survey.wiring.circuit_trees import circuit_tree
from nailplate.survey.wiring.wiring_nodes import ends_of, part_at


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in the plane of a level; ``into`` is one inch long and leads from the wall into the room, None off walls."""

    level: str
    point: Point
    into: Point | None = None


def spot_of(survey: Survey, part: Part) -> Spot | None:
    """Where a part lies; None where the plan does not say it."""
    try:
        return _spot(survey, part)
    except UnknownFact:  # unknown: what has no place is listed beside the drawing
        return None


def part_of(plan: Plan, pointer: Pointer) -> Part | None:
    """The part that a pointer leads to or into."""
    members = pointer.members
    parts = getattr(plan, members[0], None) if len(members) > 1 else None
    return parts.get(members[1]) if isinstance(parts, dict) else None


def standing_of(survey: Survey, part: Device | Box | Panel) -> Standing | None:
    """Where a device, box or panel stands; None where the plan does not say it."""
    try:
        return standing(survey, part)
    except UnknownFact:  # unknown: what has no place is listed beside the drawing
        return None


def standing_at(survey: Survey, at: Place) -> Standing | None:
    """Where something with this place would stand; None where the place says too little."""
    try:
        if isinstance(at, RoomPlace):
            room = survey.plan.rooms[at.room]
            return Standing(room.level, at.point, room, None, None, at)
        return _on_wall(survey, at)
    except (UnknownFact, KeyError):  # unknown: what has no place is listed beside the drawing
        return None


def _on_wall(survey: Survey, at: WallPlace) -> Standing:
    wall = survey.plan.walls[at.wall]
    point = point_on_wall(wall, at.along)
    side = at.side if at.knows("side") else Side.LEFT
    return Standing(wall.level, beside_wall(wall, point, side, 0.0), room_beside(survey, wall, point, side), wall, side, at)


def _spot(survey: Survey, part: Part) -> Spot | None:
    match part:
        case Device() | Box() | Panel():
            return of_standing(standing(survey, part))
        case Room() | Stair():
            return Spot(part.level if isinstance(part, Room) else part.lower, middle_of(part.outline))
        case Wall():
            return Spot(part.level, point_on_wall(part, length_of((part.start, part.end)) / 2))
        case Opening():
            wall = survey.plan.walls[part.wall]
            return Spot(wall.level, point_on_wall(wall, part.along + part.width / 2))
        case Counter() | Fixture():
            shape = part.outline if part.knows("outline") or not isinstance(part, Counter) else part.back
            return Spot(survey.plan.rooms[part.room].level, middle_of(shape))
        case Appliance():
            return _of_appliance(survey, part)
        case _:
            return _of_wiring(survey, part)


def _of_appliance(survey: Survey, part: Appliance) -> Spot | None:
    if part.knows("footprint", "room"):
        return Spot(survey.plan.rooms[part.room].level, middle_of(part.footprint))
    if part.knows("outlet"):
        return _spot(survey, survey.plan.devices[part.outlet])
    return _spot(survey, survey.plan.rooms[part.room])


def _of_wiring(survey: Survey, part: Part) -> Spot | None:
    match part:
        case Cable():
            return _of_cable(survey, part)
        case Circuit():
            return _of_circuit(survey, part)
        case Control():
            return _spot(survey, survey.plan.devices[next(chain(part.switches, part.outlets))])
        case Supply():
            fed = (each for each in survey.plan.panels.values() if each.knows("supply") and each.supply == part.id)
            return next((spot for each in fed if (spot := spot_of(survey, each)) is not None), None)
        case _:
            return None


def _of_circuit(survey: Survey, circuit: Circuit) -> Spot | None:
    """At the first box of its first home run, else at its first device, else at its panel."""
    tree = circuit_tree(survey, circuit)
    for cable in tree.home_runs:
        for node in ends_of(survey, cable):
            if node != tree.panel:
                return _spot(survey, part_at(survey, node))
    devices = survey.devices_on_circuit.get(circuit.id, [])
    return _spot(survey, devices[0]) if devices else _spot(survey, survey.plan.panels[circuit.panel])


def _of_cable(survey: Survey, cable: Cable) -> Spot | None:
    """Halfway along its longest stretch, else at its far end."""
    stretches = [each for each in (cable.route if cable.knows("route") else ()) if each.knows("points", "level")]
    if not stretches:
        return _spot(survey, part_at(survey, ends_of(survey, cable)[1]))
    longest = max(stretches, key=lambda each: length_of((each.points[0], each.points[-1])))
    along = (longest.points[0], longest.points[-1])
    return Spot(longest.level, point_along(along, length_of(along) / 2))


def of_standing(at: Standing) -> Spot:
    """The spot of a part that stands somewhere."""
    if at.wall is None or at.side is None:
        return Spot(at.level, at.point)
    far = beside_wall(at.wall, at.point, at.side, 1.0)
    near = beside_wall(at.wall, at.point, at.side, 0.0)
    return Spot(at.level, at.point, (far[0] - near[0], far[1] - near[1]))


def middle_of(shape: "tuple[Point, ...]") -> Point:
    """The middle of a shape's bounding box."""
    xs, ys = [x for x, _ in shape], [y for _, y in shape]
    return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
