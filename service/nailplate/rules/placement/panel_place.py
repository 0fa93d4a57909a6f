"""No panel is in a bathroom, in a clothes closet or over the steps of a stair.

Why: water and bare feet, clothes against a hot panel, and a fall down the stairs while one works on it.

Fix: hang the panel in a hall, a utility room, a bedroom or outdoors.

Trap: a bedroom is allowed. A panel under a stair is not over its steps, but seldom has its working space. A toilet room with a
basin outside it, a linen closet and a pantry are for the authority having jurisdiction to judge; some places also bar any room
with a shower.

Does not judge: physical damage, temperature and moisture at the place, and who may reach a panel in a building of several
dwellings. The space in front and above is judged by `working-space` and `dedicated-space`, the height by `handle-height`.
"""

from collections.abc import Iterator

from nailplate.calc import geometry
from nailplate.plan import Panel, Room, Stair, UnknownFact
from nailplate.plan.trade import BATH_FIXTURES
from nailplate.plan.words import FixtureKind, Regime, Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.placement.stair_heights import stairs_from, steps_at
from nailplate.survey.equipment import Front, front_of
from nailplate.survey.names import name_of

STANDS = 18.0
"""Inches before the wall where the feet are of somebody who works on a panel (our own measure)."""
REMEDY = Remedy("Mount the panel elsewhere: in a hall, a utility room, a bedroom or outdoors.")


@rule(
    id="panel-place",
    over=Panel,
    severity=Severity.CODE,
    subjects=(Subject.PANEL_PLACES,),
    cites={
        "nec-2017": Cite(
            "240.24(D), (E), (F)",
            seen=(2023,),
            note="https://captaincode2023.leviton.com/node/325; http://ecmweb.com/qampa/code-qa-overcurrent-devices; IRC E3405: "
            "https://www.contractortalk.com/threads/subpanel-working-clearance.250081/?u=720",
        )
    },
    needs=("at",),
    hazards=(Hazard.WATER, Hazard.FIRE, Hazard.SHOCK, Hazard.NO_WAY_OUT),
)
def panel_place(panel: Panel, job: Job) -> Outcome | list[Outcome]:
    """240.24(D) to (F), for one panel."""
    front = front_of(job.survey, panel)
    room = front.stands.room
    if room is None and not front.stands.outside:
        return Undetermined((job.plan.where("rooms"),), f"No room is drawn where {name_of(panel)} is mounted.")
    found = [*(_in_room(panel, room, job) if room else ()), *_over_stairs(front, job)]
    return found or Pass()


def _in_room(panel: Panel, room: Room, job: Job) -> Iterator[Outcome]:
    if Use.BATHROOM in room.uses:
        if _baths_meant(job):
            yield _banned(panel, f"{name_of(room)}, a bathroom", "bath")
        return
    yield from _at_water(panel, room, job)
    if Use.CLOSET in room.uses or Use.PANTRY in room.uses:
        yield _in_closet(panel, room, job)


def _baths_meant(job: Job) -> bool:
    """Until 2023 those of dwellings and guest rooms."""
    basis = job.plan.basis
    other = basis.is_(regime=Regime.NOT_A_DWELLING)
    return job.holds("showers_bar_panels") or not other


def _at_water(panel: Panel, room: Room, job: Job) -> Iterator[Outcome]:
    kinds = {fixture.kind for fixture in job.survey.fixtures_in_room.get(room.id, [])}
    if FixtureKind.SHOWER in kinds and job.holds("showers_bar_panels"):
        yield _banned(panel, f"{name_of(room)}, which has a shower", "bath")
    elif Use.TOILET in room.uses or kinds & BATH_FIXTURES:
        yield _perhaps_bath(panel, room, FixtureKind.BASIN in kinds)


def _perhaps_bath(panel: Panel, room: Room, has_basin: bool) -> Judgement:
    other = (
        "Only the part of the room around basin and toilet, tub or shower is the bathroom."
        if has_basin
        else "A bathroom is an area with a basin; without one this is none."
    )
    return Judgement(
        message=f"{name_of(panel)} is mounted in {name_of(room)}, where a toilet, tub or shower is. Whether that is a bathroom, ask the "
        "authority having jurisdiction.",
        readings=(
            Reading(
                "The room, with the basin that serves it, is a bathroom; the residential code names toilet rooms too.",
                "violation",
            ),
            Reading(other, "pass"),
        ),
        remedies=(REMEDY,),
        facet="bath",
    )


def _in_closet(panel: Panel, room: Room, job: Job) -> Outcome:
    kinds = {fixture.kind for fixture in job.survey.fixtures_in_room.get(room.id, [])}
    if FixtureKind.CLOSET_ROD in kinds:
        return _banned(panel, f"{name_of(room)}, a clothes closet", "closet")
    return Judgement(
        message=f"{name_of(panel)} is mounted in {name_of(room)}. Whether what is kept there is easily ignited, as clothes are, ask the "
        "authority having jurisdiction.",
        readings=(
            Reading("Linen, paper and the like are as easily ignited as clothes.", "violation"),
            Reading("The code names clothes closets; this is none.", "pass"),
        ),
        remedies=(REMEDY,),
        facet="closet",
    )


def _banned(panel: Panel, where: str, facet: str) -> Violation:
    return Violation(f"{name_of(panel)} is mounted in {where}; no panel may be there.", remedies=(REMEDY,), facet=facet)


def _over_stairs(front: Front, job: Job) -> Iterator[Outcome]:
    feet = front.spot(0.0, STANDS)
    for stair in stairs_from(job.survey, front.wall.level):
        if stair.knows("opening") and stair.upper == front.wall.level and geometry.contains(stair.opening, feet):
            yield _above_steps(front, stair)
        elif stair.knows("outline") and stair.lower == front.wall.level and geometry.contains(stair.outline, feet):
            yield from _by_height(front, stair, feet, job)


def _by_height(front: Front, stair: Stair, feet: geometry.Point, job: Job) -> Iterator[Outcome]:
    """A stair's outline holds the space under it too; what tells is whether the panel is above the steps."""
    try:
        steps = steps_at(job.survey, stair, feet)
        height = front.panel.at.height
    except UnknownFact as unknown:
        yield Undetermined((unknown.pointer,), facet=stair.id)
        return
    if height > steps:
        yield _above_steps(front, stair)


def _above_steps(front: Front, stair: Stair) -> Violation:
    return Violation(
        message=f"Somebody who works on {name_of(front.panel)} stands on the steps of {name_of(stair)}; no panel may be over them.",
        remedies=(REMEDY,),
        facet=stair.id,
        related=(stair.pointer,),
    )
