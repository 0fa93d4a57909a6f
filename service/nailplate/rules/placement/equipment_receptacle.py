"""Within 25 ft of heating, air-conditioning and refrigeration equipment, on its level, is a receptacle for servicing it.

Why: whoever services a unit brings a vacuum pump, a light and meters; without a receptacle a cord comes from a window or over
a roof's edge.

Fix: put a receptacle within 25 ft of the unit, on the same level and ahead of the unit's own disconnect.

Trap: a receptacle inside the house does not serve a unit outside, nor one on another level of the house a furnace in a loft.
Evaporative coolers of one- and two-family dwellings, and units that only ventilate, need none; the receptacles at front and
back of the house are required all the same.

Does not judge: whether the receptacle is protected (`gfci-service-and-crawl`), and the receptacle that 210.63(B) requires near
electrical equipment of other buildings. Whether a heater of one room, or a deck beside the ground, is meant is left to the
authority having jurisdiction.
"""

from nailplate.calc import geometry
from nailplate.plan import Appliance, Pointer, Room
from nailplate.plan.trade import HVAC
from nailplate.plan.words import ApplianceKind, BuildingKind
from nailplate.remedies.added_in_rooms import place_in_room
from nailplate.remedies.added_outdoors import place_at
from nailplate.remedies.added_receptacles import USUAL_HEIGHT, Added
from nailplate.remedies.new_devices import FOR_OUTDOORS, added_devices, new_receptacle
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.survey.equipment import ForService, receptacles_around, same_level, unplaced_receptacles
from nailplate.survey.names import name_of
from nailplate.survey.outdoors import is_outdoor
from nailplate.units import Inches, inches, shown, within

CONTESTED = frozenset({ApplianceKind.BASEBOARD_HEATER, ApplianceKind.WALL_HEATER})
"""Heaters of one room: by the words heating equipment, but seldom taken for it."""


@rule(
    id="equipment-receptacle",
    over=Appliance,
    severity=Severity.CODE,
    subjects=(Subject.OTHER_RECEPTACLES,),
    cites={
        "nec-2017": Cite("210.63", note="https://www.ecmweb.com/qampa/code-qa-maintenance-receptacle"),
        "nec-2020": Cite(
            "210.63(A)",
            seen=(2020,),
            note="https://www.ecmag.com/magazine/articles/article-detail/can-this-safety-situation-be-fixed-can-this-safety-situation-be-fixed",
        ),
    },
    hazards=(Hazard.CORDS, Hazard.SHOCK, Hazard.TRIP),
    changes={"nec-2020": "The section is split: (A) is for this equipment, (B) for that of other buildings than small houses."},
)
def equipment_receptacle(unit: Appliance, job: Job) -> Outcome:
    """210.63, for one unit."""
    if not _is_meant(unit, job):
        return NotConcerned()
    room = job.plan.rooms[unit.room]
    near = receptacles_around(job.survey, unit)
    sure, open_facts, perhaps = _sorted(near, unit, room, job)
    if sure:
        return Pass(inches(min(sure)), job.measure("service_receptacle_reach"))
    unknown = (*open_facts, *unplaced_receptacles(job.survey))
    if unknown:
        return Undetermined(tuple(dict.fromkeys(unknown)))
    return _contested(unit, perhaps, job) if perhaps else _missing(unit, room, near, job)


def _is_meant(unit: Appliance, job: Job) -> bool:
    basis = job.plan.basis
    if unit.kind is ApplianceKind.EVAPORATIVE_COOLER:
        return basis.is_(building=BuildingKind.MULTIFAMILY)
    return unit.kind in HVAC or unit.kind in CONTESTED


def _sorted(
    near: list[tuple[Inches, ForService]], unit: Appliance, room: Room, job: Job
) -> tuple[list[Inches], list[Pointer], list[tuple[Inches, ForService]]]:
    """Distances of those that surely serve; what is left out of others; those on a level that can be read two ways."""
    sure: list[Inches] = []
    open_facts: list[Pointer] = []
    perhaps: list[tuple[Inches, ForService]] = []
    for distance, one in near:
        level = same_level(job.survey, room, one)
        if level is False or _on_load_side(one, unit):
            continue
        needs = (*one.needs, *_side_needs(one, unit))
        if level is None:
            perhaps.append((distance, one))
        elif needs:
            open_facts += needs
        else:
            sure.append(distance)
    return sure, open_facts, perhaps


