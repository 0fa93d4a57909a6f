"""Walls on a level's sheet, with their thickness, as one body where they meet."""

from collections.abc import Iterator
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Wall
from nailplate.plan.trade import FRAMED_WALLS
from nailplate.plan.words import WallKind
from nailplate.sheets.drawing.draft import Draft, take_stretch
from nailplate.sheets.drawing.openings import draw_openings, gaps_in
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.drawing.svg import Point, polygon
from nailplate.survey.index import Survey

_WALL_CLASSES: Final = {
    WallKind.EXTERIOR: "np-wall",
    WallKind.INTERIOR: "np-wall",
    WallKind.HALF: "np-half",
    WallKind.RAILING: "np-railing",
    WallKind.GLASS: "np-glass",
}
UNSAID_THICKNESS: Final = 4.5
"""Inches at which a wall is drawn whose thickness the plan does not state: a 2x4 with gypsum board on both sides. The sheet says so."""
_MOST_MET: Final = 16
"""Walls near an end that are looked at; where more than two or three meet, a plan is no house."""
_REACH: Final = 0.5
"""Inches by which the end of a wall may miss the wall that it meets."""
_SQUARE: Final = 0.5
"""The sine of the angle between two walls from which the one is run on to close the corner."""


def draw_walls(draft: Draft, survey: Survey, walls: list[Wall]) -> None:
    """Walls as one body where they meet: all outlines first, all fillings over them."""
    grid = geometry.Grid(((geometry.bounding_box((each.start, each.end)), each) for each in walls), cell=60.0)
    pieces = [(wall, piece) for wall in walls for piece in _pieces(survey, wall, grid)]
    draft.draw("walls", *(polygon(draft.view.all(piece), "np-wall-line") for wall, piece in pieces if _is_solid(wall)))
    draft.draw("walls", *(polygon(draft.view.all(piece), _WALL_CLASSES[wall.kind]) for wall, piece in pieces))
    for wall in walls:
        take_wall(draft, wall)
        if not wall.knows("thickness"):
            draft.notes.append(f"{name_of(wall)}: thickness not stated, drawn {UNSAID_THICKNESS:g} in thick")
        draw_openings(draft, survey, wall, half_of(wall))


def _is_solid(wall: Wall) -> bool:
    return wall.kind in FRAMED_WALLS


def half_of(wall: Wall) -> float:
    """Half of a wall's thickness."""
    return (wall.thickness if wall.knows("thickness") else UNSAID_THICKNESS) / 2


def length_of(wall: Wall) -> float:
    """How long a wall's center line is."""
    return geometry.length_of((wall.start, wall.end))


def take_wall(draft: Draft, wall: Wall) -> None:
    """Lettering keeps off the wall while there is other room."""
    take_stretch(draft.walls, draft.view(wall.start), draft.view(wall.end), half_of(wall) * draft.view.points)


def _pieces(survey: Survey, wall: Wall, grid: "geometry.Grid[Wall]") -> Iterator[list[Point]]:
    """The stretches of a wall between its openings, the ends run on to the far face of a wall that they meet."""
    length = length_of(wall)
    start, end = -_run_on(wall, wall.start, grid, -1), length + _run_on(wall, wall.end, grid, 1)
    for gap in gaps_in(survey, wall, length):
        if gap[0] > start:
            yield stretch_of(wall, start, gap[0])
        start = max(start, gap[1])
    if end > start:
        yield stretch_of(wall, start, end)


def stretch_of(wall: Wall, start: float, end: float) -> list[Point]:
    """The outline of a stretch of a wall."""
    middle, half = (wall.start, wall.end), half_of(wall)
    (nx, ny) = geometry.left_normal(middle)
    a, b = geometry.point_along(middle, start), geometry.point_along(middle, end)
    return [
        (a[0] + nx * half, a[1] + ny * half),
        (b[0] + nx * half, b[1] + ny * half),
        (b[0] - nx * half, b[1] - ny * half),
        (a[0] - nx * half, a[1] - ny * half),
    ]


def _run_on(wall: Wall, end: Point, grid: "geometry.Grid[Wall]", way: int) -> float:
    """How far a wall runs on past an end to close a corner: to the far face of a wall that ends there too."""
    found = 0.0
    for other in grid.near((end[0] - 12, end[1] - 12, end[0] + 12, end[1] + 12))[:_MOST_MET]:
        if other is wall or not _is_solid(other) or not _is_solid(wall):
            continue
        seen = geometry.project(end, (other.start, other.end))
        half = half_of(other)
        if abs(seen.offset) <= half + _REACH and _at_its_end(other, seen.along):
            found = max(found, _to_far_face(wall, other, seen.offset, way))
    return found


def _at_its_end(wall: Wall, along: float) -> bool:
    reach = half_of(wall) + _REACH
    return abs(along) <= reach + UNSAID_THICKNESS or abs(along - length_of(wall)) <= reach + UNSAID_THICKNESS


def _to_far_face(wall: Wall, other: Wall, offset: float, way: int) -> float:
    (ux, uy), (nx, ny) = _direction(wall), geometry.left_normal((other.start, other.end))
    across = (ux * nx + uy * ny) * way
    if abs(across) < _SQUARE:
        return 0.0
    return max(0.0, (half_of(other) - offset * (1 if across > 0 else -1)) / abs(across))


def _direction(wall: Wall) -> Point:
    length = length_of(wall)
    return ((wall.end[0] - wall.start[0]) / length, (wall.end[1] - wall.start[1]) / length)
