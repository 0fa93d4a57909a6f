"""How a sheet names the end of a wall that distances count from: by the wall that stands there, and how its face lies."""

from nailplate.calc import geometry
from nailplate.plan import Wall
from nailplate.plan.words import Side
from nailplate.sheets.called import Name
from nailplate.sheets.drawing.measures import BY_TAPE, dimension, unit_of
from nailplate.sheets.drawing.walls import half_of
from nailplate.survey.index import Survey
from nailplate.survey.places import Point, beside_wall, point_on_wall

_NEAR = 8.0
"""Inches: walls whose lines come this close to an end meet it."""
_CELL = 60.0
_AT_THE_FACE = 0.25
"""Inches of play within which a wall drawn to another one's face ends there, and a room's edge lies on a face."""
_PROBE = 3.0
"""Inches off a wall's face at which a wall that meets it on that side is looked for."""


def end_of(survey: Survey, wall: Wall, name: Name) -> str:
    """``its end at 'Back wall', 3 1/2" behind the face of that wall``; where no wall meets it, by its place in the plane."""
    on = point_on_wall(wall, -_NEAR)
    met = [each for each in _near(survey, wall, wall.start, _NEAR) if _off(each, wall.start) <= _NEAR]
    for other in sorted(
        met, key=lambda each: _off(each, on) <= _AT_THE_FACE
    ):  # one that goes on in the same line shows no face
        behind = half_of(other) - _off(other, wall.start)
        if behind <= _AT_THE_FACE:
            return f"its end at {name(other)}"
        return f"its end as drawn, {dimension(behind, unit_of(survey.plan), BY_TAPE)} behind the face of {name(other)}"
    x, y = wall.start
    return f"its end at x {x:g} in, y {y:g} in of the plan"


def is_corner(survey: Survey, wall: Wall, side: Side, along: float) -> bool:
    """Whether another wall's face stands at a place along this one on that side; else the wall, or the room, just ends."""
    return bool(_met_beside(survey, wall, side, along))


def past_end(survey: Survey, wall: Wall, side: Side, along: float) -> tuple[float, str] | None:
    """How far past an end of its wall the corner of a side without rooms is, and which: less than 0 for an inside corner.

    None where no wall meets the end, or another one goes on from it in the same line.
    """
    inside = _met_beside(survey, wall, side, along)
    if inside:
        return -half_of(inside[0]), "inside corner"
    end = point_on_wall(wall, along)
    met = [each for each in _near(survey, wall, end, _AT_THE_FACE) if _off(each, end) <= _AT_THE_FACE]
    on = point_on_wall(wall, along + (_NEAR if along > 0 else -_NEAR))
    if not met or any(_off(each, on) <= _AT_THE_FACE for each in met):
        return None
    return max(half_of(each) for each in met), "outside corner"


def at_end(survey: Survey, wall: Wall, along: float, name: Name) -> str:
    """``end, on the center line of 'Kitchen wall'`` where another wall stands across it; ``end`` alone where none does."""
    end = point_on_wall(wall, along)
    on = point_on_wall(wall, along + (_NEAR if along > 0 else -_NEAR))
    met = (each for each in _near(survey, wall, end, _AT_THE_FACE) if _off(each, end) <= _AT_THE_FACE)
    across = next((each for each in met if _off(each, on) > _AT_THE_FACE), None)
    return f"end, on the center line of {name(across)}" if across is not None else "end"


def _met_beside(survey: Survey, wall: Wall, side: Side, along: float) -> list[Wall]:
    """The walls that stand out from this one on that side, at a place along it."""
    at = beside_wall(wall, point_on_wall(wall, along), side, _PROBE)
    return [each for each in _near(survey, wall, at, _NEAR) if _off(each, at) <= half_of(each) + _AT_THE_FACE]


def _off(wall: Wall, at: Point) -> float:
    return geometry.distance_to_segment(at, (wall.start, wall.end))


def _near(survey: Survey, wall: Wall, at: Point, off: float) -> list[Wall]:
    found = survey.once(_lines, wall.level).near(geometry.grown((*at, *at), off))
    return [other for other in found if other.id != wall.id]


def _lines(survey: Survey, level: str) -> geometry.Grid[Wall]:
    walls = survey.walls_on_level.get(level, [])
    return geometry.Grid(((geometry.bounding_box((wall.start, wall.end)), wall) for wall in walls), cell=_CELL)
