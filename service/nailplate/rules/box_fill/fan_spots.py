"""Whether a fan could hang from a ceiling box: the room, the height, and how far the walls are."""

from typing import Final

from nailplate.calc.geometry import Point, distance_to_segment
from nailplate.plan import Box, Room, Wall
from nailplate.plan.trade import HABITABLE
from nailplate.plan.words import WallKind
from nailplate.survey.index import Survey
from nailplate.survey.places import standing
from nailplate.survey.space import wall_grid
from nailplate.units import reaches

BLADES: Final = 84.0
"""Inches above the floor that a fan's blades keep, by makers' instructions."""
FROM_WALLS: Final = 36.0
"""Inches from a wall within which nobody asks for a fan box; reports of what inspectors ask begin there."""
_LOW_WALLS: Final = frozenset({WallKind.HALF, WallKind.RAILING})


def is_habitable(room: Room) -> bool:
    """Whether people live, sleep, eat or cook in a room; halls, baths, closets and storage are not for that."""
    return bool(HABITABLE.intersection(room.uses)) or room.is_(habitable=True)


def is_near_a_wall(survey: Survey, box: Box) -> bool:
    """Whether the face of a wall that comes up to the blades is within 3 ft of a box on the ceiling."""
    where = standing(survey, box)
    x, y = where.point
    around = (x - FROM_WALLS, y - FROM_WALLS, x + FROM_WALLS, y + FROM_WALLS)
    tall = [wall for wall in survey.once(wall_grid, where.level).near(around) if wall.kind not in _LOW_WALLS]
    return any(not reaches(_distance(where.point, wall), FROM_WALLS) for wall in tall)


def _distance(point: Point, wall: Wall) -> float:
    half = wall.thickness / 2 if wall.knows("thickness") else 0.0
    return distance_to_segment(point, (wall.start, wall.end)) - half
