"""Boxes on opposite sides of a fire-rated wall are 24 in apart, and plastic ones are listed for it.

Why: two boxes back to back leave a hole through the wall that fire passes in minutes.

Fix: move one box 24 in or more along the wall, or use boxes or putty pads that are listed for less.

Trap: the wall between a garage and the house is usually no rated wall; one between two dwellings, or close to the lot line, is.

Does not judge: steel boxes over 16 sq in, their total area in 100 sq ft of wall, and the 1/8 in gap around them.
"""

from nailplate.plan import Box, WallPlace
from nailplate.plan.words import BoxMaterial
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.rules.rough_in.boxes_in_wall import nearest_opposite
from nailplate.survey.names import name_of
from nailplate.units import inches, reaches, shown


@rule(
    id="fire-rated-wall-boxes",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.FREE_CONDUCTORS,),
    cites={"irc-2015": Cite("R302.4.2", note="www.askcodeman.com/viewtopic.php?f=12&t=8")},
    hazards=(Hazard.FIRE,),
)
def fire_rated_wall_boxes(box: Box, job: Job) -> Outcome:
    """IRC R302.4.2: a box in a wall that is fire-rated."""
    if not box.knows("at") or not isinstance(box.at, WallPlace):
        return NotConcerned()
    wall = job.plan.walls[box.at.wall]
    if not wall.knows("fire_rated") or not wall.fire_rated:
        return NotConcerned()
    if box.is_(rated_wall_listed=True):
        return Pass()
    if box.material is not BoxMaterial.METAL and not box.rated_wall_listed:
        return _not_listed(box)
    near = nearest_opposite(job.survey, box.at)
    if near is None or reaches(near[0], job.inches("rated_wall_boxes_apart")):
        return Pass(inches(near[0]) if near else None, job.measure("rated_wall_boxes_apart"))
    return _back_to_back(box, near[1], near[0], job) if not box.rated_wall_listed else Pass()


def _not_listed(box: Box) -> Violation:
    return Violation(
        message=f"{name_of(box)}: a plastic box stands in a fire-rated wall and is not listed for it.",
        remedies=(
            Remedy(
                "Use a box that is listed for fire-rated walls, or a steel box.", (state(box, "rated_wall_listed", value=True),)
            ),
        ),
    )


def _back_to_back(box: Box, other: Box, apart: float, job: Job) -> Violation:
    limit = job.measure("rated_wall_boxes_apart")
    return Violation(
        message=(
            f"{name_of(box)} and {name_of(other)} on the other side of a fire-rated wall are {shown(inches(apart))} apart; "
            f"{shown(job.measure('rated_wall_boxes_apart'))} is required."
        ),
        measured=inches(apart),
        limit=limit,
        remedies=(
            Remedy("Move one of them along the wall."),
            Remedy("Or use boxes or putty pads that are listed for it.", (state(box, "rated_wall_listed", value=True),)),
        ),
        related=(other.pointer,),
    )
