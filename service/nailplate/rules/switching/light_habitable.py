"""Every habitable room, kitchen and bathroom has a lighting outlet with its control on the wall.

Why: people fall, or reach for what they cannot see, where they have to cross a dark room to find the light.

Fix: draw a lighting outlet in the room and a switch on the wall by the door; apart from kitchens and bathrooms a
switched receptacle does instead.

Trap: an outlet is required, a luminaire is not. A receptacle at a kitchen or bathroom does not count though it is switched, and
neither does an occupancy sensor without an override by hand. "Near an entrance" has no figure in the code.

Does not judge: how bright the room is, and daylight. Halls, stairways and garages are judged by `light-passages`, attics,
basements and utility rooms by `light-storage`, stairs by `stair-switching`. How near to an entrance a control must be is left
to the authority having jurisdiction.
"""

from nailplate.plan import ROOT, Room
from nailplate.plan.trade import SURELY_HABITABLE
from nailplate.plan.words import Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.survey.lights import ControlPoint, RoomLight, nearest_to_entrance, open_to, room_light, walk_in, without_light
from nailplate.survey.names import name_of
from nailplate.units import Inches, inches, shown, within

NEAR = Inches(72.0)
"""6 ft: the code says "near" and gives no figure (common practice)."""

OUTLET_ONLY = frozenset({Use.KITCHEN, Use.BATHROOM})
"""Where a switched receptacle does not do."""
PERHAPS = {
    Use.SUNROOM: ("A sunroom that is lived in is a habitable room.", "A sunroom is not a habitable room."),
    Use.TOILET: (
        "A toilet room with its basin outside is part of a bathroom.",
        "A toilet room without a basin is no bathroom.",
    ),
}


@rule(
    id="light-habitable",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.LIGHTS,),
    cites={
        "nec-2017": Cite("210.70(A)(1)", note="https://captaincode2023.leviton.com/node/315"),
        "nec-2020": Cite(
            "210.70(A)(1)", seen=(2020,), note="https://forums.mikeholt.com/threads/2551733 (on a wall near an entrance)"
        ),
        "nec-2023": Cite("210.70(A)(1)", seen=(2023,), note="https://captaincode2023.leviton.com/node/315"),
    },
    hazards=(Hazard.DARKNESS, Hazard.TRIP),
    dwelling_only=True,
)
def light_habitable(room: Room, job: Job) -> Outcome:
    """210.70(A)(1) with its two exceptions, for one room."""
    contest = next((PERHAPS[use] for use in room.uses if use in PERHAPS), None)
    if not _is_concerned(room, job) and contest is None:
        return NotConcerned()
    found = _light_in(room, job)
    if found.points:
        return _placed(room, job, found.points)
    if found.needs:
        return Undetermined(found.needs, without_light(found, room))
    return _missing(room, job, found, None if _is_concerned(room, job) else contest)


def _is_concerned(room: Room, job: Job) -> bool:
    uses = set(room.uses)
    if uses & SURELY_HABITABLE or _outlet_only(uses, job):
        return True
    return bool(uses & {Use.BASEMENT, Use.ATTIC}) and room.is_(finished=True) and room.habitable


def _light_in(room: Room, job: Job) -> RoomLight:
    return room_light(job.survey, room.id, receptacles=not _outlet_only(set(room.uses), job), automatic=False)


def _outlet_only(uses: set[Use], job: Job) -> bool:
    return bool(uses & OUTLET_ONLY) or (Use.LAUNDRY in uses and job.holds("laundry_areas_lit"))


# Where the control is


def _placed(room: Room, job: Job, points: tuple[ControlPoint, ...]) -> Outcome:
    wired = tuple(point for point in points if not point.device.is_(battery_powered=True))
    if not wired and job.holds("light_control_on_battery_barred"):
        return _battery(room, points[0])
    if not job.holds("light_control_near_entrance"):
        return Pass()
    if not walk_in(job.survey, room.id):
        return Undetermined((ROOT / "openings",), f"No way into {name_of(room)} is drawn, so nothing can be near it.")
    reach = nearest_to_entrance(job.survey, room.id, points)
    if reach is None:
        return _far(room, points[0], None)
    near = within(reach.away, NEAR)
    return Pass(inches(reach.away), inches(NEAR)) if near else _far(room, reach.point, reach.away)


