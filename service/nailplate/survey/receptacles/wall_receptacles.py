"""Which receptacles count for wall spaces, and where on the floor line they stand.

Follows the list at the head of 210.52 and its (A)(3): 125 V, 15 or 20 A, at most 5 1/2 ft up, not in a cabinet, not part of
equipment, not switched in place of the room's light; in the floor only near the wall; none of the counter's own.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Device, Place, Pointer, RoomPlace, UnknownFact, WallPlace
from nailplate.plan.trade import LIGHTS_AND_FANS
from nailplate.plan.words import DeviceKind, Mount, Side, SwitchedHalf, WallKind
from nailplate.survey.index import Survey
from nailplate.survey.places import point_on_wall, room_beside, standing
from nailplate.survey.space import Stretch, Surface, floor_lines
from nailplate.units import within

RATINGS = (15.0, 20.0)
VOLTAGES = (110.0, 115.0, 120.0, 125.0)
"""125 V receptacles, by any usual nominal figure."""
_STRAY = 6.0
"""Inches that a place on a wall may lie past the end of the floor line: an outlet drawn in the thickness of a corner."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A receptacle on the floor line. ``needs`` are the facts left out without which it is not known to count."""

    device: Device
    room: str
    edge: int
    along: float
    needs: tuple[Pointer, ...] = ()


@dataclass(frozen=True, slots=True)
class Unplaced:
    """A receptacle of which the plan does not say where it is; ``rooms`` are those it may be in, None any."""

    need: Pointer
    rooms: frozenset[str] | None


@dataclass(frozen=True, slots=True)
class OnLevel:
    """The receptacles of a level that count, or may."""

    standing: tuple[Standing, ...]
    unplaced: tuple[Unplaced, ...]


def wall_receptacles(survey: Survey, level: str, tops_break: bool) -> OnLevel:
    """Every receptacle that counts or may count for wall spaces on a level, in the plan's order."""
    lines = survey.once(floor_lines, level, tops_break)
    index = _Lines(survey, level, lines)
    placed: list[Standing] = []
    unplaced: list[Unplaced] = []
    on_levels = survey.once(_on_levels)
    for device in (*on_levels.get(level, ()), *on_levels.get(None, ())):
        try:
            placed += index.standings(device)
        except UnknownFact as unknown:
            if (rooms := index.rooms(device)) is None or rooms:
                unplaced.append(Unplaced(unknown.pointer, rooms))
    return OnLevel(tuple(placed), tuple(unplaced))


def candidates(survey: Survey) -> tuple[Device, ...]:
    """Receptacles that may count wherever they stand."""
    return tuple(device for device in survey.plan.devices.values() if _may_count(device))


def _on_levels(survey: Survey) -> dict[str | None, list[Device]]:
    """The candidates by the level that they are on; None where no place is stated."""
    found: dict[str | None, list[Device]] = {}
    for device in survey.once(candidates):
        try:
            place = place_of(survey, device)
        except UnknownFact:  # unknown: it may be on any level, and is asked for there
            found.setdefault(None, []).append(device)
            continue
        part = survey.plan.rooms[place.room] if isinstance(place, RoomPlace) else survey.plan.walls[place.wall]
        found.setdefault(part.level, []).append(device)
    return found


def required_kind(device: Device) -> bool:
    """Whether a device may be one of the receptacles that 210.52 requires, as far as the plan says."""
    if device.kind is not DeviceKind.RECEPTACLE or (device.knows("in_cabinet") and device.in_cabinet):
        return False
    if device.knows("rating") and device.rating not in RATINGS:
        return False
    return not device.knows("voltage") or device.voltage in VOLTAGES


def rating_needs(device: Device) -> tuple[Pointer, ...]:
    """The ratings that the plan leaves out, without which it is not known to be a 125 V, 15 or 20 A receptacle."""
    return tuple(device.where(name) for name in ("rating", "voltage") if not device.knows(name))


