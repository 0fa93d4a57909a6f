"""A smoke alarm is in every sleeping room, outside every sleeping area, and on every story.

Why: people who sleep do not smell smoke; an alarm must wake them while there is still a way out.

Fix: one alarm in each room that is slept in, one in the hall or room outside, one on each story; join them all.

Trap: a sleeping loft is slept in, and open to what burns below: one in the loft at the high part of its ceiling, one at the
foot of its stair. A room that is living and sleeping room in one has no "outside" of its own; this is read two ways.

An alarm that is missing at a sleeping room is told once: in its place it serves the story too.
"""

from collections.abc import Iterator

from nailplate.calc import geometry
from nailplate.plan import ROOT, Level, Plan, Pointer, Room, UnknownFact
from nailplate.plan.trade import OUTDOOR
from nailplate.plan.words import LevelKind, Use
from nailplate.remedies.new_devices import added_devices
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    Judgement,
    NotConcerned,
    Outcome,
    Pass,
    Reading,
    Remedy,
    Severity,
    Subject,
    Undetermined,
    Violation,
    rule,
)
from nailplate.survey.lights import (
    VICINITY,
    Outside,
    halls_outside,
    is_lived_in,
    is_loft,
    open_to,
    outside,
    sleeping_rooms,
    smoke_alarms,
    ways_out,
)
from nailplate.survey.names import name_of
from nailplate.survey.space import highest_ceiling
from nailplate.units import Inches, inches, reaches, shown, written

CEILING_STEP = Inches(24.0)
"""IRC from 2021: a room open to the hall outside bedrooms, with a ceiling 24 in or more above the hall's, has one too."""
_STEP_SINCE = 2021
FULL_STORY = Inches(84.0)
"""How far apart two floors are at least that are a full story apart; the code gives no figure (common practice)."""
_NO_STORY = OUTDOOR | {Use.GARAGE, Use.ACCESSORY, Use.CRAWL_SPACE}


@rule(
    id="smoke-alarm-places",
    over=Plan,
    severity=Severity.DANGER,
    subjects=(Subject.ALARMS,),
    cites={
        "irc-2018": Cite(
            "R314.3",
            note="https://buildingcodegeek.com/smoke-detector-placement-irc-r314/ and "
            "https://buildingcodetrainer.com/smoke-alarm-locations/; the 21 ft of NFPA 72: "
            "https://www.ecmag.com/section/codes-standards/return-normalcy",
        ),
        "irc-2021": Cite(
            "R314.3", note="https://www.co.merced.ca.us/687/Smoke-Alarms (a county's rule; that edition from memory)"
        ),
        "irc-2024": Cite("R310.3", note="renumbered chapter, from memory"),
    },
    changes={
        "irc-2021": "Where a room open to the hall outside bedrooms has a ceiling 24 in or more higher, both have an alarm.",
        "irc-2024": "Chapter 3 is renumbered.",
    },
    hazards=(Hazard.UNDETECTED_SMOKE,),
    dwelling_only=True,
)
def smoke_alarm_places(plan: Plan, job: Job) -> Iterator[Outcome]:
    """R314.3: each place where an alarm is required."""
    rooms = sleeping_rooms(job.survey)
    stories = [level for level in plan.levels.values() if _is_story(level, job)]
    if not (rooms or stories):
        yield NotConcerned()
    elif not plan.devices:
        yield Undetermined((ROOT / "devices",), "The plan shows no devices, so no smoke alarms either.")
    else:
        told: set[str] = set()
        for room in rooms:
            inside, around = _in_room(room, job), tuple(_outside(room, job))
            told.update(_stories_told(room, inside, around, job))
            yield from (inside, *around)
        for level in (*stories, *_habitable_attics(job)):
            yield NotConcerned(f"on {level.id}") if level.id in told else _on_story(level, job)
        yield from _open_attics(job)
        yield from _steps(job)


# In each sleeping room


def _in_room(room: Room, job: Job) -> Outcome:
    alarms, facet = smoke_alarms(job.survey), f"in {room.id}"
    if alarms.in_room.get(room.id):
        return Pass(facet=facet)
    if alarms.missing:
        return Undetermined(alarms.missing, facet=facet, at=room.pointer)
    if not is_loft(job.survey, room):
        message = f"No smoke alarm is in {name_of(room)}, where people sleep."
        return Violation(message, remedies=(_remedy(room, job),), facet=facet, at=room.pointer)
    return Judgement(
        f"No smoke alarm is in the loft {name_of(room)}, where people sleep, open to whatever burns below. "
        "Ask the authority having jurisdiction.",
        readings=(
            Reading("A loft that is slept in is a sleeping room.", "violation"),
            Reading("A loft is part of the room below, and an alarm outside it there is enough.", "pass"),
        ),
        remedies=(_remedy(room, job),),
        facet=facet,
        at=room.pointer,
    )


