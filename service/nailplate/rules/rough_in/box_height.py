"""A box is drawn between the floor and the ceiling of its room.

Why: a box under the floor or over the ceiling is in another space than the plan says. Its cable, its access and what protects it are
then judged for a room that it is not in.

Fix: correct the height, or draw the box in the attic, crawl space or level below.

Trap: heights count to the center of the box, over the finished floor of its own level, and outdoors over grade or deck: a loft's boxes
count from the loft's floor. A box in a floor or a ceiling lies in its framing, up to a foot beyond the finish.

Does not judge: boxes outdoors, and whether the height suits its use: `usual-heights`, `even-heights` and `handle-height` do.
Whether a box can be reached is judged by `box-accessible`.
"""

from typing import Final

from nailplate.plan import Box, Pointer, RoomPlace, UnknownFact
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey import Survey, standing
from nailplate.survey.boxes import height_in_wall
from nailplate.survey.names import name_of
from nailplate.survey.outdoors import is_outdoor
from nailplate.survey.places import room_at
from nailplate.survey.space import ceiling_over
from nailplate.units import inches, shown, within

IN_THE_FRAMING: Final = 14.0
"""Inches beyond floor or ceiling to which a box in it may lie: a 2x12 and its finish."""
CROSSES: Final = 0.5
"""Inches by which a wall box may pass the line of floor or ceiling on a drawing."""


@rule(
    id="box-height",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.BOXES,),
    cites={"nec-2017": Cite("314.29", note="a box stays within reach in the space it serves; from memory")},
    needs=("at",),
    hazards=(Hazard.BURIED,),
)
def box_height(box: Box, job: Job) -> Outcome:
    """The center's height against floor and ceiling."""
    off_wall, stands = isinstance(box.at, RoomPlace), standing(job.survey, box)
    slack = IN_THE_FRAMING if off_wall else CROSSES
    if stands.outside or (stands.room is not None and is_outdoor(stands.room)):
        return NotConcerned()
    if (height := height_in_wall(job.survey, box)) is None:
        return NotConcerned()
    if height < -slack:
        return _beyond(box, height, 0.0, "under the floor")
    top = _top(job.survey, box)
    if not within(height, top + slack):
        unsaid = _unsaid(job.survey, box)
        if unsaid is not None and unsaid.members[-1] == "outline" and stands.room is not None and stands.room.knows("outline"):
            return Undetermined((), f"{name_of(box)} is drawn outside its room; the ceiling over it is not told.")
        return Undetermined((unsaid,)) if unsaid is not None else _beyond(box, height, top, "over the ceiling")
    return Pass(inches(height), inches(top))


def _top(survey: Survey, box: Box) -> float:
    """The ceiling, or the top of a wall that stands higher. Raises UnknownFact where neither is known."""
    stands = standing(survey, box)
    tall = float(stands.wall.height) if stands.wall is not None and stands.wall.knows("height") else None
    try:
        ceiling = ceiling_over(survey, stands.level, stands.point)
    except UnknownFact:  # unknown: the ceiling; no box is over the top of the wall that it is set in
        if tall is None:
            raise
        return tall
    return ceiling if tall is None else max(ceiling, tall)


def _unsaid(survey: Survey, box: Box) -> Pointer | None:
    """What would tell that the ceiling is higher here than usual on its level: the wall's height, or the room's own ceiling."""
    stands = standing(survey, box)
    if stands.wall is not None:
        return None if stands.wall.knows("height") else stands.wall.where("height")
    if (room := stands.room) is None or (room.knows("ceiling") and room_at(survey, stands.level, stands.point) is room):
        return None
    return room.where("outline" if room.knows("ceiling") else "ceiling")


def _beyond(box: Box, height: float, limit: float, where: str) -> Violation:
    said = f"{name_of(box)} is drawn {shown(inches(abs(height - limit)))} {where} of its level."
    ways = (Remedy("Correct its height, or draw it on the level or in the attic or crawl space where it is."),)
    return Violation(said, inches(height), inches(limit), ways, at=box.at.where("height"))
