"""Which parts meet a requirement that is met: those alone that the rule itself counts, and no other of the same kind in the room."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Final

from nailplate.plan import Device, Part, Pointer, UnknownFact
from nailplate.plan.words import Face
from nailplate.rulekit import Job
from nailplate.rules.placement.basin_receptacles import at_basin
from nailplate.rules.placement.outdoor_receptacles import left_out_of
from nailplate.rules.placement.wall_outcomes import tops_break_in
from nailplate.rules.switching.light_exterior_door import inside_and_outside, lights_outside
from nailplate.survey.equipment.equipment_receptacles import receptacles_around, same_level
from nailplate.survey.lights.alarms import co_alarms, outside, smoke_alarms
from nailplate.survey.lights.switch_points import controlled
from nailplate.survey.outdoors import outside_receptacles
from nailplate.survey.protection.cord_connected import circuit_of
from nailplate.survey.receptacles import counter_spaces, receptacles_in, serving, serving_top, top_of, wall_receptacles
from nailplate.units import within

Meeting = Callable[[Job, str, str], Iterable[Part]]
"""The parts at a place, by its id and the word that tells where at it."""


def meeting(job: Job, rule: str, at: Pointer, words: str) -> tuple[Part, ...]:
    """The parts that meet what a rule requires at a place; none where the rule does not count parts one by one."""
    find = _MEETING.get(rule)
    if find is None:
        return ()
    try:
        return tuple(dict.fromkeys(find(job, at.members[1] if len(at.members) > 1 else "", words)))
    except UnknownFact:  # unknown: what the rule passed without is not needed to name its parts
        return ()


# Receptacles


def _along_walls(job: Job, room: str, words: str) -> Iterator[Device]:
    """Those on the floor line; what serves a counter counts for no wall space (210.52)."""
    level = job.plan.rooms[room].level
    standing = job.survey.once(wall_receptacles, level, tops_break_in(job)).standing
    counters = {device.id for each in job.survey.counters_in_room.get(room, ()) for device in _at_counter(job, each.id, words)}
    return (each.device for each in standing if each.room == room and not each.needs and each.device.id not in counters)


def _at_counter(job: Job, counter: str, words: str) -> Iterator[Device]:
    room = job.plan.rooms[job.plan.counters[counter].room]
    spaces = (each for each in counter_spaces(job.survey, room.id) if each.counter.id == counter)
    return (each.device for space in spaces for each in serving(job.survey, room, space) if not each.needs)


def _at_top(job: Job, counter: str, words: str) -> Iterator[Device]:
    flat = not job.holds("island_count_by_area")
    top = top_of(job.survey, job.plan.counters[counter])
    return (each.device for each in serving_top(job.survey, top, below_serves=True, only_flat=flat) if not each.needs)


def _at_basin(job: Job, basin: str, words: str) -> Iterator[Device]:
    near = at_basin(job.survey, job.plan.fixtures[basin]).near
    return (
        each.device for each in near if each.adjacent and not each.needs and within(each.distance, job.inches("basin_reach"))
    )


def _in_room(job: Job, room: str, words: str) -> Iterator[Device]:
    return (each.device for each in receptacles_in(job.survey, job.plan.rooms[room]).found if not each.needs)


def _at_deck(job: Job, room: str, words: str) -> Iterator[Device]:
    yield from _in_room(job, room, words)
    for one in outside_receptacles(job.survey).found:
        there = one.place is not None and one.place.id == room and not one.needs and one.standing.place.knows("height")
        if there and within(one.standing.height, job.inches("reach_over_grade")):
            yield one.device


def _at_face(job: Job, _: str, words: str) -> Iterator[Device]:
    face = Face(words) if words else None
    return (one.device for one in outside_receptacles(job.survey).found if left_out_of(one, face, job) == ())


def _near_equipment(job: Job, unit: str, words: str) -> Iterator[Device]:
    appliance = job.plan.appliances[unit]
    room = job.plan.rooms[appliance.room]
    around = receptacles_around(job.survey, appliance)
    return (one.device for _, one in around if same_level(job.survey, room, one) and not one.needs)


# Alarms, lights at doors, circuits


def _smoke(job: Job, place: str, words: str) -> Iterator[Device]:
    alarms = smoke_alarms(job.survey)
    if words == "outside":
        found = outside(job.survey, job.plan.rooms[place], alarms)
        yield from (found.alarm.device,) if found is not None else ()
    else:
        there = alarms.on_level if words == "on" else alarms.in_room
        yield from (each.device for each in there.get(place, ()))


def _monoxide(job: Job, place: str, words: str) -> Iterator[Device]:
    alarms = co_alarms(job.survey)
    if words == "outside":
        found = outside(job.survey, job.plan.rooms[place], alarms)
        yield from (found.alarm.device,) if found is not None else ()
    else:
        yield from (each.device for each in (*alarms.in_room.get(place, ()), *alarms.on_level.get(place, ())))


def _at_door(job: Job, opening: str, words: str) -> Iterator[Device]:
    door = job.plan.openings[opening]
    _, room = inside_and_outside(door, job)
    for _, light in sorted(lights_outside(door, job, room), key=lambda each: each[0]):
        points = controlled(job.survey, (light,), automatic=True).points
        if points:
            yield light
            yield from (point.device for point in points)


def _circuit(job: Job, appliance: str, words: str) -> Iterator[Part]:
    yield circuit_of(job.survey, job.plan.appliances[appliance])


_MEETING: Final[Mapping[str, Meeting]] = {
    "wall-space": _along_walls,
    "loft-receptacles": _along_walls,
    "foyer-receptacles": _along_walls,
    "wall-counter": _at_counter,
    "island-peninsula": _at_top,
    "bath-receptacle": _at_basin,
    "hall-receptacle": _in_room,
    "laundry-receptacle": _in_room,
    "basement-receptacle": _in_room,
    "garage-receptacles": _in_room,
    "outdoor-receptacles": _at_face,
    "deck-receptacle": _at_deck,
    "equipment-receptacle": _near_equipment,
    "light-exterior-door": _at_door,
    "smoke-alarm-places": _smoke,
    "co-alarm-places": _monoxide,
    "individual-circuit": _circuit,
    "water-heater-circuit": _circuit,
    "gfci-appliances": _circuit,
}
