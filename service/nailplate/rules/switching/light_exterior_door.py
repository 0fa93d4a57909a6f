"""Each door to the outdoors that leads to the ground has a controlled light on its outer side.

Why: one steps from a lit room onto steps that cannot be seen.

Fix: a light beside or over the door, with a switch inside by it; a motion sensor or timer will do as well.

Trap: a sliding door is an entrance too, and so is a deck's door where the deck has steps to the ground. A vehicle door is none.

Does not judge: a bulkhead door to a basement, which may be lit from within instead by a light within 5 ft of its lowest riser:
that is not looked at. Nor are vehicle doors, doors to a place without steps to the ground, how bright the light is, or its
listing (`wet-luminaire`).
"""

from collections.abc import Iterator

from nailplate.calc import geometry
from nailplate.plan import ROOT, Device, Opening, Room
from nailplate.plan.trade import DOORS, OUTDOOR
from nailplate.plan.words import LevelKind, Use, WallKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.survey import Survey, standing
from nailplate.survey.lights import controlled, lights
from nailplate.survey.names import name_of
from nailplate.survey.space import opening_line, rooms_beside
from nailplate.units import Inches, inches, shown, within

LIGHTS_THE_DOOR = Inches(120.0)
"""10 ft: the code asks for light on the outer side and gives no distance (common practice)."""

_NO_WAY_FOR_PEOPLE = frozenset({Use.CRAWL_SPACE, Use.ATTIC})
_ON_THE_GROUND = frozenset({LevelKind.GRADE})
_FROM_OUTSIDE_ONLY = frozenset({Use.STORAGE, Use.UTILITY, Use.CLOSET})


@rule(
    id="light-exterior-door",
    over=Opening,
    severity=Severity.CODE,
    subjects=(Subject.LIGHTS,),
    cites={"nec-2017": Cite("210.70(A)(2)(2)", seen=(2023,), note="https://captaincode2023.leviton.com/node/316")},
    hazards=(Hazard.DARKNESS, Hazard.TRIP),
    dwelling_only=True,
)
def light_exterior_door(opening: Opening, job: Job) -> Outcome:
    """210.70(A)(2)(2), for one door."""
    if opening.kind not in DOORS or job.plan.walls[opening.wall].kind is not WallKind.EXTERIOR:
        return NotConcerned()
    inside, outside = inside_and_outside(opening, job)
    if not (_is_entrance(inside) and _reaches_grade(opening, job, outside)):
        return NotConcerned()
    return _judged(opening, job, inside, outside)


def inside_and_outside(opening: Opening, job: Job) -> tuple[Room | None, Room | None]:
    """The rooms that a door leads from and to, as far as they are drawn."""
    rooms = [room for room in rooms_beside(job.survey, opening) if room is not None]
    outdoors = [room for room in rooms if OUTDOOR.intersection(room.uses)]
    indoors = [room for room in rooms if room not in outdoors]
    return (indoors[0] if indoors else None), (outdoors[0] if outdoors else None)


def _is_entrance(inside: Room | None) -> bool:
    """Whether the door is one of the dwelling's, or of a garage that is asked for."""
    if inside is None:
        return True
    uses = set(inside.uses)
    if uses <= _NO_WAY_FOR_PEOPLE or Use.ACCESSORY in uses:
        return False
    return Use.GARAGE not in uses or inside.attached or inside.has_power


def _reaches_grade(opening: Opening, job: Job, outside: Room | None) -> bool:
    if outside is None:
        if all(room is not None for room in rooms_beside(job.survey, opening)):
            return False  # between two rooms indoors
        outside = job.plan.rooms[opening.leads_to]  # unknown: the engine says so
    if Use.OUTDOORS in outside.uses or job.plan.levels[outside.level].kind in _ON_THE_GROUND:
        return True
    return outside.steps_to_grade


# The light


def _judged(opening: Opening, job: Job, inside: Room | None, outside: Room | None) -> Outcome:
    near = sorted(lights_outside(opening, job, outside), key=lambda each: each[0])
    found = [(away, controlled(job.survey, (light,), automatic=True), light) for away, light in near]
    lit = [(away, light) for away, control, light in found if control.points]
    if lit and within(lit[0][0], LIGHTS_THE_DOOR):
        return Pass(inches(lit[0][0]), inches(LIGHTS_THE_DOOR))
    needs = [*(need for _, control, _ in found for need in control.needs), *lights(job.survey).unplaced]
    if not lights(job.survey).any:
        needs.append(ROOT / "devices")
    if needs:
        return Undetermined(tuple(dict.fromkeys(needs)))
    if lit:
        return _far(opening, *lit[0])
    return _dark(opening, inside, [light for _, light in near])


def lights_outside(opening: Opening, job: Job, outside: Room | None) -> Iterator[tuple[float, Device]]:
    """Lights out of doors that stand in the place that the door leads to, or near the door; each with its distance."""
    line = opening_line(job.survey, opening)
    for light, point, room in job.survey.once(_outdoor_lights):
        away = geometry.distance_to_segment(point, line)
        if within(away, LIGHTS_THE_DOOR) or (outside is not None and room == outside.id):
            yield away, light


def _outdoor_lights(survey: Survey) -> list[tuple[Device, geometry.Point, str | None]]:
    every = lights(survey)
    found: list[tuple[Device, geometry.Point, str | None]] = [
        (light, where.point, None) for light, where in every.outside if where.outside
    ]
    for room_id, inside in every.in_room.items():
        if OUTDOOR.intersection(survey.plan.rooms[room_id].uses):
            found += [(light, standing(survey, light).point, room_id) for light in inside]
    return found


def _far(opening: Opening, away: float, light: Device) -> Judgement:
    said = shown(inches(away))
    return Judgement(
        f"The controlled light nearest to {name_of(opening)} on the outside, {name_of(light)}, is {said} away. "
        "Ask the authority having jurisdiction.",
        readings=(
            Reading("It lights the ground at the door, and that is what is required.", "pass"),
            Reading("From there it does not light the outer side of this door.", "violation"),
        ),
        measured=inches(away),
        limit=inches(LIGHTS_THE_DOOR),
        remedies=(Remedy("Add a light beside the door or over it."),),
        related=(light.pointer,),
    )


def _dark(opening: Opening, inside: Room | None, uncontrolled: list[Device]) -> Outcome:
    remedies = (Remedy("Add a light outside, beside the door or over it, with a switch inside, a sensor or a timer."),)
    if uncontrolled:
        remedies = (Remedy(f"Put {name_of(uncontrolled[0])} on a switch inside, a sensor or a timer."),)
        message = f"The light outside {name_of(opening)}, {name_of(uncontrolled[0])}, has no switch and no automatic control."
    else:
        message = f"{name_of(opening)} leads to the ground, and no lighting outlet is on its outer side."
    related = tuple(light.pointer for light in uncontrolled)
    if inside is not None and set(inside.uses) <= _FROM_OUTSIDE_ONLY:
        readings = (
            Reading("It is a door of the dwelling with access from the ground.", "violation"),
            Reading(f"It opens {name_of(inside)} only, and is no entrance to the dwelling.", "pass"),
        )
        return Judgement(f"{message} Ask the authority having jurisdiction.", readings, remedies=remedies, related=related)
    return Violation(message, remedies=remedies, related=related)
