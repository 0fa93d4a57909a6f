"""Wall spaces in which a receptacle is missing, in every reading of what the plan and the code leave open.

What is missing in all readings is missing; what is missing in some hangs on a fact left out, or on contested words.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise, product

from nailplate.calc import geometry
from nailplate.calc.spacing import Coverage, coverage
from nailplate.codes.tables import RunLimits
from nailplate.plan import Device, Pointer, Room
from nailplate.plan.trade import HABITABLE
from nailplate.plan.words import Use
from nailplate.survey.index import Survey
from nailplate.survey.receptacles.wall_receptacles import Standing, wall_receptacles
from nailplate.survey.space import EVERY_VARIANT, Contest, Reading, Stretch, WallSpace, floor_lines, wall_spaces
from nailplate.units import Inches, reaches

Spot = tuple[str, int, float]
"""A place on a floor line: room, edge, how far along the edge."""
Patch = tuple[int, float, float]
"""A stretch of a room's floor line: edge, from, to."""


@dataclass(frozen=True, slots=True)
class Case:
    """One reading, and whether receptacles of which a fact is missing count in it."""

    reading: Reading
    all_count: bool


@dataclass(frozen=True, slots=True)
class Judged:
    """One wall space with the receptacles that serve it and the places along it that are out of reach of them."""

    space: WallSpace
    places: tuple[float, ...]
    devices: tuple[Device, ...]
    found: Coverage

    def short_in(self, room: str) -> tuple[Patch, ...]:
        """The parts of a room's floor line that are out of reach."""
        pieces = (piece for gap in self.found.gaps for piece in self.space.pieces(gap.start, gap.end))
        return tuple((stretch.edge, start, end) for stretch, start, end in pieces if stretch.room == room)


@dataclass(frozen=True, slots=True)
class Longest:
    """The worst way along a wall space: how long it is, how long it may be, and between which places."""

    measured: float
    limit: float
    start: float
    end: float
    inner: bool


def cases(survey: Survey, level: str, tops_break: bool) -> tuple[Case, ...]:
    """The cases to be looked at on a level: one if nothing is left open."""
    stretches = [stretch for line in survey.once(floor_lines, level, tops_break) for stretch in line]
    contested = (True, False) if any(stretch.contest for stretch in stretches) else (True,)
    variants = sorted(EVERY_VARIANT) if any(stretch.variants != EVERY_VARIANT for stretch in stretches) else [0]
    unsure = any(each.needs for each in survey.once(wall_receptacles, level, tops_break).standing)
    return tuple(
        Case(Reading(counts, variant), all_count)
        for counts, variant, all_count in product(contested, variants, (True, False) if unsure else (True,))
    )


def judged_spaces(survey: Survey, level: str, tops_break: bool, limits: RunLimits, case: Case) -> tuple[Judged, ...]:
    """Every wall space of the level, judged in one case."""
    spaces = [
        each
        for each in survey.once(wall_spaces, level, tops_break, case.reading)
        if not _is_ranges_alone(each, limits) and not _is_passages_alone(survey, each, limits)
    ]
    on_edge = survey.once(_on_edges, level, tops_break, case.all_count)
    return tuple(_judged(space, on_edge, limits) for space in spaces)


def _is_ranges_alone(space: WallSpace, limits: RunLimits) -> bool:
    """Whether what a range stands at makes no wall space longer, since the wall beside it is too short to be one."""
    behind = sum(stretch.length for stretch in space.stretches if stretch.contest is Contest.RANGE)
    return behind > 0 and not reaches(space.length - behind, limits.minimum)


def _is_passages_alone(survey: Survey, space: WallSpace, limits: RunLimits) -> bool:
    """Whether it is long enough only by what goes on into rooms that 210.52(A) does not name, as a hallway open to a living room."""
    lived_in = sum(stretch.length for stretch in space.stretches if _may_be_lived_in(survey.plan.rooms[stretch.room]))
    return lived_in < space.length and not reaches(lived_in, limits.minimum)


def _may_be_lived_in(room: Room) -> bool:
    return bool(HABITABLE.intersection(room.uses)) or Use.BASEMENT in room.uses


def judged_run(survey: Survey, level: str, tops_break: bool, limits: RunLimits, space: WallSpace, all_count: bool) -> Judged:
    """One run of a level's floor lines with the receptacles that stand on it."""
    return _judged(space, survey.once(_on_edges, level, tops_break, all_count), limits)


def _on_edges(survey: Survey, level: str, tops_break: bool, all_count: bool) -> dict[tuple[str, int], list[Standing]]:
    on_edge: dict[tuple[str, int], list[Standing]] = {}
    for each in survey.once(wall_receptacles, level, tops_break).standing:
        if all_count or not each.needs:
            on_edge.setdefault((each.room, each.edge), []).append(each)
    return on_edge


