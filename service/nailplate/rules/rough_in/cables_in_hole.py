"""No more than 20 cables share one line of holes.

Why: cables in one hole heat each other, saw through each other as they are pulled, and cannot be told apart at the panel.

Fix: bore a second line of holes a few inches away, and divide the home runs.

Trap: far fewer may share a sealed or insulated hole: their ampacity goes down with each.

Does not judge: ampacity, which goes by the bundle; holes in floors and ceilings; how full a hole is, its firestop and its seal.
"""

from collections.abc import Iterator
from typing import Final

from nailplate.plan import Wall
from nailplate.plan.words import How
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import drill_lines, runs_in_wall
from nailplate.units import count, inches, shown

MOST: Final = 20
"""Common practice."""


@rule(
    id="cables-in-hole",
    over=Wall,
    severity=Severity.ADVICE,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={"nec-2017": Cite("No code requirement: common practice")},
    hazards=(Hazard.OVERHEATING, Hazard.PINCHED_INSULATION),
)
def cables_in_hole(wall: Wall, job: Job) -> Iterator[Outcome]:
    """Common practice: the fullest line of holes in each wall."""
    bored = [run for run in runs_in_wall(job.survey, wall) if run.segment.how is How.BORED]
    if not bored:
        return iter((NotConcerned(),))
    lines = drill_lines(job.survey, wall)
    unplaced = tuple(run.segment.where("heights") for run in bored if not run.points)
    fullest = max(lines, key=lambda line: line.cables, default=None)
    if fullest is not None and fullest.cables > MOST:
        return iter((_crowded(wall, fullest.height, fullest.cables),))
    if unplaced and len(bored) > MOST:
        return iter((Undetermined(unplaced),))
    return iter((Pass(count(fullest.cables if fullest else len(bored)), count(MOST)),))


def _crowded(wall: Wall, height: float, cables: int) -> Violation:
    return Violation(
        message=f"Wall {name_of(wall)}: {cables} cables share the holes {shown(inches(height))} above the floor; keep to {MOST} (common practice).",
        measured=count(cables),
        limit=count(MOST),
        remedies=(Remedy("Bore a second line of holes and divide them."),),
    )
