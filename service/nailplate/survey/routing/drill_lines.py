"""Runs that share a drill line, kept apart where too many would go through one hole that is filled with foam or insulation."""

from collections.abc import Mapping
from typing import Final

from nailplate.plan import Wall
from nailplate.plan.words import Cavity
from nailplate.survey.index import Survey
from nailplate.survey.routing.openings import gaps_of
from nailplate.survey.routing.ways import Piece

APART: Final = 3.0
"""Inches between two drill lines (common practice: about two hole diameters of wood between holes)."""


def spread(survey: Survey, ways: Mapping[str, tuple[Piece, ...]]) -> dict[str, tuple[Piece, ...]]:
    """The ways with the runs of each drill line that are too many moved up to a line of their own, in the plan's order."""
    lines = _Lines(survey)
    return {name: _moved(lines, way) for name, way in ways.items()}


class _Lines:
    """The drill lines of each wall, and what lies on them."""

    def __init__(self, survey: Survey) -> None:
        self._survey = survey
        self._taken: dict[tuple[str, float], list[tuple[float, float]]] = {}

    def free_height(self, wall: Wall, span: tuple[float, float], height: float) -> float:
        """The lowest line from this height up on which a run over this stretch makes no bundle."""
        for step in range(_MOST_LINES):
            at = height + step * APART
            if step and any(gap.bars(*span, height, at) for gap in gaps_of(self._survey, wall)):
                break
            taken = self._taken.setdefault((wall.id, at), [])
            if sum(start < span[1] and span[0] < end for start, end in taken) < self._survey.number(
                "cables_without_adjustment"
            ):
                taken.append(span)
                return at
        return height


_MOST_LINES: Final = 8


def _moved(lines: _Lines, way: tuple[Piece, ...]) -> tuple[Piece, ...]:
    moved = list(way)
    for place, piece in enumerate(way):
        before, after = (moved[place - 1], way[place + 1]) if 0 < place < len(way) - 1 else (None, None)
        if (
            before is None
            or after is None
            or not _filled_line(piece)
            or before.wall is not piece.wall
            or after.wall is not piece.wall
        ):
            continue
        height = lines.free_height(piece.wall, _span(piece), piece.points[0][2]) if piece.wall is not None else 0.0
        if height != piece.points[0][2]:
            moved[place - 1] = Piece(before.level, before.wall, (*before.points[:-1], _at(before.points[-1], height)))
            moved[place] = Piece(piece.level, piece.wall, tuple(_at(point, height) for point in piece.points))
            moved[place + 1] = Piece(after.level, after.wall, (_at(after.points[0], height), *after.points[1:]))
            way = tuple(moved)
    return tuple(moved)


def _filled_line(piece: Piece) -> bool:
    """Whether a piece is one straight run across the studs of a wall whose cavity is filled."""
    wall = piece.wall
    filled = wall is not None and wall.knows("cavity") and wall.cavity is not Cavity.NONE
    return filled and len(piece.points) == 2 and piece.points[0][2] == piece.points[1][2]


def _span(piece: Piece) -> tuple[float, float]:
    """From where to where a run goes, along its wall."""
    wall = piece.wall
    assert wall is not None
    along = sorted(abs(point[0] - wall.start[0]) + abs(point[1] - wall.start[1]) for point in piece.points)
    return along[0], along[1]


def _at(point: tuple[float, float, float], height: float) -> tuple[float, float, float]:
    return (point[0], point[1], height)
