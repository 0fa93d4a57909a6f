"""Where fuel burns in the house or a garage opens into it, a carbon monoxide alarm is outside every sleeping area.

Why: carbon monoxide has no smell, and those who sleep do not wake from it.

Fix: one alarm outside each sleeping area, and one in a bedroom that has a fuel-burning appliance itself or in its
bathroom; a smoke alarm that senses carbon monoxide counts.

Trap: propane ranges and wood stoves burn fuel too, in a house on wheels as well. A detached garage, or one with no opening into
the house, does not require an alarm.

Does not judge: how an alarm is powered and interconnected (`alarm-unswitched`, `interconnect-cable`), its listing, age and
height, and the alarms that local rules require beyond these. Fuel-burning equipment counts where the plan draws it; what is
used now and then, as a portable heater, is not drawn.
"""

from collections.abc import Iterator

from nailplate.plan import ROOT, Part, Plan, Pointer, Room
from nailplate.plan.words import Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.placement.carbon_monoxide import carbon_monoxide_sources, sources_in
from nailplate.survey.lights import (
    VICINITY,
    Outside,
    co_alarms,
    is_lived_in,
    is_loft,
    outside,
    sleeping_rooms,
    ways_out,
)
from nailplate.survey.names import name_of
from nailplate.units import inches, shown


@rule(
    id="co-alarm-places",
    over=Plan,
    severity=Severity.DANGER,
    subjects=(Subject.ALARMS,),
    cites={
        "irc-2018": Cite(
            "R315.2, R315.3",
            note="https://buildingcodetrainer.com/carbon-monoxide-alarm-location/ and "
            "https://summerville-home-inspection.com/blog/smoke-and-carbon-monoxide-alarm-requirements",
        ),
        "irc-2024": Cite("R311.2, R311.3", note="renumbered chapter, from memory"),
    },
    changes={"irc-2024": "Chapter 3 is renumbered."},
    hazards=(Hazard.CARBON_MONOXIDE,),
    dwelling_only=True,
)
def co_alarm_places(plan: Plan, job: Job) -> Iterator[Outcome]:
    """R315.2 and R315.3: each place where an alarm is required."""
    rooms, sources = sleeping_rooms(job.survey), carbon_monoxide_sources(job.survey)
    if not rooms or not (sources.found or sources.needs):
        yield NotConcerned()
    elif not sources.found:
        yield from _nothing_known_to_burn(rooms, sources.needs, job)
    elif not plan.devices:
        yield Undetermined((ROOT / "devices",), "The plan shows no devices, so no carbon monoxide alarms either.")
    else:
        for room in rooms:
            yield _outside(room, sources.found[0][0], job)
            yield from _inside(room, job)


def _nothing_known_to_burn(rooms: tuple[Room, ...], needs: tuple[Pointer, ...], job: Job) -> Iterator[Outcome]:
    """Whether anything burns fuel is not known; where alarms stand as they would have to, it need not be."""
    if all(_is_served(room, job) for room in rooms):
        yield Pass()
    else:
        yield Undetermined(needs)


def _is_served(room: Room, job: Job) -> bool:
    found = outside(job.survey, room, co_alarms(job.survey))
    return (found is not None and found.near) or bool(_counts_inside(room, job))


def _counts_inside(room: Room, job: Job) -> bool:
    """An alarm in a loft, or in a room that is lived in and slept in, is where the sleeping area is."""
    in_it = co_alarms(job.survey).in_room.get(room.id)
    return bool(in_it) and (is_loft(job.survey, room) or is_lived_in(room))


# Outside each sleeping area


def _outside(room: Room, source: Part, job: Job) -> Outcome:
    alarms, facet = co_alarms(job.survey), f"outside {room.id}"
    found = outside(job.survey, room, alarms)
    if found is not None and found.near:
        return Pass(inches(found.away), inches(VICINITY), facet)
    if _counts_inside(room, job):
        return Pass(facet=facet)
    if alarms.missing:
        return Undetermined(alarms.missing, facet=facet, at=room.pointer)
    if found is None:
        return _none(room, source)
    if not ways_out(job.survey, room):
        words = f"No way out of {name_of(room)} is drawn, so how far the alarm outside it is cannot be told."
        return Undetermined((ROOT / "openings",), words, facet, room.pointer)
    return _far(room, found)


def _none(room: Room, source: Part) -> Violation:
    why = (
        "a garage opens into the house"
        if isinstance(source, Room) and Use.GARAGE in source.uses
        else f"{name_of(source)} burns fuel"
    )
    return Violation(
        f"No carbon monoxide alarm is outside {name_of(room)}, where people sleep, and {why}.",
        remedies=(
            Remedy(
                "Put a carbon monoxide alarm, or a smoke alarm that senses it too, outside the door or at the foot of the loft."
            ),
        ),
        facet=f"outside {room.id}",
        at=room.pointer,
        related=(source.pointer,),
    )


def _far(room: Room, found: Outside) -> Judgement:
    on_same = found.away > 0
    said = f"{shown(inches(found.away))} or more on foot" if on_same else "on another level"
    return Judgement(
        f"The nearest carbon monoxide alarm outside {name_of(room)}, {name_of(found.alarm.device)}, is {said} from its door. "
        "Ask the authority having jurisdiction.",
        readings=(
            Reading("It is in the immediate vicinity, for which the residential code gives no figure.", "pass"),
            Reading(f"As for smoke alarms, {shown(inches(VICINITY))} of travel is the most.", "violation"),
        ),
        measured=inches(found.away) if on_same else None,
        limit=inches(VICINITY),
        remedies=(Remedy(f"Put a carbon monoxide alarm outside the door of {name_of(room)}."),),
        facet=f"outside {room.id}",
        at=room.pointer,
        related=(found.alarm.device.pointer,),
    )


# In a bedroom with something that burns fuel


def _inside(room: Room, job: Job) -> Iterator[Outcome]:
    burning = sources_in(job.survey, room)
    if not burning:
        return
    alarms, facet = co_alarms(job.survey), f"in {room.id}"
    if alarms.in_room.get(room.id):
        yield Pass(facet=facet)
    elif alarms.missing:
        yield Undetermined(alarms.missing, facet=facet, at=room.pointer)
    else:
        yield Violation(
            f"{name_of(burning[0])} burns fuel in {name_of(room)} or its bathroom, where people sleep, and no carbon monoxide "
            "alarm is in the room.",
            remedies=(Remedy(f"Put a carbon monoxide alarm in {name_of(room)}, or take what burns fuel out of it."),),
            facet=facet,
            at=room.pointer,
            related=tuple(part.pointer for part in burning),
        )
