"""How far a balcony, deck or porch is off the house, seen from above: as stated, or as it is drawn."""

from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Room, Wall
from nailplate.plan.words import Side
from nailplate.survey.index import Survey
from nailplate.survey.outdoors import is_other_building, outer_walls
from nailplate.survey.places import point_on_wall, room_beside
from nailplate.survey.space import SNAP, THICKEST
from nailplate.units import Inches, reaches

_CELL: Final = 240.0


def gap_to_house(survey: Survey, deck: Room) -> Inches:
    """The gap between a deck and the house. Raises UnknownFact where it is not stated and it is not drawn touching a wall."""
    return Inches(0.0) if not deck.knows("gap_to_house") and touches_house(survey, deck) else deck.gap_to_house


def touches_house(survey: Survey, deck: Room) -> bool:
    """Whether its outline is drawn to an outer face of the house."""
    if not deck.knows("outline"):
        return False
    around = geometry.grown(geometry.bounding_box(deck.outline), SNAP + THICKEST)
    return any(_touches(deck.outline, wall) and not _of_another(survey, wall) for wall in survey.once(_walls).near(around))


def _walls(survey: Survey) -> geometry.Grid[Wall]:
    return geometry.Grid(((geometry.bounding_box((wall.start, wall.end)), wall) for wall in survey.once(outer_walls)), _CELL)


def _touches(outline: geometry.Outline, wall: Wall) -> bool:
    """Whether one of its sides runs along the wall, no farther off than drawing makes it."""
    if not wall.knows("thickness"):
        return False
    line, off = (wall.start, wall.end), wall.thickness / 2 + SNAP
    shared = (geometry.collinear_overlap(side, line, off) for side in geometry.sides(outline))
    return any(stretch is not None and reaches(stretch[1] - stretch[0], SNAP) for stretch in shared)


def _of_another(survey: Survey, wall: Wall) -> bool:
    """Whether it is a wall of a detached garage or another building beside the house."""
    middle = point_on_wall(wall, geometry.length_of((wall.start, wall.end)) / 2)
    rooms = (room_beside(survey, wall, middle, side) for side in Side)
    return any(room is not None and is_other_building(room) for room in rooms)
