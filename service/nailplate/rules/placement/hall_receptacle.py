"""A hallway of 10 ft or more has a receptacle.

Why: without one, vacuum cleaners and lamps in the hall are fed by cords through its doorways.

Fix: add one receptacle anywhere in the hall; one is enough however long it is.

Trap: the length is that of the center line, not of the walls, and ends where a doorway is passed. At exactly 10 ft one is needed.

Does not judge: halls that are part of a room for living (`wall-space`), and foyers (`foyer-receptacles`). How long a branching
hall is may be read two ways, and is left to the authority having jurisdiction.
"""

from nailplate.calc import geometry
from nailplate.plan import Room
from nailplate.plan.trade import HABITABLE
from nailplate.plan.words import Use
from nailplate.remedies.added_in_rooms import place_in_room
from nailplate.remedies.added_receptacles import USUAL_HEIGHT
from nailplate.remedies.new_devices import added_devices, new_receptacle
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import passed_over, pointers, receptacles_in, told
from nailplate.survey.space import Hallway, hallway_of
from nailplate.units import inches, reaches, shown


@rule(
    id="hall-receptacle",
    over=Room,
    severity=Severity.CODE,
    subjects=(Subject.WALL_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.52(H)",
            seen=(2017, 2020),
            note="http://www.ecmag.com/section/article-210-branch-circuits-required-receptacle-outlets-part-x ; "
            "https://forums.mikeholt.com/threads/130379",
        ),
        "nec-2023": Cite("210.52(H)", note="assumed unchanged"),
    },
    needs=("outline",),
    hazards=(Hazard.CORDS, Hazard.TRIP),
    dwelling_only=True,
)
def hall_receptacle(room: Room, job: Job) -> Outcome:
    """210.52(H). A hall drawn in several zones is judged once, at the first of them."""
    if Use.HALLWAY not in room.uses or HABITABLE.intersection(room.uses):
        return NotConcerned()
    hall = hallway_of(job.survey, room)
    if hall.rooms[0] is not room:
        return NotConcerned()
    if not reaches(hall.length.most, job.inches("hall_length")):
        return Pass(inches(hall.length.most), job.measure("hall_length"))
    found = [each for zone in hall.rooms for each in receptacles_in(job.survey, zone).found]
    if any(not each.needs for each in found):
        return Pass(inches(hall.length.most), job.measure("hall_length"))
    unplaced = (need for zone in hall.rooms for need in receptacles_in(job.survey, zone).unplaced)
    open_facts = tuple(dict.fromkeys((*(need for each in found for need in each.needs), *unplaced)))
    if open_facts:
        return Undetermined(open_facts)
    return _violation(hall, job) if reaches(hall.length.least, job.inches("hall_length")) else _judgement(hall, job)


def _violation(hall: Hallway, job: Job) -> Violation:
    length, limit = inches(hall.length.least), job.measure("hall_length")
    beside = [each for zone in hall.rooms for each in passed_over(job.survey, zone)]
    none = "no receptacle that counts" if beside else "no receptacle"
    return Violation(
        message=f"{name_of(hall.rooms[0])} is {shown(length)} long and has {none}; a hallway of {shown(limit)} or more requires one."
        f"{told(beside)}",
        measured=length,
        limit=limit,
        remedies=(_remedy(hall, job),),
        related=pointers(beside),
    )


def _judgement(hall: Hallway, job: Job) -> Judgement:
    least, most, limit = inches(hall.length.least), inches(hall.length.most), job.measure("hall_length")
    return Judgement(
        message=f"{name_of(hall.rooms[0])} has no receptacle. Its shape leaves open how long it is along its center line: between "
        f"{shown(least)} and {shown(most)}; from {shown(limit)} on it has one. Ask the authority having jurisdiction.",
        readings=(
            Reading(f"All of its arms count: {shown(most)}.", "violation"),
            Reading(f"The way from end to end counts: {shown(least)}.", "pass"),
        ),
        measured=most,
        limit=limit,
        remedies=(_remedy(hall, job),),
    )


def _remedy(hall: Hallway, job: Job) -> Remedy:
    for zone in hall.rooms:
        place = place_in_room(job.survey, zone, USUAL_HEIGHT, lambda _: True, geometry.centroid(zone.outline))
        if place is not None:
            along = shown(inches(place.along))
            new = {f"receptacle-{zone.id[:40]}": new_receptacle(place)}
            return Remedy(f"Add a receptacle {along} along wall {name_of(place.wall)}.", added_devices(job.plan, new))
    return Remedy("Add a receptacle anywhere in the hall.")
