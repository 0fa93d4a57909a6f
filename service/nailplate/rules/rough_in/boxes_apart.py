"""No two boxes are drawn in one place.

Why: two boxes cannot be set in one place. One of them will be moved or left out by whoever finds out, and the cable to it is cut for here.

Fix: move one of them along its wall, or put both sets of devices in one box of more gangs.

Trap: a box that was copied keeps its place. A panel takes a whole stud bay: a box cannot stand in it.

Does not judge: Boxes side by side, which are taken at the least size that they can have, and boxes back to back: `box-fits-wall` does.
"""

import math
from collections.abc import Iterator

from nailplate.calc import geometry
from nailplate.plan import Box, Panel, RoomPlace, UnknownFact
from nailplate.rulekit import Cite, Hazard, Job, Outcome, Pass, Remedy, Severity, Subject, Violation, rule
from nailplate.survey import Survey, standing
from nailplate.survey.boxes import Front, front_at, fronts_near, least_front
from nailplate.survey.names import name_of
from nailplate.units import inches, shown, within

SLACK = 0.125
"""Inches that two boxes may lie over each other on a drawing and still be side by side."""
LEVEL_WITH = 3.0
"""Inches up or down within which boxes in a ceiling or floor are in one place."""


@rule(
    id="boxes-apart",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.BOXES,),
    cites={"nec-2017": Cite("314.23", note="each box is supported on its own; from memory")},
    needs=("at",),
    hazards=(Hazard.BURIED, Hazard.PINCHED_INSULATION),
)
def boxes_apart(box: Box, job: Job) -> Iterator[Outcome]:
    """Each pair is told once, at the later of the two."""
    at = box.at
    if isinstance(at, RoomPlace):
        if not at.knows("point", "height"):
            raise UnknownFact(at.where("height" if at.knows("point") else "point"))
        others: list[tuple[Box | Panel, float]] = list(_in_ceiling(box, job.survey))
    else:
        if not at.knows("along", "height"):
            raise UnknownFact(at.where("height" if at.knows("along") else "along"))
        others = list(_on_wall(box, job.survey))
    for other, apart in others:
        yield _told(box, other, apart)
    if not others:
        yield Pass()


def _on_wall(box: Box, survey: Survey) -> Iterator[tuple[Box | Panel, float]]:
    """Panels and earlier boxes that a box lies over on its face of the wall. Raises UnknownFact where a side decides."""
    mine, order = front_at(survey, box), survey.once(_order)
    if mine is None:
        return
    for other, front in fronts_near(survey, mine):
        if isinstance(other, Box) and order[other.id] >= order[box.id]:
            continue
        along, up = mine.overlap(front.left, front.right, front.low, front.high)
        if not within(along, SLACK) and not within(up, SLACK) and standing(survey, other).side is standing(survey, box).side:
            yield other, math.dist(_middle(mine), _middle(front))


def _middle(front: Front) -> tuple[float, float]:
    return (front.left + front.right) / 2, (front.low + front.high) / 2


def _in_ceiling(box: Box, survey: Survey) -> Iterator[tuple[Box | Panel, float]]:
    place = box.at
    if not isinstance(place, RoomPlace):
        return
    level = survey.plan.rooms[place.room].level
    grid = survey.once(_off_walls, level)
    order = survey.once(_order)
    for other in grid.near(geometry.grown((*place.point, *place.point), LEVEL_WITH + SLACK)):
        if order[other.id] >= order[box.id] or not isinstance(other.at, RoomPlace):
            continue
        apart = math.dist(other.at.point, place.point)
        clear = (least_front(box)[0] + least_front(other)[0]) / 2
        if not within(clear - apart, SLACK) and within(abs(other.at.height - place.height), LEVEL_WITH):
            yield other, apart


def _off_walls(survey: Survey, level: str) -> geometry.Grid[Box]:
    placed = [box for box in survey.plan.boxes.values() if box.knows("at") and isinstance(box.at, RoomPlace)]
    here = [
        (box, box.at.point)
        for box in placed
        if isinstance(box.at, RoomPlace) and box.at.knows("point", "height") and survey.plan.rooms[box.at.room].level == level
    ]
    return geometry.Grid((((*point, *point), box) for box, point in here), cell=24.0)


def _order(survey: Survey) -> dict[str, int]:
    return {name: place for place, name in enumerate(survey.plan.boxes)}


def _told(box: Box, other: Box | Panel, apart: float) -> Violation:
    what = "panel" if isinstance(other, Panel) else "box"
    how_far = "at the same point" if within(apart, SLACK) else f"{shown(inches(apart))} from center to center"
    return Violation(
        f"{name_of(box)} and the {what} {name_of(other)} are drawn in one place, {how_far}.",
        inches(apart),
        remedies=(Remedy("Move one of them along the wall or ceiling, or put its devices in a box of more gangs."),),
        facet=other.id,
        related=(other.pointer,),
    )
