"""Attics, crawl spaces, utility rooms and basements that are used have a light, with its control where one comes in.

Why: whoever services a water heater by flashlight touches what should not be touched, and crawls over what cannot be seen.

Fix: a lighting outlet at the equipment and a switch at the way in, or a lampholder with a switch of its own there.

Trap: from 2020 every permanent way in has a control. A storage loft or a locker with a battery may be meant as well.

Does not judge: how near the light is to equipment whose outline is not drawn, and how bright it is. The receptacle for
servicing is judged by `equipment-receptacle`, protection by `gfci-service-and-crawl`. How near is near is left to the authority
having jurisdiction.
"""

from collections.abc import Iterator

from nailplate.calc import geometry
from nailplate.plan import ROOT, Device, Pointer, Room, UnknownFact
from nailplate.plan.trade import SERVICE_SPACES, SERVICED_EQUIPMENT
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.survey import Survey, standing
from nailplate.survey.lights import ControlPoint, controls_told, lights, room_light, walk_in, without_light
from nailplate.survey.names import name_of
from nailplate.survey.space import Entrance
from nailplate.units import Inches, inches, shown, within

AT_ENTRY = Inches(72.0)
AT_EQUIPMENT = Inches(120.0)
"""6 ft and 10 ft: the code says "at the usual point of entry" and "at or near the equipment", without figures (common practice)."""

PERHAPS = frozenset({Use.STORAGE, Use.CLOSET, Use.LAUNDRY})
"""Named nowhere; one that holds equipment which needs service may be a utility room."""


@rule(
    id="light-storage",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.LIGHTS,),
    cites={
        "nec-2017": Cite("210.70(C)", seen=(2020,), note="https://thomasdomitrovich.com/210-70/"),
    },
    hazards=(Hazard.DARKNESS, Hazard.TRIP, Hazard.SHOCK),
)
def light_storage(room: Room, job: Job) -> Outcome | list[Outcome]:
    """210.70(C), for one space."""
    if not _is_used(room, job):
        return NotConcerned()
    found = room_light(job.survey, room.id, receptacles=False, automatic=False)
    pulls, open_facts = _own_switches(found.outlets)
    if found.points or pulls:
        return list(_placed(room, job, found.points, pulls))
    # While no switch is drawn, that is what is missing, and not whether each light has a chain.
    needs = dict.fromkeys((*found.needs, *(open_facts if controls_told(job.survey) else ())))
    return Undetermined(tuple(needs), without_light(found, room)) if needs else _dark(room, found.outlets)


def _is_used(room: Room, job: Job) -> bool:
    """Whether it is one of the spaces meant, and used for storage or for equipment that needs service."""
    uses = set(room.uses)
    if uses & SERVICE_SPACES:
        return Use.STORAGE in uses or bool(_equipment(room, job)) or room.equipment_needs_service
    return bool(uses & PERHAPS) and room.is_(equipment_needs_service=True)


def _equipment(room: Room, job: Job) -> list[Appliance]:
    here = job.survey.once(_appliances).get(room.id, ())
    return [each for each in here if each.kind in SERVICED_EQUIPMENT or each.is_(fastened=True)]


def _appliances(survey: Survey) -> dict[str, list[Appliance]]:
    found: dict[str, list[Appliance]] = {}
    for appliance in survey.plan.appliances.values():
        if appliance.knows("room"):
            found.setdefault(appliance.room, []).append(appliance)
    return found


def _own_switches(outlets: tuple[Device, ...]) -> tuple[list[Device], list[Pointer]]:
    """Lights with a switch of their own, such as a lampholder's chain, and where the plan does not say whether they have."""
    pulls = [each for each in outlets if each.is_(own_switch=True)]
    return pulls, [each.where("own_switch") for each in outlets if not each.knows("own_switch")]


# Where the control and the light are


