"""Halls, stairways and garages have a lighting outlet that is controlled.

Why: a hall or a garage that cannot be lit before one walks into it is where people fall.

Fix: draw a lighting outlet there and a switch for it; in halls and stairways automatic control will do.

Trap: a garage that stands alone is asked only where it has power. A detached garage's opener light is part of the opener, not
a lighting outlet that a wall switch controls.

Does not judge: how many lights a long hall or a large garage needs, and where their control is. The switches of stairs are
judged by `stair-switching`, doors to the outdoors by `light-exterior-door`, rooms that are lived in by `light-habitable`.
"""

from nailplate.plan import Room
from nailplate.plan.words import Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.survey.lights import RoomLight, open_to, room_light, without_light
from nailplate.survey.names import name_of

PASSAGES = frozenset({Use.HALLWAY, Use.STAIRWAY})
"""Where remote, central or automatic control is allowed too."""


@rule(
    id="light-passages",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.LIGHTS,),
    cites={"nec-2017": Cite("210.70(A)(2)(1)", seen=(2023,), note="https://captaincode2023.leviton.com/node/316")},
    hazards=(Hazard.DARKNESS, Hazard.TRIP),
    dwelling_only=True,
)
def light_passages(room: Room, job: Job) -> Outcome:
    """210.70(A)(2)(1), for one room."""
    if not _is_concerned(room, job):
        return NotConcerned()
    found = room_light(job.survey, room.id, receptacles=False, automatic=bool(PASSAGES.intersection(room.uses)))
    if found.points:
        return Pass()
    if found.needs:
        return Undetermined(found.needs, without_light(found, room))
    return _missing(room, job, found)


def _is_concerned(room: Room, job: Job) -> bool:
    uses = set(room.uses)
    if uses & PASSAGES:
        return True
    if Use.GARAGE in uses:
        return room.attached or room.has_power
    return Use.ACCESSORY in uses and job.holds("accessory_buildings_lit") and room.has_power


def _missing(room: Room, job: Job, found: RoomLight) -> Outcome:
    message, related = _message(room, found), tuple(outlet.pointer for outlet in found.outlets)
    remedies = (Remedy(f"Add a switch, and if there is none a lighting outlet, to {name_of(room)}."),)
    lit = _lit_beyond(room, job)
    if lit is None:
        return Violation(message, remedies=remedies, related=related)
    return Judgement(
        f"{message} Ask the authority having jurisdiction.",
        readings=(
            Reading("It is a hallway of its own, and needs a lighting outlet.", "violation"),
            Reading(f"It is part of {name_of(lit)}, which is open to it and lit.", "pass"),
        ),
        remedies=remedies,
        related=related,
    )


def _lit_beyond(room: Room, job: Job) -> Room | None:
    if Use.HALLWAY not in room.uses:
        return None
    beyond = open_to(job.survey, room.id)
    return next((each for each in beyond if room_light(job.survey, each.id, receptacles=False, automatic=True).points), None)


def _message(room: Room, found: RoomLight) -> str:
    what = next(use for use in room.uses if use in PASSAGES or use in (Use.GARAGE, Use.ACCESSORY)).replace("_", " ")
    if not found.outlets:
        return f"The {what} {name_of(room)} has no lighting outlet; one that is controlled is required."
    light = name_of(found.outlets[0])
    return f"The {what} {name_of(room)} has a lighting outlet ({light}), but no control that the code counts turns it on."
