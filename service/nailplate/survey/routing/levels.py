"""Ways from one level to another: up through its ceiling, through walls of the levels between, and down or up to the other end."""

from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Level, UnknownFact
from nailplate.plan.trade import INDOOR_LEVELS
from nailplate.survey.index import Survey
from nailplate.survey.routing.ends import NoRoute, Stand
from nailplate.survey.routing.frames import Frame, Node
from nailplate.survey.routing.overhead import Point3, leg
from nailplate.survey.routing.shortest import Way, nearest
from nailplate.survey.routing.ways import REACH, RISERS, Piece, Riser, attached, point_of, reversed_pieces, risers
from nailplate.units import inches, shown

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
    front = [(one.level, riser) for riser in risers(survey, frames[one.level], one)]
    floor = heights[0]
    for stories in _between(survey, heights[0], heights[1]):
        rise = _rise(survey, floor, stories[0])
        front = [each for story in stories for each in _through(survey, frames[story.id], front, rise)]
        if not front:
            names = ", ".join(f"'{story.id}'" for story in stories)
            raise NoRoute(f"no wall of level {names} is drawn that leads on from the level under it to that over it")
        floor += rise
    return _up(survey, frames[other.level], front, other, _rise(survey, floor, levels[1]))


def passed_through(survey: Survey, one: Stand, other: Stand) -> list[str]:
    """The levels that a run between two ends passes through; none where their elevations are not stated."""
    low, high = sorted(_known(survey.plan.levels[each.level]) for each in (one, other))
    return [level.id for stories in _between(survey, low, high) for level in stories]


def _between(survey: Survey, low: float, high: float) -> list[list[Level]]:
    """The levels that lie between two heights, those of one height together, from the lowest up."""
    found: dict[float, list[Level]] = {}
    for level in survey.plan.levels.values():
        if level.kind in INDOOR_LEVELS and low < _known(level) < high:
            found.setdefault(_known(level), []).append(level)
    return [stories for _, stories in sorted(found.items())]


def _rise(survey: Survey, floor: float, level: Level) -> float:
    rise = _elevation(level) - floor
    if rise > TALLEST:
        raise NoRoute(f"the floor of level '{level.id}' is more than {shown(inches(TALLEST))} over that under it")
    return rise


def _elevation(level: Level) -> float:
    try:
        return level.elevation
    except UnknownFact:
        raise NoRoute(f"level '{level.id}' is not joined to the others: its elevation is not stated") from None


def _known(level: Level) -> float:
    return level.elevation if level.knows("elevation") else float("nan")


def _up(survey: Survey, above: Frame, front: list[tuple[str, Riser]], high: Stand, rise: float) -> tuple[Piece, ...]:
    """From overhead on the level below to a place under the upper end's walls, and up through its floor."""
    pairs = [
        (_apart(one.point, two.point) + one.inches + two.inches, level, one, two)
        for level, one in front
        for two in _coming_up(survey, above, high, rise)
    ]
    for _, level, one, two in sorted(pairs, key=lambda pair: pair[0]):
        course = leg(survey, level, one.point, (*two.point[:2], one.point[2]))
        if course is not None:
            start: Point3 = (*two.point[:2], course[-1][2] - rise)
            through = Piece(
                high.level, two.pieces[-1].wall if two.pieces else None, (start, (*two.point[:2], two.point[2] - rise))
            )
            return (*one.pieces, Piece(level, None, course), through, *reversed_pieces(two.pieces))
    names = ", ".join(dict.fromkeys(f"'{level}'" for level, _ in front))
    raise NoRoute(f"no way from the framing over level {names} up into level '{high.level}' is drawn")


def _apart(one: Point3, other: Point3) -> float:
    return sum(abs(a - b) for a, b in zip(one, other, strict=True))


def _through(survey: Survey, frame: Frame, front: list[tuple[str, Riser]], rise: float) -> list[tuple[str, Riser]]:
    """From overhead on the level below, through a level's walls, to the places where they lead on overhead."""
    starts: dict[Node, Riser] = {}
    for below, riser in sorted(front, key=lambda each: each[1].inches)[:COMING_UP]:
        for node in _feet_near(frame, riser.point):
            entered = _entered(survey, frame, node, below, riser, rise)
            if entered is not None and (node not in starts or entered.inches < starts[node].inches):
                starts[node] = entered
    ways = nearest(frame, {node: riser.inches for node, riser in starts.items()}, frame.tops, RISERS, REACH)
    return [
        (frame.level, Riser(way.inches, starts[way.nodes[0]].pieces, point_of(frame, way.nodes[-1]), frame, way))
        for way in ways
    ]


def _feet_near(frame: Frame, point: Point3) -> list[Node]:
    """The places on drill lines nearest to a point, looked for in growing squares."""
    for reach in (60.0, 120.0, 240.0, 480.0):
        near = frame.foot_grid().near(geometry.grown((*point[:2], *point[:2]), reach))
        if near:
            return sorted(near, key=lambda node: (_apart(point_of(frame, node), (*point[:2], 0.0)), node))[:COMING_UP]
    return []


def _entered(survey: Survey, frame: Frame, node: Node, below: str, riser: Riser, rise: float) -> Riser | None:
    """A run overhead below that comes up through the floor into a wall."""
    foot = point_of(frame, node)
    course = leg(survey, below, riser.point, (*foot[:2], riser.point[2]))
    if course is None:
        return None
    start: Point3 = (*foot[:2], course[-1][2] - rise)
    pieces = (Piece(below, None, course), Piece(frame.level, frame.spots[node].wall, (start, foot)))
    return Riser(riser.inches + sum(piece.inches for piece in pieces), (*riser.pieces, *pieces), foot)


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
