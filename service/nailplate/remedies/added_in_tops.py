"""Where receptacle assemblies could be set in the top of an island or peninsula: clear of its edge, of sinks and burners."""

from collections.abc import Iterable, Sequence

from nailplate.calc import geometry
from nailplate.calc.work import spend
from nailplate.remedies.patches import MOST_PROPOSED
from nailplate.survey.index import Survey
from nailplate.survey.receptacles import Top, TopReceptacle, units_at, within_outer_end

EDGE = 4.0
"""Inches that an assembly keeps from the top's edge and from what is set in it (common practice)."""
APART = 6.0
"""Inches between two assemblies, at least (common practice)."""
_STEP = 2.0


def spots_in_top(
    survey: Survey, top: Top, have: Sequence[TopReceptacle], required: int, part: geometry.Interval | None = None
) -> tuple[geometry.Point, ...]:
    """Places for those that are missing, one of them near a peninsula's outer end; none where the top has no room for all."""
    if required - len(have) > MOST_PROPOSED:
        return ()
    free = _free(survey, top, part or (0.0, top.extent.long))
    spots: list[geometry.Point] = []
    taken = [each.point for each in have]
    if top.outer is not None and not any(within_outer_end(survey, top, each) for each in have):
        taken, spots = _set_one(_near_end(free, top.outer, survey.inches("peninsula_outer_end")), top.outer[1], taken, spots)
        if not spots:
            return ()
    missing = required - len(have) - len(spots)
    for number in range(missing):
        wanted = geometry.point_along(top.extent.axis, _wanted(top, part, number, missing))
        before = len(spots)
        taken, spots = _set_one(free, wanted, taken, spots)
        if len(spots) == before:
            return ()
    return tuple(spots)


def _wanted(top: Top, part: geometry.Interval | None, number: int, missing: int) -> float:
    start, end = part or (0.0, top.extent.long)
    return start + (end - start) * (number + 0.5) / missing


def _near_end(free: Iterable[geometry.Point], outer: geometry.Segment, reach: float) -> list[geometry.Point]:
    length = geometry.length_of(outer)
    return [each for each in free if length - geometry.project(each, outer).along <= reach - _STEP]


def _set_one(
    free: Iterable[geometry.Point], wanted: geometry.Point, taken: list[geometry.Point], spots: list[geometry.Point]
) -> tuple[list[geometry.Point], list[geometry.Point]]:
    spend(1 + len(taken))
    clear = [each for each in free if all(geometry.distance(each, other) >= APART for other in taken)]
    if not clear:
        return taken, spots
    # Ties are told apart by the place alone, so that the same plan gives the same proposal.
    spot = min(clear, key=lambda each: (round(geometry.distance(each, wanted), 6), each))
    return [*taken, spot], [*spots, spot]


def _free(survey: Survey, top: Top, part: geometry.Interval) -> list[geometry.Point]:
    room = survey.plan.rooms[top.counter.room]
    units = [unit.ring for unit in units_at(survey, room).drawn]
    alongs = _steps(part[0] + EDGE, part[1] - EDGE)
    half = top.extent.short / 2 - EDGE
    lines = [geometry.offset_segment(top.extent.axis, off) for off in (0.0, half, -half)]
    places = [geometry.point_along(line, along) for line in lines for along in alongs]
    if room.knows("outline"):  # a top may be drawn past the room that it names
        places = [each for each in places if geometry.contains(room.outline, each)]
    return [each for each in places if _is_clear(each, top, units)]


def _steps(start: float, end: float) -> list[float]:
    number = int((end - start) / _STEP)
    return [start + index * _STEP for index in range(number + 1)] if end > start else []


def _is_clear(point: geometry.Point, top: Top, units: Sequence[geometry.Outline]) -> bool:
    if not geometry.contains(top.outline, point):
        return False
    if geometry.distance_to_outline(point, top.outline, filled=False) < EDGE - geometry.DUST:
        return False
    return all(geometry.distance_to_outline(point, ring) >= EDGE - geometry.DUST for ring in units)
