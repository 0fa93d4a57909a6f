"""Where laundry equipment goes there is a receptacle, and that of each machine is within 6 ft of it.

Why: a washer stands in a wet place and has a short cord; an extension cord on the floor of a laundry gets wet and hot.

Fix: put a 20 A receptacle of the laundry circuit on a wall of the laundry, within 6 ft of where the machine stands.

Trap: a washer in a bathroom, in a closet or under a counter makes a laundry area of the place. The 250 V receptacle of a dryer
is not the one that is meant. Where no laundry is planned none is required.

Does not judge: its circuit and protection: `laundry-circuit` and `gfci-locations` do. The distance to a dryer is judged only
where the plan says which receptacle it uses. In a building of many dwellings a laundry without machines is left out, since one
laundry may serve all.
"""

from collections.abc import Sequence

from nailplate.calc import geometry
from nailplate.plan import Appliance, Room, UnknownFact
from nailplate.plan.trade import LAUNDRY_MACHINES
from nailplate.plan.words import ApplianceKind, BuildingKind, Connection, DeviceKind, Use
from nailplate.remedies.added_in_rooms import place_in_room
from nailplate.remedies.new_devices import added_devices, new_receptacle
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey import standing
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import passed_over, pointers, receptacles_in, told
from nailplate.survey.space import appliances_in
from nailplate.units import inches, shown, within

USUAL_HEIGHT = 42.0
"""Inches above the floor of a receptacle behind a washer (common practice)."""


@rule(
    id="laundry-receptacle",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.OTHER_RECEPTACLES,),
    cites={"nec-2017": Cite("210.52(F), 210.50(C)", note="https://quizwizapp.com/fr/study/article-210-ffBXv (the 6 ft)")},
    hazards=(Hazard.CORDS, Hazard.WATER, Hazard.SHOCK),
    dwelling_only=True,
)
def laundry_receptacle(room: Room, job: Job) -> Outcome | list[Outcome]:
    """210.52(F) for the area, and 210.50(C) for each machine in it."""
    machines = [each for each in appliances_in(job.survey, room) if each.kind in LAUNDRY_MACHINES]
    if Use.LAUNDRY not in room.uses and not machines:
        return NotConcerned()
    area = _in_area(room, machines, job)
    told = [each for each in machines if _has_receptacle(each, job)]
    # Where the area itself has none, which one a machine would use is no further question.
    untold = [] if isinstance(area, Violation) else [each for each in machines if _wants_receptacle(each)]
    return [area, *(_at_machine(each, job) for each in told), *(_nearest(each, room, job) for each in untold)]


def _in_area(room: Room, machines: list[Appliance], job: Job) -> Outcome:
    here = receptacles_in(job.survey, room)
    if any(not each.needs for each in here.found):
        return Pass(facet="area")
    unknown = (*(need for each in here.found for need in each.needs), *here.unplaced)
    if unknown:
        return Undetermined(tuple(dict.fromkeys(unknown))[:20], facet="area")
    if _is_shared(job) and not machines:
        return NotConcerned(facet="area")
    what = "is a laundry" if Use.LAUNDRY in room.uses else f"holds {name_of(machines[0])}, which makes a laundry area of it,"
    message = f"{name_of(room)} {what} and has no 125 V, 15 A or 20 A receptacle within 5 ft 6 in of the floor."
    beside = passed_over(job.survey, room)
    return Violation(
        f"{message}{told(beside)}", remedies=(_remedy(room, machines, job),), facet="area", related=pointers(beside)
    )


def _is_shared(job: Job) -> bool:
    """In a building of many dwellings the laundry may be one for all."""
    basis = job.plan.basis
    return basis.is_(building=BuildingKind.MULTIFAMILY)


def _has_receptacle(machine: Appliance, job: Job) -> bool:
    return machine.knows("outlet") and job.plan.devices[machine.outlet].kind is DeviceKind.RECEPTACLE


def _wants_receptacle(machine: Appliance) -> bool:
    """By cord, or so left unsaid, and the plan does not say to which receptacle."""
    wired = machine.is_(connection=Connection.HARD_WIRED)
    return not machine.knows("outlet") and not wired


def _nearest(machine: Appliance, room: Room, job: Job) -> Outcome:
    """A washer may use any 125 V receptacle of the area; what a dryer uses has to be said."""
    here = receptacles_in(job.survey, room).found if machine.kind in _ON_125_VOLTS else ()
    if here and not machine.knows("footprint"):
        return Undetermined((machine.where("footprint"),), facet=machine.id)
    ways = [geometry.distance_to_outline(each.point, machine.footprint) for each in here if not each.needs]
    if ways and within(min(ways), job.inches("appliance_receptacle_reach")):
        return Pass(inches(min(ways)), job.measure("appliance_receptacle_reach"), facet=machine.id)
    return Undetermined((machine.where("outlet"),), facet=machine.id)


_ON_125_VOLTS = frozenset({ApplianceKind.CLOTHES_WASHER, ApplianceKind.WASHER_DRYER})


def _at_machine(machine: Appliance, job: Job) -> Outcome:
    device = job.plan.devices[machine.outlet]
    try:
        away = geometry.distance_to_outline(standing(job.survey, device).point, machine.footprint)
    except UnknownFact as unknown:
        return Undetermined((unknown.pointer,), facet=machine.id)
    if within(away, job.inches("appliance_receptacle_reach")):
        return Pass(inches(away), job.measure("appliance_receptacle_reach"), facet=machine.id)
    return Violation(
        message=f"{name_of(device)}, the receptacle for {name_of(machine)}, is {shown(inches(away))} from it; "
        f"{shown(job.measure('appliance_receptacle_reach'))} is the most.",
        measured=inches(away),
        limit=job.measure("appliance_receptacle_reach"),
        remedies=(
            Remedy(f"Put the receptacle within {shown(job.measure('appliance_receptacle_reach'))} of {name_of(machine)}."),
        ),
        facet=machine.id,
        related=(machine.pointer, device.pointer),
    )


def _remedy(room: Room, machines: list[Appliance], job: Job) -> Remedy:
    rings = [each.footprint for each in machines if each.knows("footprint")]
    near = geometry.centroid(rings[0]) if rings else None
    place = place_in_room(job.survey, room, USUAL_HEIGHT, lambda point: _is_near(point, rings, job), near)
    if place is None:
        return Remedy("Put a 20 A receptacle of the laundry circuit on a wall here, within 6 ft of the washer.")
    where = f"{shown(inches(place.along))} along wall {name_of(place.wall)}, {shown(inches(place.height))} above the floor"
    new = {f"receptacle-{room.id[:40]}": {**new_receptacle(place), "rating": "20 A", "gfci": True}}
    return Remedy(f"Put a 20 A receptacle of the laundry circuit at {where}.", added_devices(job.plan, new))


def _is_near(point: geometry.Point, rings: Sequence[geometry.Outline], job: Job) -> bool:
    return all(within(geometry.distance_to_outline(point, ring), job.inches("appliance_receptacle_reach")) for ring in rings)
