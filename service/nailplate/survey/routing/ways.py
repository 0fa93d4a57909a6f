"""A way for one cable on one level or between neighboring ones: through walls, or overhead between two places where it comes up."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Wall
from nailplate.survey.index import Survey
from nailplate.survey.names import kind_words
from nailplate.survey.routing.ends import NoRoute, Stand
from nailplate.survey.routing.frames import Frame, Node
from nailplate.survey.routing.overhead import UNDER_FLOOR, Point3, leg, leg_below, over
from nailplate.survey.routing.shortest import Way, nearest

RISERS: Final = 6
"""Places where a run may come up overhead that are looked at, the nearest first."""
REACH: Final = 6000.0
"""Inches of cable past which a way is no longer looked for; no run of a dwelling is longer."""
HIGH: Final = 60.0
UNDER_CEILING: Final = 16.0
"""A place free in a room is reached from overhead where it is higher than the one, or nearer than the other to the framing."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of a way on one level: in a wall, or overhead where ``wall`` is None."""

    level: str
    wall: Wall | None
    points: tuple[Point3, ...]

    @property
    def inches(self) -> float:
        """Its length, at right angles."""
        return sum(sum(abs(a - b) for a, b in zip(one, other, strict=True)) for one, other in pairwise(self.points))


@dataclass(frozen=True, slots=True)
class Riser:
    """Where a run comes overhead or into a floor: inches from the end, what leads there, and the point."""

    inches: float
    first: tuple[Piece, ...]
    point: Point3
    frame: Frame | None = None
    way: Way | None = None
    last: tuple[Piece, ...] = ()

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The way from the end to the point, worked out when it is taken."""
        through = pieces_of(self.frame, self.way) if self.frame is not None and self.way is not None else ()
        return (*self.first, *through, *self.last)


def way_on_level(survey: Survey, frame: Frame, one: Stand, other: Stand) -> tuple[Piece, ...]:
    """The shortest way between two ends on one level. Raises NoRoute."""
    direct = _direct(survey, frame, one, other)
    limit = sum(piece.inches for piece in direct) if direct is not None else REACH
    through = _through_walls(survey, frame, one, other, limit)
    best = min((way for way in (direct, through) if way is not None), key=_inches, default=None)
    if best is None and (is_low(survey, one) or is_low(survey, other)):
        best = _under_floor(survey, frame, one, other)
    if best is None:
        raise NoRoute(f"no way through walls or overhead is drawn on level '{frame.level}'")
    return best


def _inches(way: tuple[Piece, ...]) -> float:
    return sum(piece.inches for piece in way)


def _direct(survey: Survey, frame: Frame, one: Stand, other: Stand) -> tuple[Piece, ...] | None:
    """Up, over and down: the shortest of those whose leg overhead stays in the framing."""
    some, others = risers(survey, frame, one), risers(survey, frame, other)
    for _, first, second in sorted(_pairs(some, others), key=lambda pair: pair[0]):
        course = leg(survey, frame.level, first.point, second.point)
        if course is not None:
            return (*first.pieces, Piece(frame.level, None, course), *reversed_pieces(second.pieces))
    return None


def is_low(survey: Survey, stand: Stand) -> bool:
    """Whether an end stands free in a room, out of reach from overhead: on an island or the floor."""
    return stand.wall is None and not risers_free(survey, stand)


def _under_floor(survey: Survey, frame: Frame, one: Stand, other: Stand) -> tuple[Piece, ...] | None:
    """Down through the floor, along in its framing and up."""
    some, others = _sinkers(survey, frame, one), _sinkers(survey, frame, other)
    for _, first, second in sorted(_pairs(some, others), key=lambda pair: pair[0]):
        course = leg_below(survey, frame.level, first.point, second.point)
        if course is not None:
            return (*first.pieces, Piece(frame.level, None, course), *reversed_pieces(second.pieces))
    return None


def _sinkers(survey: Survey, frame: Frame, stand: Stand) -> list[Riser]:
    """Where a run from this end may go down into the floor."""
    if is_low(survey, stand):
        point = (*stand.point, UNDER_FLOOR)
        return [Riser(stand.height - UNDER_FLOOR, (Piece(frame.level, None, ((*stand.point, stand.height), point)),), point)]
    starts = attached(survey, frame, stand)
    ways = nearest(frame, {node: riser.inches for node, riser in starts.items()}, frame.feet, RISERS, REACH)
    return [_sunk(frame, starts[way.nodes[0]], way) for way in ways]


def _sunk(frame: Frame, start: Riser, way: Way) -> Riser:
    foot = point_of(frame, way.nodes[-1])
    point = (*foot[:2], UNDER_FLOOR)
    down = Piece(frame.level, frame.spots[way.nodes[-1]].wall, (foot, point))
    return Riser(way.inches + foot[2] - UNDER_FLOOR, start.pieces, point, frame, way, (down,))


def _pairs(some: list[Riser], others: list[Riser]) -> Iterator[tuple[float, Riser, Riser]]:
    for first in some:
        for second in others:
            apart = sum(abs(a - b) for a, b in zip(first.point, second.point, strict=True))
            yield first.inches + apart + second.inches, first, second


def risers(survey: Survey, frame: Frame, stand: Stand) -> list[Riser]:
    """The places where a run from this end may come overhead."""
    if stand.wall is None:
        return risers_free(survey, stand)
    starts = entries(frame, stand)
    ways = nearest(frame, starts, frame.tops, RISERS, REACH)
    return [Riser(way.inches, (), point_of(frame, way.nodes[-1]), frame, way) for way in ways]


def risers_free(survey: Survey, stand: Stand) -> list[Riser]:
    """Straight up from an end in or near the ceiling; none from one near the floor."""
    above = over(survey, stand.level, stand.point)
    if above is None or stand.height < min(HIGH, above.height - UNDER_CEILING):
        return []
    top = max(above.height, stand.height)
    up = Piece(stand.level, None, ((*stand.point, stand.height), (*stand.point, top)))
    return [Riser(top - stand.height, (up,), (*stand.point, top))]


def entries(frame: Frame, stand: Stand) -> Mapping[Node, float]:
    """The place in the frame that an end in a wall stands at."""
    if stand.wall is None:
        return {}
    node = frame.boxes.get((stand.wall.id, stand.along, stand.height))
    if node is None:
        kind = kind_words(stand.wall.kind)
        raise NoRoute(f"wall '{stand.wall.id}' is drawn as {kind}, with no framing to run a cable in")
    return {node: 0.0}


def _through_walls(survey: Survey, frame: Frame, one: Stand, other: Stand, limit: float) -> tuple[Piece, ...] | None:
    starts, goals = attached(survey, frame, one), attached(survey, frame, other)
    found = nearest(frame, {node: riser.inches for node, riser in starts.items()}, dict.fromkeys(goals), len(goals), limit)
    ways = [(way.inches + goals[way.nodes[-1]].inches, way) for way in found]
    if not ways:
        return None
    _, best = min(ways, key=lambda each: each[0])
    first, last = starts[best.nodes[0]], goals[best.nodes[-1]]
    return (*first.pieces, *pieces_of(frame, best), *reversed_pieces(last.pieces))


def attached(survey: Survey, frame: Frame, stand: Stand) -> dict[Node, Riser]:
    """The places in the frame from which a way begins: the end's own, or those near one in the ceiling."""
    if stand.wall is not None:
        return {node: Riser(0.0, (), point_of(frame, node)) for node in entries(frame, stand)}
    found: dict[Node, Riser] = {}
    for riser in risers(survey, frame, stand):
        for node in _near_tops(frame, riser.point):
            course = leg(survey, frame.level, riser.point, point_of(frame, node))
            if course is not None:
                piece = Piece(frame.level, None, course)
                found[node] = Riser(riser.inches + piece.inches, (*riser.pieces, piece), course[-1])
    return found