def _may_count(device: Device) -> bool:
    if not required_kind(device):
        return False
    mount = device.mount if device.knows("mount") else None
    if mount in (Mount.COUNTERTOP, Mount.BELOW_COUNTER, Mount.CEILING):
        return False
    # A receptacle built into a baseboard heater serves the wall that the heater stands at (210.52, 424.9).
    return mount is Mount.BASEBOARD_HEATER or not device.knows("part_of")


def place_of(survey: Survey, device: Device) -> Place:
    """Where a device or its box is; raises UnknownFact."""
    if not device.knows("at") and device.knows("box"):
        return survey.plan.boxes[device.box].at
    return device.at


class _Lines:
    """The floor lines of a level, to find places on them by wall, room or nearness."""

    def __init__(self, survey: Survey, level: str, lines: tuple[tuple[Stretch, ...], ...]) -> None:
        self._survey = survey
        self._level = level
        self._on_wall: dict[str, list[Stretch]] = {}
        self._in_room: dict[str, list[Stretch]] = {}
        railings = []
        for stretch in (stretch for line in lines for stretch in line):
            self._in_room.setdefault(stretch.room, []).append(stretch)
            if stretch.wall is not None:
                self._on_wall.setdefault(stretch.wall.id, []).append(stretch)
                if stretch.wall.kind is WallKind.RAILING:
                    railings.append((geometry.bounding_box(stretch.segment), stretch))
        self._railings = geometry.Grid(railings)

    def standings(self, device: Device) -> Iterator[Standing]:
        """Where it stands on the floor lines of this level, if it does and is not too high. Raises UnknownFact."""
        place = place_of(self._survey, device)
        if place.knows("height") and not within(place.height, self._survey.inches("receptacle_highest")):
            return
        height = () if place.knows("height") or _in_floor(device) else (place.where("height"),)
        for stretch, along in self._places(device, place):
            switched = _switched(self._survey, device, stretch.room)
            if switched is not None:
                yield Standing(device, stretch.room, stretch.edge, along, (*rating_needs(device), *height, *switched))

    def rooms(self, device: Device) -> frozenset[str] | None:
        """The rooms of this level that a receptacle without a certain place may be in; None for any."""
        try:
            place = place_of(self._survey, device)
        except UnknownFact:  # unknown: it may be in any room
            return None
        if isinstance(place, RoomPlace):
            return frozenset({place.room}) & frozenset(self._in_room)
        return frozenset(stretch.room for stretch in self._on_wall.get(place.wall, []))

    def _places(self, device: Device, place: Place) -> list[tuple[Stretch, float]]:
        if isinstance(place, RoomPlace):
            return self._in_free_place(device, place) if self._survey.plan.rooms[place.room].level == self._level else []
        if self._survey.plan.walls[place.wall].level != self._level:
            return []
        return self._beside_wall(device, place)

    def _beside_wall(self, device: Device, place: WallPlace) -> list[tuple[Stretch, float]]:
        wall = self._survey.plan.walls[place.wall]
        point = point_on_wall(wall, place.along)
        stretches = self._on_wall.get(wall.id, [])
        sides = {stretch.side for stretch in stretches}
        if not stretches:
            return self._by_standing(device)
        if place.knows("side"):
            side: Side | None = place.side
        elif len(sides) == 1 and not self._room_on_both(wall.id, point):
            (side,) = sides
        else:
            raise UnknownFact(place.where("side"))
        return _nearest([(stretch, point) for stretch in stretches if stretch.side is side], _STRAY, across=False)

    def _room_on_both(self, wall_id: str, point: geometry.Point) -> bool:
        wall = self._survey.plan.walls[wall_id]
        return all(room_beside(self._survey, wall, point, side) is not None for side in Side)

    def _by_standing(self, device: Device) -> list[tuple[Stretch, float]]:
        """On a wall that no floor line runs along: on the nearest line of the room it stands in, if there is one."""
        found = standing(self._survey, device)
        room = found.room.id if found.room else ""
        return _nearest(
            [(stretch, found.point) for stretch in self._walls_of(room)], self._survey.inches("floor_receptacle_to_wall")
        )

    def _in_free_place(self, device: Device, place: RoomPlace) -> list[tuple[Stretch, float]]:
        point = place.point
        found = _nearest(
            [(stretch, point) for stretch in self._walls_of(place.room)], self._survey.inches("floor_receptacle_to_wall")
        )
        if _in_floor(device):
            # An open railing is one line that is used from both sides.
            box = geometry.grown((*point, *point), self._survey.inches("floor_receptacle_to_wall"))
            own = [stretch for stretch, _ in found]
            beyond = [(each, point) for each in self._railings.near(box) if _is_beyond(each, own, place.room)]
            found += _nearest(beyond, self._survey.inches("floor_receptacle_to_wall"))
        return found

    def _walls_of(self, room: str) -> list[Stretch]:
        return [stretch for stretch in self._in_room.get(room, []) if stretch.surface is Surface.WALL]


