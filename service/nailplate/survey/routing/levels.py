"""Ways from one level to another: up through its ceiling, through walls of the levels between, and down or up to the other end."""

from typing import Final

from nailplate.plan import Level, UnknownFact
from nailplate.plan.trade import INDOOR_LEVELS
from nailplate.survey.index import Survey
from nailplate.survey.routing.ends import NoRoute, Stand
from nailplate.survey.routing.frames import Frame
from nailplate.survey.routing.overhead import Point3, leg
from nailplate.survey.routing.shortest import Way, nearest
from nailplate.survey.routing.ways import REACH, Piece, Riser, attached, point_of, reversed_pieces, risers

COMING_UP: Final = 6
"""Places on the upper level where a run may come up through its floor that are looked at."""
TALLEST: Final = 240.0
"""Inches between two floors over which they are no longer neighbors."""


def way_between(survey: Survey, frames: dict[str, Frame], one: Stand, other: Stand) -> tuple[Piece, ...]:
    """The shortest way between ends on two levels. Raises NoRoute."""
    levels = [survey.plan.levels[each.level] for each in (one, other)]
    for level in levels:
        if level.kind not in INDOOR_LEVELS:
            raise NoRoute(
                f"level '{level.id}' is outdoors; the plan has to state how the cable runs there (buried, in raceway, on the surface)"
            )
    heights = [_elevation(level) for level in levels]
    if heights[0] > heights[1]:
        return reversed_pieces(way_between(survey, frames, other, one))
    between = [
        each for each in survey.plan.levels.values() if each.kind in INDOOR_LEVELS and heights[0] < _known(each) < heights[1]
    ]
    if between or heights[1] - heights[0] > TALLEST:
        raise NoRoute(f"levels '{one.level}' and '{other.level}' are not next to each other")
    return _up(survey, frames, one, other, heights[1] - heights[0])


def _elevation(level: Level) -> float:
    try:
        return level.elevation
    except UnknownFact:
        raise NoRoute(f"level '{level.id}' is not joined to the others: its elevation is not stated") from None


def _known(level: Level) -> float:
    return level.elevation if level.knows("elevation") else float("nan")


def _up(survey: Survey, frames: dict[str, Frame], low: Stand, high: Stand, rise: float) -> tuple[Piece, ...]:
    """From the lower level overhead to a place under the upper end's walls, and up through its floor."""
    below, above = frames[low.level], frames[high.level]
    some, others = risers(survey, below, low), _coming_up(survey, above, high, rise)
    pairs = [
        (sum(abs(a - b) for a, b in zip(one.point, two.point, strict=True)) + one.inches + two.inches, one, two)
        for one in some
        for two in others
    ]
    for _, one, two in sorted(pairs, key=lambda pair: pair[0]):
        course = leg(survey, low.level, one.point, (*two.point[:2], one.point[2]))
        if course is not None:
            start: Point3 = (*two.point[:2], course[-1][2] - rise)
            through = Piece(
                high.level, two.pieces[-1].wall if two.pieces else None, (start, (*two.point[:2], two.point[2] - rise))
            )
            return (*one.pieces, Piece(low.level, None, course), through, *reversed_pieces(two.pieces))
    raise NoRoute(f"no way from the framing over level '{low.level}' up into level '{high.level}' is drawn")


def _coming_up(survey: Survey, frame: Frame, stand: Stand, rise: float) -> list[Riser]:
    """Where a run may come up through the floor on the way to an end; heights of the points count from the lower floor."""
    starts = attached(survey, frame, stand)
    if not starts and stand.wall is None:
        down = Piece(frame.level, None, ((*stand.point, stand.height), (*stand.point, 0.0)))
        return [Riser(stand.height, (down,), (*stand.point, rise))]
    ways = nearest(frame, {node: riser.inches for node, riser in starts.items()}, frame.feet, COMING_UP, REACH)
    return [_riser(frame, starts[way.nodes[0]], way, rise) for way in ways]


def _riser(frame: Frame, start: Riser, way: Way, rise: float) -> Riser:
    x, y, height = point_of(frame, way.nodes[-1])
    return Riser(way.inches + height, start.pieces, (x, y, height + rise), frame, way)