def _battery(room: Room, point: ControlPoint) -> Judgement:
    return Judgement(
        f"The light in {name_of(room)} is controlled by {name_of(point.device)} alone, which runs on a battery. "
        "Ask the authority having jurisdiction.",
        readings=(
            Reading(
                "When its battery fails the light comes on, or the change to a low-battery signal is accepted here.", "pass"
            ),
            Reading("The control rests on its battery alone.", "violation"),
        ),
        remedies=(Remedy("Use a wired control, or one that turns the light on when its battery fails."),),
        related=(point.device.pointer,),
    )


def _far(room: Room, point: ControlPoint, away: float | None) -> Judgement:
    said = f"{shown(inches(away))} from the nearest entrance" if away is not None else "on a level with no entrance to it"
    return Judgement(
        f"The control nearest to an entrance of {name_of(room)}, {name_of(point.device)}, is {said}; the code requires one "
        f"near an entrance and gives no figure ({shown(inches(NEAR))} is taken here). Ask the authority having jurisdiction.",
        readings=(
            Reading("It can be found from an entrance without crossing the room in the dark, so it is near.", "pass"),
            Reading("It is too far from every entrance to be near one.", "violation"),
        ),
        measured=inches(away) if away is not None else None,
        limit=inches(NEAR),
        remedies=(Remedy("Put the switch, or a three-way switch more, on the wall beside an entrance."),),
        related=(point.device.pointer,),
    )


# No light that counts


def _missing(room: Room, job: Job, found: RoomLight, contest: tuple[str, str] | None) -> Outcome:
    message, remedies = _message(room, job, found), (_remedy(room, job, found),)
    related = tuple(outlet.pointer for outlet in found.outlets)
    readings = contest or _shared(room, job) or _laundry(room, job)
    if readings is None:
        return Violation(message, remedies=remedies, related=related)
    return Judgement(
        f"{message} Ask the authority having jurisdiction.",
        (Reading(readings[0], "violation"), Reading(readings[1], "pass")),
        remedies=remedies,
        related=related,
    )


def _shared(room: Room, job: Job) -> tuple[str, str] | None:
    """Areas of an open plan may be one room; a kitchen is asked for by name, and needs a light of its own."""
    if OUTLET_ONLY.intersection(room.uses):
        return None
    lit = next(
        (other for other in open_to(job.survey, room.id) if _is_concerned(other, job) and _light_in(other, job).points), None
    )
    if lit is None:
        return None
    return (
        "It is a room of its own, and needs a light of its own.",
        f"It is one room with {name_of(lit)}, where the light is controlled.",
    )


def _laundry(room: Room, job: Job) -> tuple[str, str] | None:
    """2026 allows something for laundry areas; a public source names the allowance and not its words."""
    if set(room.uses) != {Use.LAUNDRY} or not job.holds("laundry_light_allowance"):
        return None
    if not room_light(job.survey, room.id, receptacles=True, automatic=False).points:
        return None
    return ("A laundry area needs a lighting outlet.", "In this edition a switched receptacle may serve a laundry area.")


def _message(room: Room, job: Job, found: RoomLight) -> str:
    control = "wall-mounted control" if job.holds("light_control_near_entrance") else "wall switch"
    if not found.outlets:
        return f"{name_of(room)} has no lighting outlet; one that a {control} controls is required."
    names = ", ".join(name_of(outlet) for outlet in found.outlets[:3])
    lights, them = ("lighting outlets", "them") if len(found.outlets) > 1 else ("a lighting outlet", "it")
    return f"{name_of(room)} has {lights} ({names}), but no {control} that the code counts turns {them} on."


def _remedy(room: Room, job: Job, found: RoomLight) -> Remedy:
    where = "on the wall by the door" if not found.outlets else "on the wall by the door, controlling the light that is there"
    if not found.outlets:
        return Remedy(f"Add a lighting outlet to {name_of(room)} and a switch for it {where}.")
    return Remedy(f"Add a switch for {name_of(room)} {where}, or give its sensor an override by hand.")