def _placed(room: Room, job: Job, points: tuple[ControlPoint, ...], pulls: list[Device]) -> Iterator[Outcome]:
    ways = walk_in(job.survey, room.id)
    if not ways:
        yield Undetermined((ROOT / "openings",), f"No way into {name_of(room)} is drawn, so no control can be at it.")
        return
    controls = list(dict.fromkeys((*(point.device for point in points), *pulls)))
    away = {way: _nearest(job, controls, way) for way in ways}
    if not job.holds("light_control_at_each_entry"):
        best = min(ways, key=lambda way: away[way][0])
        away = {best: away[best]}
    for number, (way, (distance, device)) in enumerate(away.items()):
        yield _at_entry(room, way, distance, device, f"entry {way.part or number}")
    yield from _at_equipment(room, job)


def _nearest(job: Job, controls: list[Device], way: Entrance) -> tuple[float, Device]:
    found, missing = list[tuple[float, Device]](), list[UnknownFact]()
    for device in controls:
        try:
            where = standing(job.survey, device)
        except UnknownFact as unknown:
            missing.append(unknown)
            continue
        distance = way.away(where.level, where.point)
        found.append((distance if distance is not None else _ELSEWHERE, device))
    if missing and all(distance > AT_ENTRY for distance, _ in found):
        raise missing[0]
    return min(found, key=lambda each: each[0])


_ELSEWHERE = float("inf")  # on another level


def _at_entry(room: Room, way: Entrance, distance: float, device: Device, facet: str) -> Outcome:
    if within(distance, AT_ENTRY):
        return Pass(inches(distance), inches(AT_ENTRY), facet)
    on_level = distance != _ELSEWHERE
    said = f"{shown(inches(distance))} away" if on_level else "on another level"
    return Judgement(
        f"At {way.name}, a way into {name_of(room)}, no control of its light is near: {name_of(device)} is {said}; "
        f"{shown(inches(AT_ENTRY))} is taken for near. Ask the authority having jurisdiction.",
        readings=(
            Reading("The control is where one usually comes in, or this is no permanent way in.", "pass"),
            Reading("A control is required at this way in.", "violation"),
        ),
        measured=inches(distance) if on_level else None,
        limit=inches(AT_ENTRY),
        remedies=(Remedy("Put a switch at this way in."),),
        facet=facet,
        related=(device.pointer,),
    )


def _at_equipment(room: Room, job: Job) -> Iterator[Outcome]:
    points = [standing(job.survey, each).point for each in lights(job.survey).in_room.get(room.id, ())]
    for appliance in _equipment(room, job):
        if not appliance.knows("footprint") or not points:
            continue
        distance = min(geometry.distance_to_outline(point, appliance.footprint) for point in points)
        if not within(distance, AT_EQUIPMENT):
            yield _far(room, appliance, distance)


def _far(room: Room, appliance: Appliance, distance: float) -> Judgement:
    return Judgement(
        f"{name_of(appliance)} in {name_of(room)} is {shown(inches(distance))} from the nearest light there; one at or near the "
        "equipment is required. Ask the authority having jurisdiction.",
        readings=(
            Reading("The light lights the place where one works on it.", "pass"),
            Reading("It is not near the equipment.", "violation"),
        ),
        measured=inches(distance),
        limit=inches(AT_EQUIPMENT),
        remedies=(Remedy("Put a lighting outlet at the equipment."),),
        facet=f"at {appliance.id}",
        related=(appliance.pointer,),
    )


# No light


def _dark(room: Room, outlets: tuple[Device, ...]) -> Outcome:
    if outlets:
        message = f"The light in {name_of(room)}, {name_of(outlets[0])}, has no switch that counts and none of its own."
    else:
        message = f"{name_of(room)} is used for storage or for equipment that needs service, and has no lighting outlet."
    remedies = (Remedy("Add a lighting outlet at the equipment, with a switch at the way in or a switch of its own there."),)
    related = tuple(outlet.pointer for outlet in outlets)
    if SERVICE_SPACES.intersection(room.uses):
        return Violation(message, remedies=remedies, related=related)
    return Judgement(
        f"{message} Ask the authority having jurisdiction.",
        readings=(
            Reading("A space with equipment that needs service is a utility room.", "violation"),
            Reading("Attics, underfloor spaces, utility rooms and basements are named, and this is none of them.", "pass"),
        ),
        remedies=remedies,
        related=related,
    )
