"""The walls that an edge of a room's outline runs along."""

from dataclasses import dataclass, replace

from nailplate.calc import geometry
from nailplate.plan import Wall
from nailplate.plan.words import Side
from nailplate.survey.index import Survey
from nailplate.survey.space.joined_walls import SNAP, half_thickness, joined, joined_line, wall_grid


@dataclass(frozen=True, slots=True)
class OnWall:
    """A stretch of an edge that a wall stands on."""

    start: float
    end: float
    wall: Wall
    side: Side


def walls_on(survey: Survey, level: str, edge: geometry.Segment) -> list[OnWall]:
    """The nearest wall at each place of the edge, in order along it; a wall's own length goes before another's past a corner."""
    kept = survey.shelf(_walls_on)
    found = kept.get((level, edge))
    if found is None:
        found = kept[level, edge] = _walls_on(survey, level, edge)
    return found


def _walls_on(survey: Survey, level: str, edge: geometry.Segment) -> list[OnWall]:
    near = survey.once(wall_grid, level).near(geometry.grown(geometry.bounding_box(edge), SNAP))
    along = [(off, wall) for wall in near if (off := _off(edge, wall)) is not None]
    found: list[OnWall] = []
    for line_of in (joined_line, _corner_line):
        taken = [(each.start, each.end) for each in found]
        matches = [
            (off, wall, overlap)
            for off, wall in along
            if (overlap := geometry.collinear_overlap(edge, line_of(survey, wall), half_thickness(wall) + SNAP))
        ]
        for _, wall, overlap in sorted(matches, key=lambda match: (match[0], match[1].id)):
            for start, end in geometry.subtracted([overlap], taken):
                found.append(OnWall(start, end, wall, _side_of(wall, edge)))
            taken.append(overlap)
    return _each_whole(sorted(found, key=lambda each: each.start))


def _each_whole(found: list[OnWall]) -> list[OnWall]:
    """Neighbouring stretches of one wall made one."""
    whole: list[OnWall] = []
    for each in found:
        if whole and whole[-1].wall is each.wall and each.start - whole[-1].end <= geometry.DUST:
            whole[-1] = replace(whole[-1], end=each.end)
        else:
            whole.append(each)
    return whole


def _off(edge: geometry.Segment, wall: Wall) -> float | None:
    """How far the wall's face is off the edge; None where the wall is too far away or on the edge's inside."""
    reach = half_thickness(wall) + SNAP
    offset = geometry.project(((wall.start[0] + wall.end[0]) / 2, (wall.start[1] + wall.end[1]) / 2), edge).offset
    if not (-reach - geometry.DUST <= offset <= SNAP + geometry.DUST):
        return None
    expected = wall.thickness / 2 if wall.knows("thickness") else 0.0
    return round(abs(offset + expected), 3)


def _corner_line(survey: Survey, wall: Wall) -> geometry.Segment:
    return survey.once(_to_the_corners, wall.id)


def _to_the_corners(survey: Survey, wall_id: str) -> geometry.Segment:
    """The wall's center line, drawn out over the thickness of the walls that it meets, as its outer face runs at a corner."""
    wall = survey.plan.walls[wall_id]
    found, line = joined(survey, wall), (wall.start, wall.end)
    return (geometry.point_along(line, found.start - found.before), geometry.point_along(line, found.end + found.after))


def _side_of(wall: Wall, edge: geometry.Segment) -> Side:
    """The side of the wall that the inside of the edge lies on."""
    (ax, ay), (bx, by) = geometry.left_normal(edge), geometry.left_normal((wall.start, wall.end))
    return Side.LEFT if ax * bx + ay * by > 0 else Side.RIGHT
