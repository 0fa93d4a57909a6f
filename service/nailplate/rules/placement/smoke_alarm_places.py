"""A smoke alarm is in every sleeping room, outside every sleeping area, and on every story.

Why: people who sleep do not smell smoke; an alarm must wake them while there is still a way out.

Fix: one alarm in each room that is slept in, one in the hall or room outside, one on each story; interconnect them all.

Trap: a sleeping loft is slept in, and open to what burns below: one in the loft at the high part of its ceiling, one at the
foot of its stair. A room that is living and sleeping room in one has no "outside" of its own; this is read two ways.

Does not judge: how alarms are interconnected and powered (`interconnect-cable`, `alarm-unswitched`), how near cooking and
bathrooms they stand (`smoke-alarm-clear-of`), and what a fire alarm system may replace. Work on existing houses, and what local
rules add, are left to the authority having jurisdiction.

An alarm that is missing at a sleeping room is told once: in its place it serves the story too.
"""

from collections.abc import Iterator

from nailplate.calc import geometry
from nailplate.plan import ROOT, Plan, Room
from nailplate.remedies.new_devices import added_devices
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.placement.alarm_clearances import clear_spot
from nailplate.rules.placement.alarm_stories import habitable_attics, is_story, on_story, open_attics, steps, stories_told
from nailplate.survey.lights import (
    VICINITY,
    Outside,
    is_lived_in,
    is_loft,
    outside,
    sleeping_rooms,
    smoke_alarms,
    ways_out,
)
from nailplate.survey.names import name_of
from nailplate.units import inches, shown, written


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
    stories = [level for level in plan.levels.values() if is_story(level, job)]
    if not (rooms or stories):
        yield NotConcerned()
    elif not plan.devices:
        yield Undetermined((ROOT / "devices",), "The plan shows no devices, so no smoke alarms either.")
    else:
        told: set[str] = set()
        for room in rooms:
            inside, around = _in_room(room, job), tuple(_outside(room, job))
            told.update(stories_told(room, inside, around, job))
            yield from (inside, *around)
        for level in (*stories, *habitable_attics(job)):
            yield NotConcerned(f"on {level.id}") if level.id in told else on_story(level, job)
        yield from open_attics(job)
        yield from steps(job)


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
    middle = clear_spot(room, [], {}, geometry.centroid(room.outline)) if room.knows("outline") else None
    if middle is None:
        return Remedy(words)
    value = {
        "kind": "smoke_alarm",
        "at": {"room": room.id, "point": [written(inches(each)) for each in middle]},
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
        yield _far(room, found) if ways_out(job.survey, room) else _no_way(room, job)
    elif not ways_out(job.survey, room) and any(each.where.room is not room for each in alarms.placed):
        yield _no_way(room, job)
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


def _no_way(room: Room, job: Job) -> Undetermined:
    words = f"No way out of {name_of(room)} is drawn, so how far the alarm outside it is cannot be told."
    stairs = (each for each in job.plan.stairs.values() if room.level in (each.lower, each.upper))
    unsaid = tuple(each.where("entries") for each in stairs if not each.knows("entries"))
    return Undetermined(unsaid or (ROOT / "openings",), words, f"outside {room.id}", room.pointer)


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