def _near_tops(frame: Frame, point: Point3) -> list[Node]:
    """The tops nearest to a point, looked for in growing squares."""
    grid = frame.top_grid()
    for reach in (60.0, 120.0, 240.0, 480.0):
        near = grid.near(geometry.grown((*point[:2], *point[:2]), reach))
        if len(near) >= RISERS or (near and reach > 240.0):
            return sorted(near, key=lambda node: (_apart(frame.spots[node].point, point), node))[:RISERS]
    return []


def _apart(one: tuple[float, float], other: Point3) -> float:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])


def point_of(frame: Frame, node: Node) -> Point3:
    """A place of the frame in space."""
    spot = frame.spots[node]
    return (*spot.point, spot.height)


def pieces_of(frame: Frame, way: Way) -> tuple[Piece, ...]:
    """A way through a frame wall by wall, in straight stretches at right angles."""
    pieces: list[Piece] = []
    for one, other in pairwise(way.nodes):
        start, end = frame.spots[one], frame.spots[other]
        wall = end.wall
        corner = (*start.point, end.height)
        pieces += [
            Piece(frame.level, start.wall, (point_of(frame, one), corner)),
            Piece(frame.level, wall, (corner, point_of(frame, other))),
        ]
    return tuple(piece for piece in pieces if piece.points[0] != piece.points[-1])


def reversed_pieces(pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
    """The same way back."""
    return tuple(Piece(piece.level, piece.wall, piece.points[::-1]) for piece in reversed(pieces))