def _on_load_side(one: ForService, unit: Appliance) -> bool:
    """Fed through the unit's own disconnect, and dead while somebody works on the unit."""
    own = unit.disconnect.device if unit.knows("disconnect") and unit.disconnect.knows("device") else None
    return one.device.knows("feed_through_source") and one.device.feed_through_source == own


def _side_needs(one: ForService, unit: Appliance) -> tuple[Pointer, ...]:
    """On the unit's own circuit it has to be said whether it is fed ahead of the disconnect."""
    same = one.device.knows("circuit") and unit.knows("circuit") and one.device.circuit == unit.circuit
    return (one.device.where("feed_through_source"),) if same and not one.device.knows("feed_through_source") else ()


def _contested(unit: Appliance, perhaps: list[tuple[Inches, ForService]], job: Job) -> Judgement:
    distance, one = perhaps[0]
    levels = job.plan.levels
    stands = name_of(levels[one.level]) if one.level else "another level"
    return Judgement(
        message=f"The only receptacle within {shown(job.measure('service_receptacle_reach'))} of {name_of(unit)}, "
        f"{name_of(one.device)}, is at {stands}, above the "
        "ground that the unit stands on. Whether that is the same level, ask the authority having jurisdiction.",
        readings=(
            Reading("A porch or deck with steps is on the level of the ground beside it.", "pass"),
            Reading("A porch or deck is a level of its own.", "violation"),
        ),
        measured=inches(distance),
        limit=job.measure("service_receptacle_reach"),
        remedies=(_remedy(unit, job),),
        related=(one.device.pointer,),
    )


def _remedy(unit: Appliance, job: Job) -> Remedy:
    room = job.plan.rooms[unit.room]
    place = _place(unit, room, job)
    if place is None:
        return Remedy("Put a receptacle within 25 ft of the unit, on its level and not fed through its disconnect.")
    where = f"{shown(inches(place.along))} along wall {name_of(place.wall)}, {shown(inches(place.height))} up"
    more = FOR_OUTDOORS if is_outdoor(room) else {}
    new = {f"receptacle-{unit.id[:40]}": {**new_receptacle(place), **more}}
    return Remedy(f"Put a receptacle at {where}, not fed through the unit's disconnect.", added_devices(job.plan, new))


def _place(unit: Appliance, room: Room, job: Job) -> Added | None:
    if not room.knows("outline"):
        return None
    if is_outdoor(room):
        return place_at(job.survey, room, unit.footprint, job.inches("service_receptacle_reach"))
    return place_in_room(job.survey, room, USUAL_HEIGHT, lambda point: _in_reach(point, unit, job), unit.footprint[0])


def _in_reach(point: geometry.Point, unit: Appliance, job: Job) -> bool:
    return within(geometry.distance_to_outline(point, unit.footprint), job.inches("service_receptacle_reach"))


def _missing(unit: Appliance, room: Room, near: list[tuple[Inches, ForService]], job: Job) -> Outcome:
    limit = job.measure("service_receptacle_reach")
    message = f"{name_of(unit)} in {name_of(room)} has no receptacle for servicing within {shown(limit)} on its level{_why_not(near, unit)}."
    if unit.kind in CONTESTED:
        readings = (
            Reading("A heater of one room is heating equipment too.", "violation"),
            Reading("Meant is equipment that is serviced with tools and gauges, not a heater of one room.", "pass"),
        )
        return Judgement(
            f"{message} Ask the authority having jurisdiction.",
            readings,
            limit=job.measure("service_receptacle_reach"),
            remedies=(_remedy(unit, job),),
        )
    related = tuple(one.device.pointer for _, one in near)[:5]
    return Violation(message, limit=job.measure("service_receptacle_reach"), remedies=(_remedy(unit, job),), related=related)


def _why_not(near: list[tuple[Inches, ForService]], unit: Appliance) -> str:
    if not near:
        return ""
    one = next((one for _, one in near if _on_load_side(one, unit)), None)
    if one is not None:
        return f"; {name_of(one.device)} is fed through the unit's own disconnect"
    return f"; {name_of(near[0][1].device)} is on another level or the other side of a wall"
