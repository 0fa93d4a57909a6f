"""Wall spaces: unbroken runs of floor line, around corners and on from one zone of an open plan into the next."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Pointer, UnknownFact
from nailplate.plan.words import WallKind
from nailplate.survey.index import Survey
from nailplate.survey.places import room_at
from nailplate.survey.space.floor_line import Stretch, Surface, floor_line

JOINED = 2.0
"""Inches between the ends of two zones' walls that are one wall drawn in two outlines."""
_BACK = -0.5
"""Cosine of a turn at which a wall ends freely and its other face begins: that face is a wall space of its own."""


@dataclass(frozen=True, slots=True)
class Reading:
    """How what is left open is read: whether contested stretches are wall space, and which variant of facts left out holds."""

    contested_counts: bool = True
    variant: int = 0

    def is_wall(self, stretch: Stretch) -> bool:
        """Whether a stretch is wall space when read so."""
        if stretch.surface is not Surface.WALL or (stretch.contest and not self.contested_counts):
            return False
        return self.variant in stretch.variants


@dataclass(frozen=True, slots=True)
class WallSpace:
    """One unbroken run; ``starts`` tells where each of its stretches begins along it."""

    stretches: tuple[Stretch, ...]
    starts: tuple[float, ...]
    length: float
    closed: bool

    def pieces(self, start: float, end: float) -> Iterator[tuple[Stretch, float, float]]:
        """The parts of its stretches between two places of the run, by places of their edges."""
        for stretch, at in zip(self.stretches, self.starts, strict=True):
            one, two = max(start, at), min(end, at + stretch.length)
            if two - one > geometry.DUST:
                yield stretch, stretch.start + one - at, stretch.start + two - at

    @property
    def points(self) -> tuple[tuple[float, float], ...]:
        """Its two ends, and the point halfway along it between them."""
        places = (self.place(at) for at in (0.0, self.length / 2, self.length))
        return tuple(geometry.point_along(stretch.segment, along) for stretch, along in places)

    def place(self, at: float) -> tuple[Stretch, float]:
        """The stretch at a place of the run, and the place on its edge."""
        index = max(number for number, start in enumerate(self.starts) if start <= at + geometry.DUST)
        stretch = self.stretches[index]
        return stretch, min(stretch.end, stretch.start + at - self.starts[index])


@dataclass(frozen=True, slots=True)
class _Chain:
    """The unbroken wall of one room, and whether it ends at open plan before and after."""

    stretches: tuple[Stretch, ...]
    open_before: bool
    open_after: bool
    closed: bool = False


def floor_lines(survey: Survey, level: str, tops_break: bool) -> tuple[tuple[Stretch, ...], ...]:
    """The floor lines of a level's rooms that can be told; a room that asks for its own is answered with what is missing."""
    return survey.once(_told, level, tops_break)[0]


def untold(survey: Survey, level: str, tops_break: bool) -> tuple[Pointer, ...]:
    """What is missing for the floor lines of the level's other rooms, of those that have an outline."""
    return survey.once(_told, level, tops_break)[1]


def _told(survey: Survey, level: str, tops_break: bool) -> tuple[tuple[tuple[Stretch, ...], ...], tuple[Pointer, ...]]:
    lines, missing = [], []
    for room in survey.rooms_on_level.get(level, []):
        if not room.knows("outline"):
            continue
        try:
            lines.append(survey.once(floor_line, room.id, tops_break))
        except UnknownFact as unknown:
            missing.append(unknown.pointer)
    return tuple(lines), tuple(missing)


def inner_walls(survey: Survey, level: str, tops_break: bool) -> Mapping[str, tuple[str, ...]]:
    """Room id to the walls that stand inside its outline, on no room's floor line; free-standing dividers are not meant."""
    drawn = {stretch.wall.id for line in survey.once(floor_lines, level, tops_break) for stretch in line if stretch.wall}
    found: dict[str, tuple[str, ...]] = {}
    for wall in survey.walls_on_level.get(level, []):
        if wall.id in drawn or wall.kind in (WallKind.HALF, WallKind.RAILING):
            continue
        middle = ((wall.start[0] + wall.end[0]) / 2, (wall.start[1] + wall.end[1]) / 2)
        room = room_at(survey, level, middle)
        if room is not None:
            found[room.id] = (*found.get(room.id, ()), wall.id)
    return found


