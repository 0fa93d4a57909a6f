"""The walls that an edge of a room's outline runs along, and those that a wall meets at its ends."""

from dataclasses import dataclass, replace

from nailplate.calc import geometry
from nailplate.plan import Wall
from nailplate.plan.words import Side
from nailplate.survey.index import Survey

SNAP = 2.0
"""Inches that an outline may be off a wall's face; finishes and rounding in plans make as much."""
THICKEST = 12.0
"""Inches; a wall whose thickness is not said is looked for this thick. Nothing is measured by it."""


@dataclass(frozen=True, slots=True)
class OnWall:
    """A stretch of an edge that a wall stands on."""

    start: float
    end: float
    wall: Wall
    side: Side


def walls_on(survey: Survey, level: str, edge: geometry.Segment) -> list[OnWall]:
    """The nearest wall at each place of the edge, in order along it; a wall's own length goes before another's past a corner."""
    near = survey.once(wall_grid, level).near(geometry.grown(geometry.bounding_box(edge), SNAP))
    as_drawn = [(wall, (wall.start, wall.end)) for wall in near]
    to_corners = [(wall, survey.once(_to_the_corners, wall.id)) for wall in near]
    found: list[OnWall] = []
    for walls in (as_drawn, to_corners):
        taken = [(each.start, each.end) for each in found]
        matches = [
            (off, wall, overlap)
            for wall, line in walls
            if (off := _off(edge, wall)) is not None
            if (overlap := geometry.collinear_overlap(edge, line, half_thickness(wall) + SNAP))
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


def half_thickness(wall: Wall) -> float:
    """Half of how thick a wall is, or may be where the plan does not say it."""
    return (wall.thickness if wall.knows("thickness") else THICKEST) / 2


def wall_grid(survey: Survey, level: str) -> geometry.Grid[Wall]:
    """The walls of a level by where they stand."""
    walls = survey.walls_on_level.get(level, [])
    return geometry.Grid(
        (geometry.grown(geometry.bounding_box((wall.start, wall.end)), half_thickness(wall) + SNAP), wall) for wall in walls
    )


def walls_met(survey: Survey, wall: Wall, end: geometry.Point, gap: float = 0.0) -> list[Wall]:
    """The walls that another comes to at its end: into their thickness, or to within a gap before their face."""
    near = survey.once(wall_grid, wall.level).near((*end, *end))
    return [other for other in near if other is not wall and _meets(other, end, gap)]


def _to_the_corners(survey: Survey, wall_id: str) -> geometry.Segment:
    """The wall's centre line, drawn out over the thickness of the walls that it meets, as its outer face runs at a corner."""
    wall = survey.plan.walls[wall_id]
    line = (wall.start, wall.end)
    length = geometry.length_of(line)
    before, after = (_past_corner(survey, wall, end) for end in line)
    return (geometry.point_along(line, -before), geometry.point_along(line, length + after))


def _past_corner(survey: Survey, wall: Wall, end: geometry.Point) -> float:
    met = [other for other in walls_met(survey, wall, end) if other.knows("thickness")]
    return max((_crossing(wall, other) for other in met), default=0.0)


def _meets(wall: Wall, point: geometry.Point, gap: float) -> bool:
    reach = half_thickness(wall) + (gap if wall.knows("thickness") else 0.0)
    return geometry.distance_to_segment(point, (wall.start, wall.end)) <= reach + geometry.DUST


def _crossing(wall: Wall, other: Wall) -> float:
    """How far a wall that ends on the centre line of another goes on to its far face; nothing where they run alike."""
    (ax, ay), (bx, by) = (geometry.left_normal((each.start, each.end)) for each in (wall, other))
    sine = abs(ax * by - ay * bx)
    return half_thickness(other) / sine if sine > _SKEW else 0.0


_SKEW = 0.3


def _side_of(wall: Wall, edge: geometry.Segment) -> Side:
    """The side of the wall that the inside of the edge lies on."""
    (ax, ay), (bx, by) = geometry.left_normal(edge), geometry.left_normal((wall.start, wall.end))
    return Side.LEFT if ax * bx + ay * by > 0 else Side.RIGHT
