"""Where drawn runs of two cables lie side by side: pieces nearly parallel, nearer to each other than a spacing.

Pieces are sorted into cells along the axis that they mostly follow, so that only neighbors are looked at: a thousand cables in one
wall stay one walk. What lies with more than ``MOST`` others is not counted further; no ampacity is left to lose there.
"""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from nailplate.calc.work import spend
from nailplate.plan import Cable
from nailplate.plan.words import CableType, How
from nailplate.records import record
from nailplate.survey.index import Survey
from nailplate.survey.rough_in.runs import Point3, Run, elevated, runs
from nailplate.units import Inches

MOST: Final = 60
"""Cables beside one; the adjustment table ends at 41 conductors."""
_PARALLEL: Final = 0.94
"""Cosine from which two pieces run along each other (20 degrees)."""
_MOSTLY: Final = 0.6
"""A piece this much along an axis is sorted by it; one at an angle stands under two."""
_CELL: Final = 2.0
"""Inches across; wider than any spacing asked for."""
_SLAB: Final = 48.0
"""Inches along."""
_DUST: Final = 1e-6
_JOINED: Final = 2.0
"""Inches along a cable, as at a corner, that do not part what lies together before and after."""


@record(frozen=True, slots=True)
class Piece:
    """A straight piece of a run, and how far along its cable's whole route it begins (inches)."""

    run: Run
    space: str
    start: Point3
    along: Point3
    length: float
    begins: float

    @property
    def end(self) -> Point3:
        """Its other end."""
        return _sum(self.start, self.along, self.length)


@record(frozen=True, slots=True)
class Beside:
    """Another cable, and from where to where along this one's route it lies beside it (inches)."""

    other: Cable
    start: float
    end: float

    @property
    def length(self) -> Inches:
        """How long they lie together."""
        return Inches(self.end - self.start)


def beside(survey: Survey, cable: Cable, spacing: float) -> tuple[Beside, ...]:
    """Every stretch along which another power cable lies nearer than ``spacing`` (inches, center to center, at most 2)."""
    return survey.once(_beside, cable.id, spacing)


def pieces_of(survey: Survey, cable: Cable) -> tuple[Piece, ...]:
    """The straight pieces of a cable's runs, but for those in a raceway or not known in space."""
    return survey.once(_pieces).of_cable.get(cable.id, ())


def extent_of(survey: Survey, run: Run) -> tuple[float, float] | None:
    """From where to where along its cable's route a run goes; None where it is not known in space or in a raceway."""
    return survey.once(_pieces).extents.get(run.id)


def lies_open(run: Run) -> bool:
    """Whether other cables can lie beside it: conductors in a raceway, cords and limited-energy cables do not count."""
    cable = run.cable
    limited = cable.knows("low_voltage") and cable.low_voltage
    kind = cable.type if cable.knows("type") else None
    return not limited and kind not in (CableType.RACEWAY, CableType.CORD) and run.segment.how is not How.RACEWAY


# Pieces


@dataclass(frozen=True, slots=True)
class _Pieces:
    of_cable: Mapping[str, tuple[Piece, ...]]
    extents: Mapping[tuple[str, int], tuple[float, float]]


def _pieces(survey: Survey) -> _Pieces:
    found: dict[str, list[Piece]] = {}
    extents: dict[tuple[str, int], tuple[float, float]] = {}
    begins: dict[str, float] = {}
    for run in runs(survey):
        space, points = _placed(survey, run)
        for start, end in pairwise(points):
            length = math.dist(start, end)
            if length > _DUST:
                at = begins.get(run.cable.id, 0.0)
                begins[run.cable.id] = at + length
                along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length, (end[2] - start[2]) / length)
                if lies_open(run):
                    found.setdefault(run.cable.id, []).append(Piece(run, space, start, along, length, at))
                    extents[run.id] = (extents.get(run.id, (at, at))[0], at + length)
    return _Pieces({name: tuple(each) for name, each in found.items()}, extents)


def _placed(survey: Survey, run: Run) -> tuple[str, tuple[Point3, ...]]:
    """The run's points and the space they count in: the whole house, or one level whose floor is not placed."""
    points = elevated(survey, run)
    return ("", points) if points else (run.level or "?", run.points)


_Key = tuple[str, int, int, int, int]
_Pairs = list[tuple[Piece, Piece]]


@dataclass(frozen=True, slots=True)
class _Near:
    """Pairs of pieces that lie nearer than the widest spacing; not ``whole`` where they are with too many cables to be all counted."""

    pairs: _Pairs
    whole: bool


class _Cells:
    """Every piece by the cells that it comes through, and what lies beside each cable by the widest spacing that bundles ask for."""

    def __init__(self, every: Iterable[Piece]) -> None:
        self.keys: dict[int, list[_Key]] = {}
        self.pieces: dict[_Key, list[Piece]] = {}
        self.near: dict[str, _Near] = {}
        for piece in every:
            keys = self.keys[id(piece)] = list(_keys(piece))
            for key in keys:
                self.pieces.setdefault(key, []).append(piece)


def _cells(survey: Survey) -> _Cells:
    return _Cells(piece for pieces in survey.once(_pieces).of_cable.values() for piece in pieces)


_ACROSS: Final = ((1, 2), (0, 2), (0, 1))
"""The two other axes of each."""


