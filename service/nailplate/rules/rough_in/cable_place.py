"""Cable is of a kind that its place allows: nonmetallic-sheathed cable stays dry.

Why: the paper in NM cable draws water in like a wick; the conductors corrode, and the fault appears years later.

Fix: use UF-B cable, or THWN-2 conductors in a raceway, wherever it is damp or wet, and under a house on wheels conductors in metal raceway.

Trap: the inside of a conduit outdoors is a wet place too. Under the floor of a trailer is outdoors. Rain while the house is open does not
make a place wet, but cut back ends that have drawn water.

Does not judge: kinds other than nonmetallic-sheathed and AC cable, except under a chassis; sunlight, burial depth, corrosion,
damage (`exposed-run`), and the types of construction in which NM cable is allowed. Where nothing is said of the inside of a
wall or story it is taken as dry.
"""

from collections.abc import Iterator
from typing import Final

from nailplate.plan import Cable, UnknownFact
from nailplate.plan.trade import FROM_DRY_TO_WET, LEVELS_OUTSIDE
from nailplate.plan.words import CableType, Exposure, How
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule
from nailplate.rules.rough_in.told_once import each_run, run_words
from nailplate.survey.outdoors import exposure_of_room
from nailplate.survey.places import room_at
from nailplate.survey.rough_in import Run
from nailplate.survey.wiring import is_power_cable

DRY_ONLY: Final = (CableType.NM_B, CableType.AC)
"""Nonmetallic-sheathed and AC cable."""


@rule(
    id="cable-place",
    over=Cable,
    severity=Severity.DANGER,
    subjects=(Subject.CABLE_PLACES,),
    cites={
        "nec-2017": Cite(
            "334.10, 334.12; AC 320.12; under a chassis 551.47(N), 550.15(H)",
            note="www.garagejournal.com/forum/threads/wiring-a-pole-barn-conduit-or-bare-romex.9709/post-108103",
        )
    },
    hazards=(Hazard.WATER, Hazard.SHOCK, Hazard.FIRE),
)
def cable_place(cable: Cable, job: Job) -> Iterator[Outcome]:
    """334.12: each run of a cable, by how wet its place gets."""
    return each_run(cable, job, _judge, is_power_cable)


def _judge(run: Run, job: Job) -> Outcome:
    if run.segment.how is How.UNDER_CHASSIS:
        return _under_chassis(run)
    if run.cable.knows("type") and run.cable.type not in DRY_ONLY:
        return NotConcerned()
    if _wetness(run, job) is Exposure.DRY:
        return Pass()
    if run.cable.type not in DRY_ONLY:
        return NotConcerned()
    return _refused(run, f"a {_wetness(run, job).value} place", "Use UF-B cable, or THWN-2 conductors in a raceway.")


def _wetness(run: Run, job: Job) -> Exposure:
    """The wetter of what the route says and the room or outdoor place it lies in; inside a wall or story, dry where nothing is said."""
    stated = [run.segment.exposure] if run.segment.knows("exposure") else []
    level = job.plan.levels[run.level] if run.level is not None else None
    if run.wall is None and level is not None:
        rooms = {room.id: room for room in (room_at(job.survey, level.id, point[:2]) for point in run.points) if room}
        stated += [exposure_of_room(job.survey, room) for room in rooms.values() if not stated or room.knows("exposure")]
        if not stated and level.kind in LEVELS_OUTSIDE:
            raise UnknownFact(run.segment.where("exposure"))
    if not stated and level is None:
        raise UnknownFact(run.segment.where("exposure"))
    return max(stated, key=FROM_DRY_TO_WET.index, default=Exposure.DRY)


def _under_chassis(run: Run) -> Outcome:
    if run.cable.type in DRY_ONLY:
        return _refused(run, "the outside, under a chassis", "Use wet-rated conductors in rigid or intermediate metal conduit.")
    return Pass() if run.segment.raceway else NotConcerned()


def _refused(run: Run, where: str, instead: str) -> Violation:
    return Violation(
        message=f"{run_words(run)}: {run.cable.type} cable runs in {where}; it is allowed in dry places only.",
        remedies=(Remedy(instead),),
    )
