"""A wall's face as one stands before it: which side is seen, how long and high it is, where its rooms' inside corners are."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Box, Ceiling, Device, Level, Panel, Place, Wall, WallPlace
from nailplate.plan.words import Side
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.drawing.spots import standing_of
from nailplate.sheets.drawing.walls import half_of
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing

USUAL_HEIGHT: Final = 96.0
"""Inches at which a wall is drawn whose height and ceiling the plan does not state. The sheet says so."""
_BESIDE: Final = 3.0
"""Inches by which a room's edge may stand off the wall's face and still lie along it."""
_OPEN: Final = 0.5
"""Inches between two rooms that no wall divides."""
Boxlike = Box | Device | Panel


@dataclass(frozen=True, slots=True)
class OnWall:
    """A part on a wall: where it stands in the house, and where on the wall, if the plan says both figures."""

    part: Boxlike
    at: Standing
    point: tuple[float, float] | None
    """How far along the wall and how high, inches."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """What one room has of a face: from inside corner to inside corner, in inches from the wall's ``from`` end."""

    name: str
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Face:
    """A face of a wall. ``mirrored`` where ``from`` is at the right of who stands before it, as it is on the left side."""

    wall: Wall
    side: Side
    length: float
    height: float
    height_said: bool
    stretches: tuple[Stretch, ...]
    on_it: tuple[OnWall, ...]
    behind: tuple[OnWall, ...]

    @property
    def mirrored(self) -> bool:
        """Whether the wall's ``from`` end is at the right."""
        return self.side is Side.LEFT

    def from_corner(self, along: float) -> float:
        """How far a place is from the inside corner at the left of who looks at it; from the end of the wall where none is drawn."""
        start, end = next((each for each in self.between_corners if each[0] <= along <= each[1]), (0.0, self.length))
        return end - along if self.mirrored else along - start

    @property
    def between_corners(self) -> list[tuple[float, float]]:
        """From inside corner to inside corner; where one room goes over into the next without a wall there is none."""
        return between_corners(self.stretches)


def between_corners(stretches: Iterable[Stretch]) -> list[tuple[float, float]]:
    """From inside corner to inside corner along a face whose stretches come in order."""
    found: list[tuple[float, float]] = []
    for each in stretches:
        if found and each.start - found[-1][1] <= _OPEN:
            found[-1] = (found[-1][0], max(found[-1][1], each.end))
        else:
            found.append((each.start, each.end))
    return found


def face_of(survey: Survey, wall: Wall, side: Side | None = None) -> Face:
    """A wall's face on a side; on the one that more boxes are on where no side is named."""
    standing = list(_on_wall(survey, wall))
    if side is None:
        lefts = sum(each.at.side is Side.LEFT for each in standing)
        side = Side.LEFT if 2 * lefts >= len(standing) else Side.RIGHT
    height = height_of_wall(survey, wall)
    return Face(
        wall=wall,
        side=side,
        length=geometry.length_of((wall.start, wall.end)),
        height=height if height is not None else USUAL_HEIGHT,
        height_said=height is not None,
        stretches=stretches_on(survey, wall, side),
        on_it=tuple(each for each in standing if each.at.side is side),
        behind=tuple(each for each in standing if each.at.side is not side),
    )


def walls_with_boxes(survey: Survey) -> list[Wall]:
    """The walls that boxes, panels or devices without a box are on, in the document's order."""
    plan = survey.plan
    parts: tuple[Boxlike, ...] = (*plan.panels.values(), *plan.boxes.values(), *plan.devices.values())
    standing = (standing_of(survey, part) for part in parts)
    ids = {at.wall.id for at in standing if at is not None and at.wall is not None}
    return [wall for wall in plan.walls.values() if wall.id in ids]


def _on_wall(survey: Survey, wall: Wall) -> Iterator[OnWall]:
    """Boxes, panels, and devices without a box, on either side of the wall."""
    plan = survey.plan
    devices = [each for each in plan.devices.values() if not each.knows("box")]
    parts: tuple[Boxlike, ...] = (*plan.panels.values(), *plan.boxes.values(), *devices)
    for part in parts:
        at = standing_of(survey, part)
        if at is not None and at.wall is wall:
            yield OnWall(part, at, _point(at.place))


def _point(place: Place) -> tuple[float, float] | None:
    if isinstance(place, WallPlace) and place.knows("along", "height"):
        return (place.along, place.height)
    return None


def height_of_wall(survey: Survey, wall: Wall) -> float | None:
    """A wall's height: its own, or its level's ceiling; None where the plan states neither."""
    if wall.knows("height"):
        return wall.height
    level: Level = survey.plan.levels[wall.level]
    return _highest(level.ceiling) if level.knows("ceiling") else None


def _highest(ceiling: Ceiling) -> float | None:
    if ceiling.knows("height"):
        return ceiling.height
    return max(line.height for line in ceiling.profile) if ceiling.knows("profile") else None


def stretches_on(survey: Survey, wall: Wall, side: Side) -> tuple[Stretch, ...]:
    """What each room has of a face, in order from the wall's ``from`` end."""
    return tuple(sorted(_stretches(survey, wall, side), key=lambda each: each.start))


def _stretches(survey: Survey, wall: Wall, side: Side) -> Iterator[Stretch]:
    middle = (wall.start, wall.end)
    sign = 1 if side is Side.LEFT else -1
    for room in survey.rooms_on_level.get(wall.level, []):
        for edge in geometry.sides(room.outline) if room.knows("outline") else ():
            one, other = (geometry.project(end, middle) for end in edge)
            near = all(abs(each.offset * sign - half_of(wall)) <= _BESIDE for each in (one, other))
            start, end = sorted((one.along, other.along))
            start, end = max(start, 0.0), min(end, geometry.length_of(middle))
            if near and end - start > _BESIDE:
                yield Stretch(name_of(room), start, end)