def stands_in_for_light(survey: Survey, device: Device, room: str) -> bool:
    """Whether a receptacle is switched whole in place of a room's light, so that it is none of the required ones."""
    return _switched(survey, device, room) is None


def _switched(survey: Survey, device: Device, room: str) -> tuple[Pointer, ...] | None:
    """None if it stands in for the room's switched light (210.70(A)(1) Ex. 1), else the facts that would tell."""
    half = device.switched_half if device.knows("switched_half") else None
    controlled = any(device.id in control.outlets for control in survey.controls_of.get(device.id, []))
    if half in (SwitchedHalf.UPPER, SwitchedHalf.LOWER) or not (controlled or half is SwitchedHalf.BOTH):
        return ()
    lit, may_be_lit = survey.once(_lit_rooms)
    if room in lit:
        return ()
    single = device.is_(contacts=1)
    half_needs = (device.where("switched_half"),) if half is None and not single else ()
    return (*half_needs, *may_be_lit) or None


def _is_beyond(stretch: Stretch, own: Sequence[Stretch], room: str) -> bool:
    """Whether a railing's stretch is the far side of what a floor receptacle stands beside: in another room, or in the same."""
    if stretch.room != room:
        return True
    return any(each.wall is stretch.wall and each.side is not stretch.side for each in own)


def _in_floor(device: Device) -> bool:
    return device.knows("mount") and device.mount is Mount.FLOOR


def _lit_rooms(survey: Survey) -> tuple[frozenset[str], tuple[Pointer, ...]]:
    """Rooms with a luminaire that a control switches, and the places left out of such luminaires: they may be in any room.

    In a room that is lit so a switched receptacle stands in for nothing.
    """
    lit: set[str] = set()
    unplaced: list[Pointer] = []
    for device in survey.plan.devices.values():
        controls = survey.controls_of.get(device.id, [])
        if device.kind not in LIGHTS_AND_FANS or not any(device.id in control.outlets for control in controls):
            continue
        try:
            room = standing(survey, device).room
        except UnknownFact as unknown:
            unplaced.append(unknown.pointer)
            continue
        if room is not None:
            lit.add(room.id)
    return frozenset(lit), tuple(unplaced)


def _nearest(
    places: Sequence[tuple[Stretch, geometry.Point]], reach: float, *, across: bool = True
) -> list[tuple[Stretch, float]]:
    """The nearest of the stretches and the place on it; ``across``: the distance off it counts, not just past its end."""
    found = [(_off(stretch, point, across), number) for number, (stretch, point) in enumerate(places)]
    if not found or not within(min(found)[0], reach):
        return []
    stretch, point = places[min(found)[1]]
    along = geometry.project(point, stretch.segment).along
    return [(stretch, min(max(along, stretch.start), stretch.end))]


def _off(stretch: Stretch, point: geometry.Point, across: bool) -> float:
    seen = geometry.project(point, stretch.segment)
    past = max(stretch.start - seen.along, seen.along - stretch.end, 0.0)
    return (past**2 + seen.offset**2) ** 0.5 if across else past