def judged_in_room(
    survey: Survey, level: str, tops_break: bool, limits: RunLimits, case: Case
) -> Mapping[str, tuple[Judged, ...]]:
    """Room id to the wall spaces that pass through it, judged in one case."""
    found: dict[str, list[Judged]] = {}
    for judged in survey.once(judged_spaces, level, tops_break, limits, case):
        for room in dict.fromkeys(stretch.room for stretch in judged.space.stretches):
            found.setdefault(room, []).append(judged)
    return {room: tuple(each) for room, each in found.items()}


def _judged(space: WallSpace, on_edge: dict[tuple[str, int], list[Standing]], limits: RunLimits) -> Judged:
    serving: dict[tuple[str, str, int], tuple[float, Device]] = {}
    for stretch, at in zip(space.stretches, space.starts, strict=True):
        for each in on_edge.get((stretch.room, stretch.edge), ()):
            if _lies_on(stretch, each.along):
                # A floor receptacle beside an open railing stands on both of its sides, which may be one wall space.
                serving.setdefault((each.device.id, each.room, each.edge), (at + each.along - stretch.start, each.device))
    ordered = sorted(serving.values(), key=lambda one: one[0])
    places = tuple(min(max(place, 0.0), space.length) for place, _ in ordered)
    found = coverage(Inches(space.length), [Inches(place) for place in places], limits, closed=space.closed)
    return Judged(space, places, tuple(dict.fromkeys(device for _, device in ordered)), found)


def _lies_on(stretch: Stretch, along: float) -> bool:
    return stretch.start - geometry.DUST <= along <= stretch.end + geometry.DUST


def longest_way(judged: Judged, room: str, limits: RunLimits) -> Longest:
    """The way along a wall space that is longest for what it may be, of those that pass through ``room``."""
    ways = _ways(judged, limits)
    inside = [way for way in ways if any(stretch.room == room for stretch, _, _ in _covered(judged.space, way))]
    return max(inside or ways, key=lambda way: (round(way.measured - way.limit, 6), way.limit, -way.start))


def _covered(space: WallSpace, way: Longest) -> Iterable[tuple[Stretch, float, float]]:
    if way.end <= space.length:
        return space.pieces(way.start, way.end)
    return [*space.pieces(way.start, space.length), *space.pieces(0.0, way.end - space.length)]


def _ways(judged: Judged, limits: RunLimits) -> list[Longest]:
    length, places = judged.space.length, judged.places
    if not places:
        return [Longest(length, limits.minimum, 0.0, length, inner=False)]
    between = [Longest(two - one, 2 * limits.reach, one, two, inner=True) for one, two in pairwise(places)]
    if judged.space.closed:
        around = places[0] + length
        return [*between, Longest(around - places[-1], 2 * limits.reach, places[-1], around, inner=True)]
    return [
        Longest(places[0], limits.reach, 0.0, places[0], inner=False),
        *between,
        Longest(length - places[-1], limits.reach, places[-1], length, inner=False),
    ]


def overlap(some: Iterable[Patch], others: Iterable[Patch]) -> bool:
    """Whether two parts of one room's floor line have any stretch in common."""
    by_edge: dict[int, list[geometry.Interval]] = {}
    for edge, start, end in others:
        by_edge.setdefault(edge, []).append((start, end))
    return any(
        max(start, one) + geometry.DUST < min(end, two) for edge, start, end in some for one, two in by_edge.get(edge, ())
    )


def needs_of(survey: Survey, level: str, tops_break: bool, spaces: Sequence[WallSpace], room: str) -> tuple[Pointer, ...]:
    """The facts left out that decide about these wall spaces: of walls, of receptacles on them, of those without a place."""
    found = [need for space in spaces for stretch in space.stretches for need in stretch.needs]
    on_edge = survey.once(_on_edges, level, tops_break, _EVERY)
    edges = dict.fromkeys((stretch.room, stretch.edge) for space in spaces for stretch in space.stretches)
    found += [need for edge in edges for each in on_edge.get(edge, ()) for need in each.needs]
    found += unplaced_needs(survey, level, tops_break, room)
    return tuple(dict.fromkeys(found))


def unplaced_needs(survey: Survey, level: str, tops_break: bool, room: str) -> list[Pointer]:
    """The places left out of receptacles that may stand in the room."""
    unplaced = survey.once(_unplaced_in, level, tops_break)
    return [*unplaced.get(room, ()), *unplaced.get(None, ())]


_EVERY = True
"""Those of which a fact is missing count too."""


def _unplaced_in(survey: Survey, level: str, tops_break: bool) -> dict[str | None, list[Pointer]]:
    """By room, the places left out of receptacles; None for those that may be in any."""
    found: dict[str | None, list[Pointer]] = {}
    for each in survey.once(wall_receptacles, level, tops_break).unplaced:
        for room in (None,) if each.rooms is None else sorted(each.rooms):
            found.setdefault(room, []).append(each.need)
    return found


def counted_enough(space: WallSpace, limits: RunLimits) -> bool:
    """Whether a run is long enough to be a wall space of the code."""
    return reaches(space.length, limits.minimum)
