"""Each vehicle bay of a garage with power has a receptacle not more than 5 ft 6 in above the floor.

Why: chargers, compressors and lights are used at the car; where a bay has no receptacle cords lie on a wet floor under wheels.

Fix: put a receptacle of the garage circuit on a wall of the bay that has none.

Trap: the receptacle of the door opener or of a freezer is for that equipment and serves no bay. A detached garage without
power needs none. A receptacle on the post between two bays serves one of them.

Does not judge: the circuit and its GFCI protection: `garage-circuit` and `gfci-locations` do. Bays are counted and laid out as
the plan states them and draws the vehicle doors. An outlet for charging a vehicle is another matter, and is not required here.
"""

from collections.abc import Callable
from functools import partial

from nailplate.calc import geometry
from nailplate.plan import Room, UnknownFact
from nailplate.plan.words import BuildingKind, Use
from nailplate.remedies.added_in_rooms import place_in_room
from nailplate.remedies.new_devices import added_devices, new_receptacle
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import InRoom, passed_over_for_use, pointers, receptacles_in, told
from nailplate.survey.space import Bay, bays, empty_bays, is_in
from nailplate.units import count, shown

USUAL_HEIGHT = 48.0
"""Inches above the floor of a garage receptacle (common practice)."""


@rule(
    id="garage-receptacles",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.OTHER_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.52(G)(1)",
            seen=(2017, 2023),
            note="https://captaincode2017.leviton.com/node/128; multifamily garages from memory",
        )
    },
    hazards=(Hazard.CORDS, Hazard.TRIP, Hazard.WATER),
    dwelling_only=True,
    changes={
        "nec-2017": "One receptacle is required in each vehicle bay, not more than 5 ft 6 in above the floor; two-family dwellings too.",
        "nec-2023": "A receptacle for a security system alone does not count.",
    },
)
def garage_receptacles(room: Room, job: Job) -> Outcome:
    """210.52(G)(1), for one garage."""
    if Use.GARAGE not in room.uses or not _has_power(room) or _is_of_many(room, job):
        return NotConcerned()
    wanted = room.vehicle_bays
    if wanted == 0:
        return NotConcerned()
    here = receptacles_in(job.survey, room)
    sure = [each for each in here.for_use if not each.needs]
    empty = _empty(room, sure, job)
    if not empty:
        return Pass(count(wanted), count(wanted))
    unknown = (*(need for each in here.for_use for need in each.needs), *here.unplaced)
    if here.unplaced or len(_empty(room, list(here.for_use), job)) < len(empty):
        return Undetermined(tuple(dict.fromkeys(unknown))[:20])
    return _missing(room, sure, empty, job)


def _has_power(room: Room) -> bool:
    """An attached garage is meant with or without power in it, a detached one with power only."""
    if room.is_(attached=True) or room.is_(has_power=True):
        return True
    return room.attached or room.has_power


def _is_of_many(room: Room, job: Job) -> bool:
    basis = job.plan.basis
    if not basis.is_(building=BuildingKind.MULTIFAMILY):
        return False
    return not (job.holds("multifamily_places_too") and room.attached)


def _empty(room: Room, receptacles: list[InRoom], job: Job) -> tuple[Bay, ...]:
    """The bays without one; of a garage for one vehicle it is no matter where in it the receptacle is."""
    if room.vehicle_bays == 1 and receptacles:
        return ()
    if not receptacles:
        return _all(room, job)
    return empty_bays(bays(job.survey, room), [each.point for each in receptacles])


def _all(room: Room, job: Job) -> tuple[Bay, ...]:
    """Every bay. Where they lie is not asked as long as none has a receptacle."""
    nowhere = ((0.0, 0.0), (0.0, 0.0))
    return tuple(Bay(number + 1, nowhere) for number in range(room.vehicle_bays))


def _missing(room: Room, sure: list[InRoom], empty: tuple[Bay, ...], job: Job) -> Violation:
    wanted = room.vehicle_bays
    have = wanted - len(empty)
    message = (
        f"{_where(room, empty)}. Each bay has one not more than {shown(job.measure('receptacle_highest'))} above the floor, beside those for a door "
        "opener or other equipment."
    )
    beside = passed_over_for_use(job.survey, room)
    related = (*(each.device.pointer for each in sure), *pointers(beside))
    return Violation(
        f"{message}{told(beside)}", count(have), count(wanted), remedies=(_remedy(room, sure, job),), related=related
    )


def _where(room: Room, empty: tuple[Bay, ...]) -> str:
    wanted = room.vehicle_bays
    if wanted == 1:
        return f"{name_of(room)} has a vehicle bay and no receptacle for use in it"
    if len(empty) == wanted:
        return f"{name_of(room)} has {wanted} vehicle bays and no receptacle for use in any of them"
    which = " and ".join(str(bay.number) for bay in empty)
    return f"{name_of(room)} has {wanted} vehicle bays; no receptacle for use is in bay {which}, counted as the vehicle doors are drawn"


def _remedy(room: Room, sure: list[InRoom], job: Job) -> Remedy:
    words = "Put a receptacle of the garage circuit on a wall of each bay that has none."
    new: dict[str, object] = {}
    for number, fits in enumerate(_wanted_places(room, sure, job)):
        place = place_in_room(job.survey, room, USUAL_HEIGHT, fits)
        if place is None:
            return Remedy(words)
        new[f"receptacle-{room.id[:36]}-{number + 1}"] = {**new_receptacle(place), "rating": "20 A", "gfci": True}
    return Remedy(words, added_devices(job.plan, new) if new else ())


def _wanted_places(room: Room, sure: list[InRoom], job: Job) -> list[Callable[[geometry.Point], bool]]:
    """For each bay without one, what asks of a place whether it is in that bay; none where the bays are not drawn."""
    if room.vehicle_bays == 1:
        return [_anywhere]
    try:
        found = bays(job.survey, room)
    except UnknownFact:  # unknown: the remedy stands in words alone
        return []
    return [partial(is_in, found, bay) for bay in empty_bays(found, [each.point for each in sure])]


def _anywhere(_: geometry.Point) -> bool:
    return True