def wall_spaces(survey: Survey, level: str, tops_break: bool, reading: Reading) -> tuple[WallSpace, ...]:
    """Every wall space of a level, in the order of its rooms."""
    lines = survey.once(floor_lines, level, tops_break)
    chains = [chain for line in lines for chain in _chains(line, reading)]
    return tuple(_joined(chains))


def spaces_within(line: tuple[Stretch, ...], reading: Reading) -> tuple[WallSpace, ...]:
    """The wall spaces of one room's floor line alone, not followed into what an open plan goes on into."""
    return tuple(run_of(chain.stretches, closed=chain.closed) for chain in _chains(line, reading))


def _chains(line: tuple[Stretch, ...], reading: Reading) -> Iterator[_Chain]:
    walls = [reading.is_wall(stretch) for stretch in line]
    if all(walls):
        yield _Chain(line, open_before=False, open_after=False, closed=True)
        return
    first = walls.index(False)
    turned = [*range(first, len(line)), *range(first)]
    row: list[int] = []
    for index in (*turned, first):
        if walls[index]:
            row.append(index)
        elif row:
            yield _Chain(tuple(line[each] for each in row), _is_open(line, row[0] - 1), _is_open(line, index))
            row = []


def _is_open(line: tuple[Stretch, ...], index: int) -> bool:
    return line[index].surface is Surface.OPEN


def _joined(chains: list[_Chain]) -> Iterator[WallSpace]:
    following = _following(chains)
    led_to = set(following.values())
    seen: set[int] = set()
    # Rows with a beginning first; what is left after them runs round in a ring through several zones.
    for first in (*(index for index in range(len(chains)) if index not in led_to), *range(len(chains))):
        if first in seen:
            continue
        row, index = list[int](), first
        while index not in seen:
            seen.add(index)
            row.append(index)
            index = following.get(index, first)
        yield _space([chains[each] for each in row], closed=chains[first].closed or following.get(row[-1]) == first)


def _following(chains: list[_Chain]) -> dict[int, int]:
    """Chain to the chain of another zone that goes on where it ends."""
    starts = geometry.Grid(
        (geometry.grown((*point, *point), JOINED), index)
        for index, chain in enumerate(chains)
        if chain.open_before
        for point in (_start(chain),)
    )
    found: dict[int, int] = {}
    taken: set[int] = set()
    for index, chain in enumerate(chains):
        if not chain.open_after:
            continue
        end = _end(chain)
        near = [other for other in starts.near((*end, *end)) if other not in taken and _goes_on(chain, chains[other])]
        if near:
            found[index] = min(near, key=lambda other: geometry.distance(end, _start(chains[other])))
            taken.add(found[index])
    return found


def _goes_on(chain: _Chain, other: _Chain) -> bool:
    last, first = chain.stretches[-1], other.stretches[0]
    if last.room == first.room or geometry.distance(_end(chain), _start(other)) > JOINED:
        return False
    (ax, ay), (bx, by) = (geometry.left_normal(stretch.segment) for stretch in (last, first))
    return ax * bx + ay * by > _BACK


def _start(chain: _Chain) -> geometry.Point:
    return geometry.point_along(chain.stretches[0].segment, chain.stretches[0].start)


def _end(chain: _Chain) -> geometry.Point:
    return geometry.point_along(chain.stretches[-1].segment, chain.stretches[-1].end)


def _space(chains: Iterable[_Chain], closed: bool) -> WallSpace:
    return run_of([stretch for chain in chains for stretch in chain.stretches], closed=closed)


def run_of(stretches: Sequence[Stretch], *, closed: bool = False) -> WallSpace:
    """One run made of stretches that follow each other."""
    starts, at = [], 0.0
    for stretch in stretches:
        starts.append(at)
        at += stretch.length
    return WallSpace(tuple(stretches), tuple(starts), at, closed)
