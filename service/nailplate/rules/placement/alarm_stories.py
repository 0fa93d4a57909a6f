"""Where smoke alarms are required by story, and where a ceiling steps up; serves `smoke-alarm-places`."""

from collections.abc import Iterator

from nailplate.plan import Level, Pointer, Room, UnknownFact
from nailplate.plan.trade import OUTDOOR
from nailplate.plan.words import LevelKind, Use
from nailplate.rulekit import Job
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.survey.lights import (
    halls_outside,
    open_to,
    smoke_alarms,
    ways_out,
)
from nailplate.survey.names import name_of
from nailplate.survey.space import highest_ceiling
from nailplate.units import Inches, inches, reaches, shown

CEILING_STEP = Inches(24.0)
"""IRC from 2021: a room open to the hall outside bedrooms, with a ceiling 24 in or more above the hall's, has one too."""
_STEP_SINCE = 2021
FULL_STORY = Inches(84.0)
"""How far apart two floors are at least that are a full story apart; the code gives no figure (common practice)."""
_NO_STORY = OUTDOOR | {Use.GARAGE, Use.ACCESSORY, Use.CRAWL_SPACE}


# On each story


def is_story(level: Level, job: Job) -> bool:
    """Whether a level is a story that needs an alarm of its own."""
    rooms = job.survey.rooms_on_level.get(level.id, [])
    lived_in = any(not _NO_STORY.intersection(room.uses) for room in rooms)
    return lived_in and level.kind in (LevelKind.STOREY, LevelKind.BASEMENT)


def habitable_attics(job: Job) -> Iterator[Level]:
    """A habitable attic is a story."""
    for level in job.plan.levels.values():
        rooms = job.survey.rooms_on_level.get(level.id, []) if level.kind is LevelKind.ATTIC else []
        if any(room.is_(habitable=True) for room in rooms):
            yield level


def open_attics(job: Job) -> Iterator[Outcome]:
    """Attics of which it is not said whether they are habitable."""
    stories = {level.id for level in habitable_attics(job)}
    for level in job.plan.levels.values():
        rooms = job.survey.rooms_on_level.get(level.id, []) if level.kind is LevelKind.ATTIC else []
        unknown = tuple(room.where("habitable") for room in rooms if not room.knows("habitable"))
        if unknown and level.id not in stories:
            yield Undetermined(unknown, facet=f"on {level.id}", at=level.pointer)


def stories_told(room: Room, inside: Outcome, around: tuple[Outcome, ...], job: Job) -> Iterator[str]:
    """The levels that an alarm missing in a sleeping room, or outside it, would be on: it serves that story too."""
    if isinstance(inside, Violation):
        yield room.level
    if any(isinstance(each, Violation) for each in around):
        yield from [way.level for way in ways_out(job.survey, room)] or [room.level]


def on_story(level: Level, job: Job) -> Outcome:
    """R314.3: at least one on each story."""
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


def steps(job: Job) -> Iterator[Outcome]:
    """From the residential code of 2021: both sides of a step in the ceiling."""
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
