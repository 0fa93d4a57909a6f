"""Receptacles in, on and below counters: which counter a receptacle belongs to, and how far below and beside the top it is."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Counter, Device, UnknownFact
from nailplate.plan.trade import FULL_WALLS
from nailplate.plan.words import CounterKind, Mount
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, standing
from nailplate.survey.space import TOUCH, footprints, wall_grid

_OFF_THE_WALL = 0.5


@dataclass(frozen=True, slots=True)
class NearTop:
    """A receptacle near a counter's top: how far below the top's height it is, and how far beside its edge (0 under the top)."""

    counter: Counter
    where: Standing
    below: float
    beside: float

    @property
    def straight(self) -> float:
        """The straight way from the edge of the top to the receptacle."""
        return math.hypot(self.below, self.beside)


def counter_of(survey: Survey, device: Device) -> Counter | None:
    """The counter in whose top, or on whose cabinet, a receptacle is drawn. Raises UnknownFact where its place decides."""
    where = standing(survey, device)
    near = [each for each in _around(survey, where, TOUCH) if _beside(survey, each, where.point) <= TOUCH]
    return min(near, key=lambda each: (_beside(survey, each, where.point), each.id), default=None)


def nearest_top(survey: Survey, device: Device) -> NearTop | None:
    """The counter whose top a receptacle is nearest to from below, within reach and not behind a wall. Raises UnknownFact."""
    where = standing(survey, device)
    found = []
    for counter in _around(survey, where, survey.inches("clear_below_counter")):
        beside = _beside(survey, counter, where.point)
        below = counter.height - where.height if beside < survey.inches("clear_below_counter") else 0.0
        if below > geometry.DUST and not _walled_off(survey, counter, where):
            found.append(NearTop(counter, where, below, beside))
    return min(found, key=lambda each: (each.straight, each.counter.id), default=None)


def on_cabinet(device: Device) -> bool:
    """Whether a receptacle is said to be on the cabinet under a top."""
    return device.is_(mount=Mount.BELOW_COUNTER)


def _around(survey: Survey, where: Standing, by: float) -> list[Counter]:
    return survey.once(_counters_on, where.level).near(geometry.grown((*where.point, *where.point), by))


def _counters_on(survey: Survey, level: str) -> geometry.Grid[Counter]:
    return geometry.Grid(_boxed(survey, level))


def _boxed(survey: Survey, level: str) -> Iterator[tuple[geometry.Box, Counter]]:
    for room in survey.rooms_on_level.get(level, []):
        for counter in survey.counters_in_room.get(room.id, []):
            if counter.kind is CounterKind.TALL_CABINET or counter.is_(has_top=False):
                continue
            rings = tops_of(survey, counter)
            if rings:
                yield geometry.bounding_box([point for ring in rings for point in ring]), counter


def tops_of(survey: Survey, counter: Counter) -> tuple[geometry.Outline, ...]:
    """The outlines of a counter's top as far as they are drawn."""
    try:
        return footprints(counter, survey.plan.rooms[counter.room])
    except UnknownFact:  # unknown: a counter that is not drawn is asked for by the rules for counters
        return ()


def _beside(survey: Survey, counter: Counter, point: geometry.Point) -> float:
    return min(geometry.distance_to_outline(point, ring) for ring in tops_of(survey, counter))


def _walled_off(survey: Survey, counter: Counter, where: Standing) -> bool:
    """Whether a wall stands between a receptacle and the nearest edge of the top, so that no cord hangs down to it. Raises UnknownFact."""
    edges = [side for ring in tops_of(survey, counter) for side in geometry.sides(ring)]
    target = min(
        (geometry.nearest_on_segment(where.point, side) for side in edges), key=lambda at: geometry.distance(at, where.point)
    )
    length = geometry.distance(where.point, target)
    elsewhere = where.room is None or where.room.id != counter.room
    if where.wall is not None and elsewhere and not where.wall.knows("thickness"):
        raise UnknownFact(where.wall.where("thickness"))  # on which of its faces the way to the top begins
    if length <= 2 * _OFF_THE_WALL:
        return False
    way = (where.point, target)
    inner = (geometry.point_along(way, _OFF_THE_WALL), geometry.point_along(way, length - _OFF_THE_WALL))
    walls = survey.once(wall_grid, where.level).near(geometry.bounding_box(inner))
    solid = [wall for wall in walls if wall.kind in FULL_WALLS]
    return any(geometry.meeting_place(inner, (wall.start, wall.end)) is not None for wall in solid)