def _keys(piece: Piece) -> Iterator[_Key]:
    """The cells a piece comes through, grown by half a cell so that two within one cell of each other share one."""
    start, end, along, space = piece.start, piece.end, piece.along, piece.space
    for axis in range(3):
        if abs(along[axis]) >= _MOSTLY:
            one, two = _ACROSS[axis]
            low, high = (start[axis], end[axis]) if start[axis] <= end[axis] else (end[axis], start[axis])
            for slab in range(math.floor(low / _SLAB), math.floor(high / _SLAB) + 1):
                begin, stop = _clipped(piece, axis, slab)
                others = _span(begin[two], stop[two])
                for i in _span(begin[one], stop[one]):
                    for j in others:
                        yield space, axis, slab, i, j


def _clipped(piece: Piece, axis: int, slab: int) -> tuple[Point3, Point3]:
    """The part of a piece inside one slab."""
    low = min(max(0.0, (slab * _SLAB - piece.start[axis]) / piece.along[axis]), piece.length)
    high = min(max(0.0, ((slab + 1) * _SLAB - piece.start[axis]) / piece.along[axis]), piece.length)
    return _sum(piece.start, piece.along, min(low, high)), _sum(piece.start, piece.along, max(low, high))


def _span(one: float, other: float) -> range:
    low, high = (one, other) if one <= other else (other, one)
    return range(math.floor((low - _CELL / 2) / _CELL), math.floor((high + _CELL / 2) / _CELL) + 1)


# Side by side

_WIDEST: Final = 1.0
"""Inches; of what lies nearer than this, those who ask for less look at the same pairs again."""


def _beside(survey: Survey, cable_id: str, spacing: float) -> tuple[Beside, ...]:
    found: dict[str, list[tuple[float, float]]] = {}
    for piece, other in _pairs(survey, cable_id, spacing):
        overlap = _overlap(piece, other, spacing - _DUST)
        if overlap is not None:
            found.setdefault(other.run.cable.id, []).append(overlap)
            if len(found) >= MOST:
                break
    cables = survey.plan.cables
    return tuple(Beside(cables[name], *span) for name, spans in found.items() for span in _merged(spans))


def _pairs(survey: Survey, cable_id: str, spacing: float) -> Iterable[tuple[Piece, Piece]]:
    """Pieces of the cable with those of others that may lie nearer than ``spacing``, in the order of the route."""
    cells = survey.once(_cells)
    own = survey.once(_pieces).of_cable.get(cable_id, ())
    if spacing > _WIDEST:
        return _neighbors(own, cells)
    near = cells.near.get(cable_id)
    if near is None:
        near = cells.near[cable_id] = _near(own, cells)
    return near.pairs if near.whole or spacing == _WIDEST else _neighbors(own, cells)


def _near(own: Iterable[Piece], cells: _Cells) -> _Near:
    pairs: _Pairs = []
    names: set[str] = set()
    for piece, other in _neighbors(own, cells):
        if _overlap(piece, other, _WIDEST - _DUST) is not None:
            pairs.append((piece, other))
            names.add(other.run.cable.id)
            if len(names) >= MOST:
                return _Near(pairs, whole=False)
    return _Near(pairs, whole=True)


def _neighbors(own: Iterable[Piece], cells: _Cells) -> Iterator[tuple[Piece, Piece]]:
    """Each piece with those of other cables that share a cell with it, once."""
    for piece in own:
        cable = piece.run.cable
        seen: set[int] = {id(piece)}
        for key in cells.keys[id(piece)]:
            for other in cells.pieces[key]:
                if id(other) not in seen:
                    seen.add(id(other))
                    spend(1)
                    if other.run.cable is not cable:
                        yield piece, other


def _overlap(piece: Piece, other: Piece, spacing: float) -> tuple[float, float] | None:
    """From where to where along the cable's route ``other`` lies within ``spacing`` of ``piece``."""
    cosine = _dot(piece.along, other.along)
    if abs(cosine) < _PARALLEL:
        return None
    between = _less(piece.start, other.start)
    ahead = _dot(between, other.along)
    ends = sorted((-ahead / cosine, (other.length - ahead) / cosine))
    near = _span_within(_less(between, _times(other.along, ahead)), _less(piece.along, _times(other.along, cosine)), spacing)
    if near is None:
        return None
    low, high = max(0.0, ends[0], near[0]), min(piece.length, ends[1], near[1])
    return (piece.begins + low, piece.begins + high) if high - low > _DUST else None


def _span_within(off: Point3, drift: Point3, spacing: float) -> tuple[float, float] | None:
    """Where ``off + t * drift`` is no longer than ``spacing``."""
    a, b, c = _dot(drift, drift), _dot(off, drift), _dot(off, off) - spacing**2
    if a < _DUST**2:
        return (-math.inf, math.inf) if c <= 0 else None
    root = b * b - a * c
    return ((-b - math.sqrt(root)) / a, (-b + math.sqrt(root)) / a) if root >= 0 else None


def _merged(spans: list[tuple[float, float]]) -> list[tuple[float, float]]:
    joined: list[tuple[float, float]] = []
    for start, end in sorted(spans):
        if joined and start <= joined[-1][1] + _JOINED:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    return joined


def _sum(start: Point3, along: Point3, by: float) -> Point3:
    return start[0] + along[0] * by, start[1] + along[1] * by, start[2] + along[2] * by


def _less(one: Point3, other: Point3) -> Point3:
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]


def _times(one: Point3, by: float) -> Point3:
    return one[0] * by, one[1] * by, one[2] * by


def _dot(one: Point3, other: Point3) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]
