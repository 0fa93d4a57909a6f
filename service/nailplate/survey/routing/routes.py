"""The route of each cable: as its author draws it, else worked out between its ends through the framing."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

from nailplate.plan import Cable, Segment, Wall
from nailplate.plan.words import How, MemberRole
from nailplate.survey.index import Survey
from nailplate.survey.routing.allowances import makeup, slack
from nailplate.survey.routing.drill_lines import spread
from nailplate.survey.routing.ends import NoRoute, Stand, stand_of
from nailplate.survey.routing.frames import Frame, frame_of
from nailplate.survey.routing.levels import passed_through, way_between
from nailplate.survey.routing.ways import Piece, way_on_level
from nailplate.units import Inches


@dataclass(frozen=True, slots=True)
class Route:
    """A cable's course in inches. ``along`` is that of its segments, ``makeup`` what boxes, panel and stripping take at both ends,
    ``slack`` what is left over beside. ``derived`` where the plan states no route; ``why_not`` where none could be worked out either.
    """

    segments: tuple[Segment, ...]
    along: Inches | None
    makeup: Inches
    slack: Inches
    derived: bool
    why_not: str | None = None

    @property
    def length(self) -> Inches | None:
        """What the run takes, slack left aside; None where its course is not known."""
        return Inches(self.along + self.makeup) if self.along is not None else None


def route_of(survey: Survey, cable: Cable) -> Route:
    """The route of a cable. One that its author draws stands; others are worked out for the whole plan when first asked for."""
    if cable.knows("route") and cable.route:
        return _drawn(survey, cable)
    return survey.once(_derived)[cable.id]


def _drawn(survey: Survey, cable: Cable) -> Route:
    whole = all(each.knows("points") for each in cable.route)
    along = Inches(sum(_length(each) for each in cable.route)) if whole else None
    why = None if whole else "its route does not state the points of every segment"
    return Route(cable.route, along, Inches(makeup(survey, cable)), Inches(slack(cable)), derived=False, why_not=why)


def _length(segment: Segment) -> float:
    """Along its points; heights count where every point has one."""
    heights = segment.heights if segment.knows("heights") and len(segment.heights) == len(segment.points) else None
    points = [(*point, heights[place] if heights else 0.0) for place, point in enumerate(segment.points)]
    return sum(math.dist(one, other) for one, other in pairwise(points))


# Worked out, for every cable that states no route


def _derived(survey: Survey) -> Mapping[str, Route]:
    cables = [cable for cable in survey.plan.cables.values() if not (cable.knows("route") and cable.route)]
    stands: dict[str, tuple[Stand, Stand]] = {}
    why: dict[str, str] = {}
    for cable in cables:
        try:
            stands[cable.id] = (stand_of(survey, cable, 0), stand_of(survey, cable, 1))
        except NoRoute as reason:
            why[cable.id] = str(reason)
    frames = _frames(survey, list(stands.values()))
    ways: dict[str, tuple[Piece, ...]] = {}
    for name, (one, other) in stands.items():
        try:
            ways[name] = _joined(_way(survey, frames, one, other))
        except NoRoute as reason:
            why[name] = str(reason)
    spread_ways = spread(survey, ways)
    return {cable.id: _route(survey, cable, spread_ways.get(cable.id), why.get(cable.id)) for cable in cables}


def _frames(survey: Survey, pairs: Iterable[tuple[Stand, Stand]]) -> dict[str, Frame]:
    """The framing of every level that a cable ends on or passes through."""
    by_level: dict[str, list[Stand]] = {}
    passing: dict[str, list[Stand]] = {}
    for one, other in pairs:
        for stand in (one, other):
            by_level.setdefault(stand.level, []).append(stand)
        for level in passed_through(survey, one, other) if one.level != other.level else ():
            passing.setdefault(level, []).extend((one, other))
    levels = dict.fromkeys((*by_level, *passing))
    return {level: frame_of(survey, level, by_level.get(level, ()), passing.get(level, ())) for level in levels}


def _way(survey: Survey, frames: dict[str, Frame], one: Stand, other: Stand) -> tuple[Piece, ...]:
    if one.level == other.level:
        return way_on_level(survey, frames[one.level], one, other)
    return way_between(survey, frames, one, other)


def _joined(pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
    """Pieces of one wall that go on in the same direction as one; none without length."""
    joined: list[Piece] = []
    for piece in pieces:
        if len(set(piece.points)) < 2:
            continue
        last = joined[-1] if joined else None
        if last is not None and (last.level, last.wall) == (piece.level, piece.wall) and _upright(last) == _upright(piece):
            joined[-1] = Piece(piece.level, piece.wall, _straight((*last.points, *piece.points)))
        else:
            joined.append(Piece(piece.level, piece.wall, _straight(piece.points)))
    return tuple(joined)


def _upright(piece: Piece) -> bool:
    return all(one[:2] == other[:2] for one, other in pairwise(piece.points))


def _straight(points: tuple[tuple[float, float, float], ...]) -> tuple[tuple[float, float, float], ...]:
    """The points at which a course turns; going up and down again in one place falls away."""
    kept = [points[0]]
    for index, point in enumerate(points[1:-1], 1):
        on = points[index + 1]
        one_place = kept[-1][:2] == point[:2] == on[:2]
        if point != kept[-1] and not one_place and not _between(kept[-1], point, on):
            kept.append(point)
    return (*kept, points[-1]) if points[-1] != kept[-1] else tuple(kept)


def _between(one: tuple[float, ...], middle: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return math.isclose(math.dist(one, middle) + math.dist(middle, other), math.dist(one, other), abs_tol=1e-6)


def _route(survey: Survey, cable: Cable, way: tuple[Piece, ...] | None, why: str | None) -> Route:
    takes = Inches(makeup(survey, cable)), Inches(slack(cable))
    if way is None:
        return Route((), None, *takes, derived=True, why_not=why)
    segments = tuple(_segment(survey, cable, place, piece) for place, piece in enumerate(way))
    return Route(segments, Inches(sum(_length(each) for each in segments)), *takes, derived=True)


def _segment(survey: Survey, cable: Cable, place: int, piece: Piece) -> Segment:
    """A piece as a plan would state it: with the framing of its wall, what the author's defaults say of such a stretch, and no more."""
    facts: dict[str, object] = {
        "level": piece.level,
        "points": tuple((x, y) for x, y, _ in piece.points),
        "heights": tuple(height for _, _, height in piece.points),
        "how": How.ALONG_MEMBER if _upright(piece) else How.BORED,
    }
    if piece.wall is not None:
        facts["wall"] = piece.wall.id
        facts.update(_framing_of(piece.wall))
    else:
        facts["role"] = MemberRole.JOIST
    at, plan = cable.where("route") / place, survey.plan
    complete = plan.defaults.segment if plan.knows("defaults") else None
    completed = complete(at, facts) if complete is not None else None  # a wall that defaults name is none of an overhead piece
    return completed if isinstance(completed, Segment) else Segment(at, facts)


def _framing_of(wall: Wall) -> dict[str, object]:
    """What a wall states of its framing, so that no default for other members is taken for it."""
    if not wall.knows("framing"):
        return {}
    return {name: getattr(wall.framing, name) for name in ("member", "material", "bearing") if wall.framing.knows(name)}
