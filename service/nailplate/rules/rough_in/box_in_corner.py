"""A box stands clear of the corner where another wall meets its own.

Why: the studs of the other wall stand there. The box cannot be set, or the corner post is cut for it.

Fix: move the box along the wall, past the corner's framing.

Trap: rooms are drawn without their framing. Where walls meet there is a post or backing behind the finish, about an inch and a half
more on each side.

Does not judge: The post and backing beside the other wall. A box that reaches into that wall's own thickness is told.
"""

from collections.abc import Iterator
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Box, RoomPlace, Wall
from nailplate.plan.trade import FRAMED_WALLS
from nailplate.plan.words import Side
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule
from nailplate.survey import Survey, standing
from nailplate.survey.boxes import least_front
from nailplate.survey.names import name_of
from nailplate.survey.places import beside_wall, point_on_wall
from nailplate.survey.space import wall_grid
from nailplate.units import inches, shown

OFF: Final = 1.0
"""Inches off the wall's face at which another wall is looked for."""
SLACK: Final = 0.25
"""Inches that a box may reach into another wall on a drawing."""


@rule(
    id="box-in-corner",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.BOXES,),
    cites={"nec-2017": Cite("314.23", note="boxes are fastened to structure or a wall's surface; from memory")},
    needs=("at",),
    hazards=(Hazard.WEAKENED_FRAME, Hazard.BURIED),
)
def box_in_corner(box: Box, job: Job) -> Outcome:
    """The left edge, middle and right edge of the box's front, an inch off the wall's face, against the bodies of other walls."""
    if isinstance(box.at, RoomPlace):
        return NotConcerned()
    wall = job.plan.walls[box.at.wall]
    if not wall.knows("thickness"):
        return NotConcerned()
    side, half = standing(job.survey, box).side, least_front(box)[0] / 2
    for along in (box.at.along - half, box.at.along, box.at.along + half):
        other = next(_walls_at(job.survey, wall, along, side or Side.LEFT, _height(box)), None)
        if other is not None:
            return _told(box, other, along)
    return Pass()


def _height(box: Box) -> float | None:
    return box.at.height if box.at.knows("height") else None


def _walls_at(survey: Survey, wall: Wall, along: float, side: Side, height: float | None) -> Iterator[Wall]:
    """The walls whose body holds the point beside a place on ``wall``."""
    point = beside_wall(wall, point_on_wall(wall, along), side, OFF)
    for other in survey.once(wall_grid, wall.level).near((*point, *point)):
        if other is wall or other.kind not in FRAMED_WALLS or not other.knows("thickness"):
            continue
        over = height is not None and other.knows("height") and height > other.height
        line = (other.start, other.end)
        deep = other.thickness / 2 - abs(geometry.project(point, line).offset)
        if not over and deep > SLACK and -SLACK < geometry.project(point, line).along < geometry.length_of(line) + SLACK:
            yield other


def _told(box: Box, other: Wall, along: float) -> Violation:
    return Violation(
        f"{name_of(box)} is set where wall {name_of(other)} meets its own; the framing of the corner stands in its way.",
        inches(along),
        remedies=(Remedy(f"Move the box along its wall, {shown(inches(3.0))} or more past the corner's finished face."),),
        related=(other.pointer,),
    )
