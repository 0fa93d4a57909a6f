"""Each separate unfinished portion of a basement has a receptacle, and so has each accessory building with power.

Why: pumps, dehumidifiers, freezers and tools are used there; where there is no receptacle, cords run down the stairs.

Fix: put a receptacle on a wall of the portion that has none, not more than 5 ft 6 in above the floor.

Trap: a receptacle for a washer, a sump pump or a freezer is for that equipment and is not the one that is meant. A shed without
power needs none. The finished rooms of a basement are rooms like others.

Does not judge: finished rooms of a basement, which are rooms like others (`wall-space`); the receptacle for servicing a furnace
(`equipment-receptacle`); and the circuit and GFCI protection (`gfci-locations`). What a receptacle that counts is really used
for, such as a security system, is known only as far as the plan states it.
"""

from nailplate.plan import Pointer, Room, UnknownFact
from nailplate.plan.trade import OFTEN_UNFINISHED
from nailplate.plan.words import BuildingKind, LevelKind, Use
from nailplate.remedies.added_in_rooms import place_in_room
from nailplate.remedies.new_devices import added_devices, new_receptacle
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.rules.placement.open_plan import open_to
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import passed_over_for_use, pointers, receptacles_in, told
from nailplate.units import inches, shown

USUAL_HEIGHT = 48.0
"""Inches above the floor of a receptacle on a bare basement or workshop wall (common practice)."""


@rule(
    id="basement-receptacle",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.OTHER_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.52(G)(2), (3)",
            seen=(2023,),
            note="https://captaincode2017.leviton.com/node/128; that a portion open to another is one with it is our reading",
        )
    },
    hazards=(Hazard.CORDS, Hazard.TRIP, Hazard.WATER),
    dwelling_only=True,
    changes={
        "nec-2023": "A receptacle for a security system alone does not count.",
    },
)
def basement_receptacle(room: Room, job: Job) -> Outcome:
    """210.52(G)(2) and (3), for one room."""
    if _is_of_many(job):
        return NotConcerned()
    if Use.ACCESSORY in room.uses:
        return _judged(room, "with power", job) if room.has_power else NotConcerned()
    if not _in_basement(room, job) or room.finished:
        return NotConcerned()
    return _judged(room, "an unfinished portion of the basement", job)


def _in_basement(room: Room, job: Job) -> bool:
    """A part of a basement; of a room whose use is one of finished rooms it is not asked whether it is finished."""
    if Use.BASEMENT in room.uses:
        return True
    level = job.plan.levels[room.level]
    unfinished = room.is_(finished=False)
    return level.kind is LevelKind.BASEMENT and (unfinished or OFTEN_UNFINISHED.issuperset(room.uses))


def _is_of_many(job: Job) -> bool:
    basis = job.plan.basis
    many = basis.is_(building=BuildingKind.MULTIFAMILY)
    return many and not job.holds("multifamily_places_too")


def _judged(room: Room, what: str, job: Job) -> Outcome:
    portions, unknown = _open_portions(room, job)
    for portion in (room, *portions):
        here = receptacles_in(job.survey, portion)
        if any(not each.needs for each in here.for_use):
            return Pass()
        unknown += [*(need for each in here.for_use for need in each.needs), *here.unplaced]
    if unknown:
        return Undetermined(tuple(dict.fromkeys(unknown))[:20])
    message = (
        f"{name_of(room)}, {what}, has no receptacle for use; one not more than {shown(job.measure('receptacle_highest'))} above the floor is "
        "required, beside those for equipment."
    )
    beside = [each for portion in (room, *portions) for each in passed_over_for_use(job.survey, portion)]
    return Violation(f"{message}{told(beside)}", remedies=(_remedy(room, job),), related=pointers(beside))


def _open_portions(room: Room, job: Job) -> tuple[list[Room], list[Pointer]]:
    """The unfinished portions that this one is open to, with which it is one; and what is left out of others that may be."""
    if len(job.survey.rooms_on_level.get(room.level, [])) == 1:
        return [], []
    try:
        beside = open_to(job.survey, room)
    except UnknownFact as unknown:
        return [], [unknown.pointer]
    unsaid = [
        each.where("finished") for each in beside if not each.knows("finished") and receptacles_in(job.survey, each).for_use
    ]
    return [each for each in beside if each.is_(finished=False)], unsaid


def _remedy(room: Room, job: Job) -> Remedy:
    place = place_in_room(job.survey, room, USUAL_HEIGHT, lambda _: True)
    if place is None:
        return Remedy("Put a receptacle on a wall here, protected from ground faults.")
    where = f"{shown(inches(place.along))} along wall {name_of(place.wall)}, {shown(inches(place.height))} above the floor"
    new = {f"receptacle-{room.id[:40]}": {**new_receptacle(place), "gfci": True}}
    return Remedy(f"Put a receptacle at {where}, protected from ground faults.", added_devices(job.plan, new))
