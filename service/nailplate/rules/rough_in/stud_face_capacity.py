"""No more cables run down one stud than its sides hold without plates.

Why: on a 2x4 only 1 in of its side is 1-1/4 in from both edges: two flat cables. The third is stapled where the screws come.

Fix: use listed cable stackers, bring cables down the next stud or blocking, frame that bay with 2x6, or feed the box from another side.

Trap: boxes of three and four gangs commonly take four to seven cables. On a 2x3 no cable runs without a plate at all.

Does not judge: cables whose stack or stacker the plan states; those are held off the wood by the stacker.
"""

from collections.abc import Iterator

from nailplate.plan import Wall
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import Stack, stacks_in
from nailplate.units import inches, shown, within


@rule(
    id="stud-face-capacity",
    over=Wall,
    severity=Severity.ADVICE,
    subjects=(Subject.HOLES_AND_SUPPORTS,),
    cites={
        "nec-2017": Cite("300.4(D), 334.30; worked from them", note="forums.mikeholt.com 300-4-d.58436"),
        "nec-2026": Cite("300.6(D), 334.30; worked from them", note="forums.mikeholt.com/threads/2029-pi-300-6-d.2591142"),
    },
    hazards=(Hazard.PIERCED_CABLE, Hazard.OVERHEATING),
)
def stud_face_capacity(wall: Wall, job: Job) -> Iterator[Outcome]:
    """The fullest stud of each wall: the widths of the cables drawn down it, side by side, against the band on its sides."""
    stacks = stacks_in(job.survey, wall)
    if not stacks:
        return iter((NotConcerned(),))
    fullest = max(stacks, key=lambda stack: stack.width - stack.room)
    missing = tuple(need for stack in stacks for need in stack.unknown)
    if within(fullest.width, fullest.room):
        said: Outcome = Undetermined(missing) if missing else Pass(inches(fullest.width), inches(fullest.room))
        return iter((said,))
    if fullest.stackers_unsaid:
        return iter((Undetermined(fullest.stackers_unsaid),))
    return iter((_crowded(wall, fullest, len([each for each in stacks if not within(each.width, each.room)])),))


def _crowded(wall: Wall, stack: Stack, places: int) -> Violation:
    more = f" So it is at {places - 1} more places in this wall." if places > 1 else ""
    return Violation(
        message=(
            f"Wall {name_of(wall)}: {len(stack.runs)} cables run down the stud {shown(inches(stack.along))} along it, {shown(inches(stack.width))} "
            f"side by side; the stud holds {shown(inches(stack.room))} without plates.{more}"
        ),
        measured=inches(stack.width),
        limit=inches(stack.room),
        remedies=(Remedy("Use listed cable stackers, the next stud, blocking, or feed the box from another side."),),
        related=tuple(run.pointer for run in stack.runs),
    )