def _remedy(room: Room, job: Job) -> Remedy:
    words = (
        f"Put a smoke alarm on the ceiling of {name_of(room)}, on the house's wiring with a battery, joined with the others."
    )
    if not room.knows("outline"):
        return Remedy(words)
    value = {
        "kind": "smoke_alarm",
        "at": {"room": room.id, "point": [written(inches(each)) for each in geometry.centroid(room.outline)]},
        "sensing": "photoelectric",
        "power_source": "building_and_battery",
    }
    return Remedy(words, added_devices(job.plan, {f"alarm-{room.id[:50]}": value}))


# Outside each sleeping area


def _outside(room: Room, job: Job) -> Iterator[Outcome]:
    alarms, facet = smoke_alarms(job.survey), f"outside {room.id}"
    inside = alarms.in_room.get(room.id, [])
    found = outside(job.survey, room, alarms)
    if found is not None and found.near:
        yield Pass(inches(found.away), inches(VICINITY), facet)
    elif is_lived_in(room) and len(inside) > 1:
        yield Pass(facet=facet)
    elif alarms.missing:
        yield Undetermined(alarms.missing, facet=facet, at=room.pointer)
    elif is_lived_in(room):
        if inside:
            yield _one_for_both(room)
    elif found is not None:
        yield _far(room, found) if ways_out(job.survey, room) else _no_way(room)
    else:
        yield _none_outside(room, job)


def _one_for_both(room: Room) -> Judgement:
    return Judgement(
        f"{name_of(room)} is lived in and slept in; one smoke alarm is in it and none outside the place where people sleep. "
        "Ask the authority having jurisdiction.",
        readings=(
            Reading("The room is all there is outside the sleeping area, and the alarm in it serves both.", "pass"),
            Reading("One alarm belongs at the bed, and another outside the sleeping area.", "violation"),
        ),
        remedies=(Remedy("Put a second alarm away from the bed, toward the way out."),),
        facet=f"outside {room.id}",
        at=room.pointer,
    )


def _no_way(room: Room) -> Undetermined:
    words = f"No way out of {name_of(room)} is drawn, so how far the alarm outside it is cannot be told."
    return Undetermined((ROOT / "openings",), words, f"outside {room.id}", room.pointer)


def _far(room: Room, found: Outside) -> Outcome:
    on_same = found.away > 0
    said = f"{shown(inches(found.away))} or more on foot" if on_same else "on another level"
    return Judgement(
        f"The nearest smoke alarm outside {name_of(room)}, {name_of(found.alarm.device)}, is {said} from its door. "
        "Ask the authority having jurisdiction.",
        readings=(
            Reading(
                "It is outside the sleeping area in the immediate vicinity, for which the residential code gives no figure.",
                "pass",
            ),
            Reading(f"NFPA 72 takes {shown(inches(VICINITY))} of travel as the most.", "violation"),
        ),
        measured=inches(found.away) if on_same else None,
        limit=inches(VICINITY),
        remedies=(Remedy(f"Put a smoke alarm outside the door of {name_of(room)}."),),
        facet=f"outside {room.id}",
        at=room.pointer,
        related=(found.alarm.device.pointer,),
    )


def _none_outside(room: Room, job: Job) -> Violation:
    where = "at the foot of its stair or ladder" if is_loft(job.survey, room) else "in the hall or room outside its door"
    return Violation(
        f"No smoke alarm is outside {name_of(room)}, where people sleep.",
        remedies=(Remedy(f"Put a smoke alarm {where}, clear of cooking and of the bathroom's door."),),
        facet=f"outside {room.id}",
        at=room.pointer,
    )


# On each story


def _is_story(level: Level, job: Job) -> bool:
    rooms = job.survey.rooms_on_level.get(level.id, [])
    lived_in = any(not _NO_STORY.intersection(room.uses) for room in rooms)
    return lived_in and level.kind in (LevelKind.STOREY, LevelKind.BASEMENT)


