"""Boxes, panels and cables stay clear of the corner where another wall meets their own.

Why: the studs of the other wall stand there. A box cannot be set, a cable cannot be stapled, or the corner post is cut for it.

Fix: move it along the wall, past the corner's framing.

Trap: rooms are drawn without their framing. Where walls meet there is a post or backing behind the finish, about an inch and a half
more on each side. A cable that turns the corner through the studs is ordinary; one that goes up inside the post has no room there unless
the corner is framed open.

Does not judge: The post and backing beside the other wall, which `box-beside-stud` does for boxes: what is told is what reaches into that
wall's own thickness. Holes in the studs of a corner are judged by `bore-strength`.
"""

from collections.abc import Iterator
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Box, Cable, Panel, RoomPlace, Wall
from nailplate.plan.trade import FRAMED_WALLS
from nailplate.plan.words import Side
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Violation
from nailplate.survey import Survey, standing
from nailplate.survey.boxes import least_front
from nailplate.survey.names import name_of
from nailplate.survey.places import beside_wall, point_on_wall
from nailplate.survey.rough_in import Run, runs_of
from nailplate.survey.space import wall_grid
from nailplate.units import inches, shown

OFF: Final = 1.0
"""Inches off the wall's face at which another wall is looked for."""
SLACK: Final = 0.25
"""Inches that a thing may reach into another wall on a drawing."""


@rule(
    id="corner-framing",
    over=(Box, Panel, Cable),
    severity=Severity.CODE,
    subjects=(Subject.BOXES,),
    cites={"nec-2017": Cite("314.23, 300.11(A)", note="boxes and cables are fastened to structure; from memory")},
    hazards=(Hazard.WEAKENED_FRAME, Hazard.BURIED),
)
def corner_framing(part: Box | Panel | Cable, job: Job) -> Outcome:
    """The left edge, middle and right edge of a front, an inch off the wall's face; and the line of a run up a wall."""
    if isinstance(part, Cable):
        return _of_cable(part, job)
    if isinstance(part.at, RoomPlace):
        return NotConcerned()
    wall = job.plan.walls[part.at.wall]
    if not wall.knows("thickness"):
        return NotConcerned()
    side, half = standing(job.survey, part).side or Side.LEFT, _width(part) / 2
    for along in (part.at.along - half, part.at.along, part.at.along + half):
        point = beside_wall(wall, point_on_wall(wall, along), side, OFF)
        other = next(_walls_at(job.survey, wall, point, part.at.height if part.at.knows("height") else None), None)
        if other is not None:
            return _in_the_way(part, other, along)
    return Pass()


def _width(part: Box | Panel) -> float:
    return least_front(part)[0] if isinstance(part, Box) else float(part.face.width)


def _walls_at(survey: Survey, wall: Wall, point: geometry.Point, height: float | None) -> Iterator[Wall]:
    """The other walls whose body holds a point."""
    for other in survey.once(wall_grid, wall.level).near((*point, *point)):
        if other is wall or other.kind not in FRAMED_WALLS or not other.knows("thickness"):
            continue
        over = height is not None and other.knows("height") and height > other.height
        line = (other.start, other.end)
        at = geometry.project(point, line)
        deep = other.thickness / 2 - abs(at.offset)
        if not over and deep > SLACK and -SLACK < at.along < geometry.length_of(line) + SLACK:
            yield other


def _of_cable(cable: Cable, job: Job) -> Outcome:
    upright = [run for run in runs_of(job.survey, cable) if run.wall is not None and run.upright]
    for run in upright:
        other = next((each for each in _around(run, job.survey)), None)
        if other is not None:
            return _in_the_post(cable, run, other)
    return Pass() if upright else NotConcerned()


def _around(run: Run, survey: Survey) -> Iterator[Wall]:
    """The walls that a run's own wall ends in, where the run goes up inside both; past a wall that only meets it there is room."""
    x, y, _ = run.points[0]
    if run.wall is None:
        return
    along, length = run.on_wall[0][0], geometry.length_of((run.wall.start, run.wall.end))
    for other in _walls_at(survey, run.wall, (x, y), min(z for _, _, z in run.points)):
        if min(along, length - along) < other.thickness / 2 - SLACK:
            yield other


def _in_the_way(part: Box | Panel, other: Wall, along: float) -> Violation:
    kind = "panel" if isinstance(part, Panel) else "box"
    return Violation(
        f"The {kind} {name_of(part)} is set where wall {name_of(other)} meets its own; the framing of the corner stands in its way.",
        inches(along),
        remedies=(Remedy(f"Move the {kind} along its wall, {shown(inches(3.0))} or more past the corner's finished face."),),
        related=(other.pointer,),
    )


def _in_the_post(cable: Cable, run: Run, other: Wall) -> Judgement:
    wall = name_of(run.wall) if run.wall is not None else ""
    return Judgement(
        f"{name_of(cable)} goes up inside the corner of walls {wall} and {name_of(other)}.",
        (
            Reading("The corner is framed open, with room for a cable.", "pass"),
            Reading("A post of three studs fills it.", "violation"),
        ),
        remedies=(Remedy("Take the cable up the face of the next stud."),),
        at=run.pointer,
        related=(other.pointer,),
    )
