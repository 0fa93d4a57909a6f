"""Where a wall that meets another ends: on the other's center line, however the plan draws the corner.

Lawful are the other wall's center line, its near face and its far face, and a corner of which one wall runs through. What is asked of
walls here is the same for all of them.
"""

from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Wall
from nailplate.survey.index import Survey

SNAP = 2.0
"""Inches that an outline may be off a wall's face, and an end off the wall it meets; finishes and rounding in plans make as much."""
THICKEST = 12.0
"""Inches; a wall whose thickness is not said is looked for this thick. Nothing is measured by it."""
_SKEW = 0.3
"""Sine of the turn below which two walls run alike, and one goes on where the other ends."""


@dataclass(frozen=True, slots=True)
class JoinedWall:
    """A wall from joint to joint: ``start`` and ``end`` by its own measure along it, where negative is before its ``from``.

    ``before`` and ``after`` are how far the walls met at its ends reach past their center lines, along this wall.
    """

    start: float
    end: float
    before: float
    after: float


def joined(survey: Survey, wall: Wall) -> JoinedWall:
    """A wall from joint to joint."""
    return survey.once(_joined, wall.id)


def joined_line(survey: Survey, wall: Wall) -> geometry.Segment:
    """The center line of a wall from joint to joint."""
    found, line = joined(survey, wall), (wall.start, wall.end)
    return (geometry.point_along(line, found.start), geometry.point_along(line, found.end))


def half_thickness(wall: Wall) -> float:
    """Half of how thick a wall is, or may be where the plan does not say it."""
    return (wall.thickness if wall.knows("thickness") else THICKEST) / 2


def wall_grid(survey: Survey, level: str) -> geometry.Grid[Wall]:
    """The walls of a level by where they stand."""
    walls = survey.walls_on_level.get(level, [])
    return geometry.Grid(
        (geometry.grown(geometry.bounding_box((wall.start, wall.end)), half_thickness(wall) + SNAP), wall) for wall in walls
    )


def _joined(survey: Survey, wall_id: str) -> JoinedWall:
    wall = survey.plan.walls[wall_id]
    start, before = _joint(survey, wall, (wall.end, wall.start))
    end, after = _joint(survey, wall, (wall.start, wall.end))
    length = geometry.length_of((wall.start, wall.end))
    return JoinedWall(-start, length + end, before, after)


def _joint(survey: Survey, wall: Wall, line: geometry.Segment) -> tuple[float, float]:
    """How far past the end of ``line`` the center line of the wall met there is, and how far that wall reaches beyond it."""
    reach = half_thickness(wall) + SNAP
    near = survey.once(wall_grid, wall.level).near(geometry.grown((*line[1], *line[1]), reach))
    normal = geometry.left_normal(line)
    found = [
        (past, half_thickness(other) / sine if other.knows("thickness") else 0.0)
        for other in near
        if other is not wall and (sine := _sine(survey, normal, other)) > _SKEW
        if (past := _past(line, other, reach, sine)) is not None
    ]
    return min(found, key=lambda each: (abs(each[0]), -each[1]), default=(0.0, 0.0))


def _past(line: geometry.Segment, other: Wall, reach: float, sine: float) -> float | None:
    """How far past the end of a line another wall's center line crosses it; None where the end is not in that wall."""
    across = (other.start, other.end)
    end, back = (geometry.project(point, across) for point in (line[1], line[0]))
    beside = -reach - geometry.DUST <= end.along <= geometry.length_of(across) + reach + geometry.DUST
    if not beside or abs(end.offset) > half_thickness(other) + SNAP + geometry.DUST:
        return None
    return end.offset / sine if back.offset > end.offset else -end.offset / sine


def _sine(survey: Survey, normal: geometry.Point, other: Wall) -> float:
    """Of the turn from a line, by its normal, to another wall."""
    kept = survey.shelf(_normal)
    if other not in kept:
        kept[other] = _normal(other)
    (ax, ay), (bx, by) = normal, kept[other]
    return abs(ax * by - ay * bx)


def _normal(wall: Wall) -> geometry.Point:
    return geometry.left_normal((wall.start, wall.end))
