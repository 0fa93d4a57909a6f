"""Outcomes of rules sorted into requirements: one for each rule and place, met as far as every outcome there says."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from nailplate.plan import ROOT, Device, Part, Pointer, UnknownFact
from nailplate.plan.words import Purpose
from nailplate.rulekit import Job, Judgement, NotConcerned, Operation, Pass, Remedy, Undetermined, Violation
from nailplate.sheets.requirements.circuits import least_circuits
from nailplate.sheets.requirements.items import Met, RequiredPlace, Requirement, Said
from nailplate.sheets.requirements.met_by import meeting
from nailplate.sheets.requirements.topics import ASKED, Asked
from nailplate.survey import Survey, standing
from nailplate.survey.lights.room_lights import room_light, walk_in
from nailplate.survey.names import name_of
from nailplate.units import Unit, inches, shown

MOST_NAMED = 40
"""Places, parts and facts that one requirement names."""
_ALARM_PLACES = {"in": "in", "outside": "outside", "on": "on"}
_ROOM_OF = ("counters", "fixtures")


@dataclass(slots=True)
class Gathered:
    """What was said of one rule at one place."""

    said: Said
    at: Pointer
    words: str
    outcomes: list[object] = field(default_factory=list)
    parts: list[Pointer] = field(default_factory=list)


def gathered(job: Job, every: Iterable[Said]) -> Iterator[Gathered]:
    """What rules said, by rule and place; what concerns nothing is left aside."""
    found: dict[tuple[str, str, str], Gathered] = {}
    for said in every:
        if isinstance(said.outcome, NotConcerned):
            continue
        at, words = _place(job, said)
        one = found.setdefault((said.rule, at, words), Gathered(said, at, words))
        one.outcomes.append(said.outcome)
        if said.part != ROOT:
            one.parts.append(said.part)
    yield from found.values()


def requirement_of(job: Job, found: Gathered) -> Requirement:
    """The requirement that these outcomes make."""
    asked, room = ASKED[found.said.rule], room_of(job, found.at)
    met, needs = _met(job, found, asked)
    adds = [op for each in found.outcomes for op in _adds(each)]
    by = tuple(_by(job, found, asked, room)) if met == "yes" else ()
    return Requirement(
        topic=asked.topic,
        at=found.at,
        where=_where(job, found),
        what=asked.what,
        section=found.said.section,
        text_status=found.said.text_status,
        met=met,
        room=room,
        rule=found.said.rule,
        how_many=_how_many(job, found),
        to_add=len(adds) or None,
        places=(*(_proposed(job, value) for value in adds), *_reached_at(job, found, asked, room))[:MOST_NAMED],
        by=by[:MOST_NAMED],
        needs=needs[:MOST_NAMED],
    )


# Where


def _place(job: Job, said: Said) -> tuple[Pointer, str]:
    """The place that an outcome speaks of, and for alarms the word that tells where at it."""
    facet, plan = getattr(said.outcome, "facet", ""), job.plan
    word, _, name = facet.partition(" ")
    if ASKED[said.rule].topic == "alarms" and word in _ALARM_PLACES:
        if name in plan.rooms and word != "on":
            return plan.rooms[name].pointer, word
        if name in plan.levels:
            return plan.levels[name].pointer, word
    at = getattr(said.outcome, "at", None) or said.part
    if said.rule == "outdoor-receptacles":
        return said.part, facet
    members = at.members
    if members[:1] == ("devices",) and len(members) > 1:
        room = _room_of_device(job.survey, plan.devices.get(members[1]))
        return (ROOT / "rooms" / room, "") if room else (ROOT, "")
    if members[:1] == ("circuits",) or members == ():
        return ROOT, ""
    return (ROOT / members[0] / members[1], "") if len(members) > 1 else (ROOT, "")


def room_of(job: Job, at: Pointer) -> str | None:
    """The room that a place is in; None for the house as a whole."""
    members = at.members
    if len(members) < 2:
        return None
    if members[0] == "rooms":
        return members[1]
    if members[0] in _ROOM_OF:
        part = getattr(job.plan, members[0]).get(members[1])
        return part.room if part is not None and part.knows("room") else None
    return None


def _room_of_device(survey: Survey, device: Device | None) -> str | None:
    if device is None:
        return None
    try:
        room = standing(survey, device).room
    except UnknownFact:  # unknown: it is listed under no room
        return None
    return room.id if room is not None else None


def _where(job: Job, found: Gathered) -> str:
    name = named(job, found.at)
    if found.said.rule == "outdoor-receptacles":
        return f"{found.words} of the house" if found.words else "the house"
    return f"{found.words} {name}" if found.words else name


def named(job: Job, at: Pointer) -> str:
    """What people call a place."""
    if len(at.members) < 2:
        return "the house"
    part = getattr(job.plan, at.members[0]).get(at.members[1])
    return name_of(part) if isinstance(part, Part) else "the house"


# Whether


def _met(job: Job, found: Gathered, asked: Asked) -> tuple[Met, tuple[Pointer, ...]]:
    needs = tuple(dict.fromkeys(need for each in found.outcomes if isinstance(each, Undetermined) for need in each.needs))
    drawn_in = "circuits" if asked.topic == "circuits" else "devices"
    if any(isinstance(each, Violation) for each in found.outcomes):
        if asked.topic in ("receptacles", "lights", "controls", "alarms") and not job.plan.knows(drawn_in):
            return "unknown", (ROOT / drawn_in,)
        return "no", ()
    if needs and all(len(need.members) == 1 and _drawn_empty(job, need.members[0]) for need in needs):
        return "no", needs
    if any(isinstance(each, Judgement | Undetermined) for each in found.outcomes):
        return "unknown", needs
    return "yes", ()


def _drawn_empty(job: Job, name: str) -> bool:
    """Whether the plan says of a map that nothing is drawn in it yet."""
    return job.plan.knows(name) and not getattr(job.plan, name)


def _how_many(job: Job, found: Gathered) -> int | None:
    least = least_circuits(job).get(found.said.rule)
    if least is not None:
        return least
    every = found.outcomes
    limits = [each.limit for each in every if isinstance(each, Pass | Violation) and each.limit is not None]
    return next((round(limit.value) for limit in limits if limit.unit is Unit.COUNT), None)


# With what


def _by(job: Job, found: Gathered, asked: Asked, room: str | None) -> Iterator[Pointer]:
    own = [part for part in found.parts if part.members[0] in ("devices", "circuits", "panels", "supplies")]
    if own:
        yield from dict.fromkeys(own)
    elif isinstance(asked.by, Purpose):
        yield from (each.pointer for each in job.plan.circuits.values() if each.is_(purpose=asked.by))
    elif asked.topic == "lights" and room is not None:
        light = room_light(job.survey, room, receptacles=True, automatic=True)
        yield from dict.fromkeys(each.pointer for each in (*light.outlets, *(point.device for point in light.points)))
    else:
        yield from (each.pointer for each in meeting(job, found.said.rule, found.at, found.words))


# Where it may go


def _adds(outcome: object) -> Iterator[dict[str, object]]:
    """The devices that the usual remedy of an outcome adds, as a plan writes them."""
    remedies: tuple[Remedy, ...] = getattr(outcome, "remedies", ())
    for operation in remedies[0].patch if remedies else ():
        yield from _added_by(operation)


def _added_by(operation: Operation) -> Iterator[dict[str, object]]:
    members, value = operation.path.members, operation.value
    if operation.op != "add" or members[:1] != ("devices",) or not isinstance(value, dict):
        return
    devices = [value] if len(members) == 2 else list(value.values()) if len(members) == 1 else []
    yield from (each for each in devices if isinstance(each, dict))


def _proposed(job: Job, device: dict[str, object]) -> RequiredPlace:
    at = device.get("at")
    if not isinstance(at, dict):
        return RequiredPlace(ROOT / "devices", "where it suits")
    if "wall" in at:
        high = f", {_as_read(at['height'])} high" if "height" in at else ""
        wall = ROOT / "walls" / str(at["wall"])
        return RequiredPlace(wall, f"{_as_read(at.get('along'))} along {named(job, wall)}{high}", at)
    room = ROOT / "rooms" / str(at.get("room", ""))
    return RequiredPlace(room, f"in {named(job, room)}", at)


def _as_read(written: object) -> str:
    """A length that a remedy writes, ``158 in``, as a tape shows it."""
    number, _, unit = str(written).partition(" ")
    return shown(inches(float(number))) if unit == "in" else str(written)


def _reached_at(job: Job, found: Gathered, asked: Asked, room: str | None) -> Iterator[RequiredPlace]:
    """The ways into a room, at which the switch of its light is reached."""
    if asked.topic == "lights" and room is not None:
        for way in walk_in(job.survey, room):
            yield RequiredPlace(way.part or found.at, f"switch reached at {way.name}")