def _habitable_attics(job: Job) -> Iterator[Level]:
    """A habitable attic is a story."""
    for level in job.plan.levels.values():
        rooms = job.survey.rooms_on_level.get(level.id, []) if level.kind is LevelKind.ATTIC else []
        if any(room.knows("habitable") and room.habitable for room in rooms):
            yield level


def _open_attics(job: Job) -> Iterator[Outcome]:
    """Attics of which it is not said whether they are habitable."""
    stories = {level.id for level in _habitable_attics(job)}
    for level in job.plan.levels.values():
        rooms = job.survey.rooms_on_level.get(level.id, []) if level.kind is LevelKind.ATTIC else []
        unknown = tuple(room.where("habitable") for room in rooms if not room.knows("habitable"))
        if unknown and level.id not in stories:
            yield Undetermined(unknown, facet=f"on {level.id}", at=level.pointer)


def _stories_told(room: Room, inside: Outcome, around: tuple[Outcome, ...], job: Job) -> Iterator[str]:
    """The levels that an alarm missing in a sleeping room, or outside it, would be on: it serves that story too."""
    if isinstance(inside, Violation):
        yield room.level
    if any(isinstance(each, Violation) for each in around):
        yield from [way.level for way in ways_out(job.survey, room)] or [room.level]


def _on_story(level: Level, job: Job) -> Outcome:
    alarms, facet = smoke_alarms(job.survey), f"on {level.id}"
    if alarms.on_level.get(level.id):
        return Pass(facet=facet)
    if alarms.missing:
        return Undetermined(alarms.missing, facet=facet, at=level.pointer)
    message = f"No smoke alarm is on {name_of(level)}."
    remedies = (Remedy(f"Put a smoke alarm on {name_of(level)}, joined with the others."),)
    above = _split_level_above(level, job)
    if above is None:
        return Violation(message, remedies=remedies, facet=facet, at=level.pointer)
    return Judgement(
        f"{message} {name_of(above)}, less than a full story above it, has one. Ask the authority having jurisdiction.",
        readings=(
            Reading("It is a split level with no door between, and the alarm on the upper one serves both.", "pass"),
            Reading("A door is between them, or it is a story of its own.", "violation"),
        ),
        remedies=remedies,
        facet=facet,
        at=level.pointer,
    )


def _split_level_above(level: Level, job: Job) -> Level | None:
    if not level.knows("elevation"):
        return None
    alarms = smoke_alarms(job.survey)
    stories = (each for each in job.plan.levels.values() if each.kind is LevelKind.STOREY and each.knows("elevation"))
    near = (each for each in stories if 0 < each.elevation - level.elevation < FULL_STORY)
    return next((each for each in near if alarms.on_level.get(each.id)), None)


# A step in the ceiling


def _steps(job: Job) -> Iterator[Outcome]:
    for hall in job.plan.rooms.values():
        if Use.HALLWAY not in hall.uses or hall.id not in halls_outside(job.survey):
            continue
        for room in open_to(job.survey, hall.id):
            try:
                yield _step(hall, room, job)
            except UnknownFact as unknown:
                yield Undetermined((unknown.pointer,), facet=f"step {hall.id} {room.id}", at=room.pointer)


def _step(hall: Room, room: Room, job: Job) -> Outcome:
    facet = f"step {hall.id} {room.id}"
    step = highest_ceiling(job.survey, room) - highest_ceiling(job.survey, hall)
    if not reaches(step, CEILING_STEP) or int(job.plan.basis.residential_code) < _STEP_SINCE:
        return NotConcerned(facet)
    alarms = smoke_alarms(job.survey)
    without = [each for each in (hall, room) if not alarms.in_room.get(each.id)]
    if not without:
        return Pass(inches(step), inches(CEILING_STEP), facet)
    if alarms.missing:
        return Undetermined(alarms.missing, facet=facet, at=room.pointer)
    return Violation(
        f"The ceiling of {name_of(room)} is {shown(inches(step))} above that of {name_of(hall)}, outside bedrooms; both need a "
        f"smoke alarm, and {name_of(without[0])} has none.",
        inches(step),
        inches(CEILING_STEP),
        (Remedy(f"Put a smoke alarm in {name_of(without[0])}."),),
        facet=facet,
        at=without[0].pointer,
        related=_related(hall, room),
    )


def _related(hall: Room, room: Room) -> tuple[Pointer, ...]:
    return (hall.pointer, room.pointer)
