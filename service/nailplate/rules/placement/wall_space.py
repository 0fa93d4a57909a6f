"""Along the walls of living rooms no point of the floor line is more than 6 ft from a receptacle in the same wall space.

Why: lamps and appliances have cords of about 6 ft; where receptacles are farther apart, extension cords are run across
doorways and under rugs, where they are damaged.

Fix: add a receptacle within 6 ft of every point of each wall space of 2 ft or more; one across a doorway
does not count.

Trap: a wall space runs on around corners and past windows, so one receptacle for each 12 ft of every single wall is not what is
asked. A receptacle over a kitchen counter serves the counter and not the wall beside it. Neither a refrigerator nor a
free-standing range breaks a wall space; of a range between two counters the counters' own rule speaks, of one at their end both
may.

Does not judge: hallways, foyers, kitchen counters, lofts and dividers: `hall-receptacle`, `foyer-receptacles`, `wall-counter`,
`loft-receptacles` and `room-divider` do. How the receptacles are protected is judged by `afci-rooms`, `gfci-locations` and
`tamper-resistant`.
"""

from nailplate.plan import Room
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Severity, Subject, rule
from nailplate.rules.placement.wall_outcomes import contested_guard, in_loft, is_lived_in, wall_outcomes


@rule(
    id="wall-space",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.WALL_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.52(A)",
            seen=(2017, 2020, 2023),
            note="https://forums.mikeholt.com/threads/2587744; cabinets with a top: "
            "https://www.jadelearning.com/blog/fixed-cabinets-equipped-with-countertops-are-considered-wall-space-2017-nec-210-52a21/",
        ),
        "nec-2026": Cite(
            "210.52(A)", note="fixed cabinets seen in a public course on the 2026 edition; the distances assumed unchanged"
        ),
    },
    needs=("outline",),
    hazards=(Hazard.CORDS, Hazard.TRIP, Hazard.FIRE),
    dwelling_only=True,
    limits=("receptacle_highest", "floor_receptacle_to_wall"),
)
def wall_space(room: Room, job: Job) -> Outcome | list[Outcome]:
    """210.52(A)(1) to (4), one outcome for each wall space of the room."""
    if in_loft(room, job) or not is_lived_in(room):
        return NotConcerned()
    found = wall_outcomes(room, job)
    return [each for each in found if not contested_guard(each)] or NotConcerned()
