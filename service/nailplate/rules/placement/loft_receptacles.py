"""A loft that people live or sleep in has receptacles along its walls as any other room.

Why: lamps, chargers and heaters go up with the people; a cord that is led up from the floor below hangs in the stair.

Fix: add receptacles on the loft's own walls, so that no point of a wall space is more than 6 ft from one; heights count
from the loft's floor.

Trap: the code names no least height of a wall or ceiling, so a low loft is not exempt for being low. A receptacle on a wall below
the loft's edge is on the floor below. Whether a guard or a very low knee wall is wall space is read two ways.

Does not judge: lofts for storage alone. Guards and very low knee walls are read two ways and left to the authority having
jurisdiction; how high a loft is, or whether it may be slept in, is for the residential code.
"""

from nailplate.plan import Room
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Severity, Subject, rule
from nailplate.rules.placement.wall_outcomes import in_loft, is_lived_in, wall_outcomes


@rule(
    id="loft-receptacles",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.WALL_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.52(A)",
            seen=(2017,),
            note="https://forums.mikeholt.com/showthread.php?t=190791 ; https://forums.mikeholt.com/threads/25436 ; guards: "
            "https://forums.mikeholt.com/threads/33945 and 89111",
        ),
        "nec-2020": Cite("210.52(A)"),
        "nec-2026": Cite("210.52(A)", note="assumed unchanged for lofts"),
    },
    needs=("outline",),
    hazards=(Hazard.CORDS, Hazard.TRIP, Hazard.FIRE),
    dwelling_only=True,
)
def loft_receptacles(room: Room, job: Job) -> Outcome | list[Outcome]:
    """210.52(A) for the rooms of a loft, one outcome for each wall space; a loft for storage alone is not concerned."""
    if not in_loft(room, job) or not is_lived_in(room):
        return NotConcerned()
    return wall_outcomes(room, job)
