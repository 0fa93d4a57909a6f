"""How a sheet names the end of a wall that distances count from: by the wall that stands there."""

from nailplate.calc import geometry
from nailplate.plan import Wall
from nailplate.sheets.called import Name
from nailplate.survey.index import Survey

_NEAR = 8.0
"""Inches: walls whose lines come this close to an end meet it."""
_CELL = 60.0


def end_of(survey: Survey, wall: Wall, name: Name) -> str:
    """``the end at 'Back wall'``; where no wall meets it, by its place in the plane of the level."""
    box = geometry.grown((*wall.start, *wall.start), _NEAR)
    for other in survey.once(_lines, wall.level).near(box):
        if other.id != wall.id and geometry.distance_to_segment(wall.start, (other.start, other.end)) <= _NEAR:
            return f"its end at {name(other)}"
    x, y = wall.start
    return f"its end at x {x:g} in, y {y:g} in of the plan"


def _lines(survey: Survey, level: str) -> geometry.Grid[Wall]:
    walls = survey.walls_on_level.get(level, [])
    return geometry.Grid(((geometry.bounding_box((wall.start, wall.end)), wall) for wall in walls), cell=_CELL)
