"""How near a smoke alarm is to what makes it alarm for nothing, in words, and where it could go instead."""

from dataclasses import dataclass

from nailplate.plan import Room, RoomPlace, UnknownFact
from nailplate.plan.words import Sensing
from nailplate.rulekit import Job
from nailplate.rulekit.answers import Remedy, state
from nailplate.rules.placement.alarm_clearances import (
    Near,
    Nuisance,
    clear_spot,
    sources_near,
)
from nailplate.survey import place_of
from nailplate.survey.lights import Placed, open_to
from nailplate.survey.names import name_of
from nailplate.survey.space import ceiling_of
from nailplate.units import Inches, inches, reaches, shown, written

PHOTOELECTRIC = Inches(72.0)
SILENCED = Inches(120.0)
IONIZATION = Inches(240.0)
"""The residential code until its edition of 2021: 6 ft, 10 ft and 20 ft by what the alarm senses with. NFPA 72: 10 ft, and never nearer than 6 ft."""
CLEAR = Inches(36.0)
"""3 ft from a bathroom's door (IRC), and from blade tips and registers (NFPA 72 and manufacturers' sheets)."""
WIDEST_FAN = Inches(84.0)
"""The span of the widest ceiling fans for houses (from memory); a fan whose span is not said is asked about within reach of it."""


STRUCK_SINCE = 2024


@dataclass(frozen=True, slots=True)
class Asked:
    """One alarm and one thing that it is near, the distance asked for, and how the thing is called."""

    alarm: Placed
    near: Near
    away: float
    limit: float
    of: str


# Words, and where it could go


def said(asked: Asked) -> str:
    """What stands how near."""
    return f"{name_of(asked.alarm.device)} is {shown(inches(max(asked.away, 0.0)))} from {asked.of}"


@dataclass(frozen=True, slots=True)
class _Spot:
    """A clear place in a room."""

    room: Room
    point: tuple[float, float]


def spot(asked: Asked, limit: float, job: Job) -> _Spot | None:
    """The nearest place in the alarm's room, or in one open to it, that keeps clear of everything."""
    room = asked.alarm.where.room
    if room is None:
        return None
    limits = {
        Nuisance.COOKING: PHOTOELECTRIC,
        Nuisance.BATH: CLEAR,
        Nuisance.FAN: CLEAR + WIDEST_FAN / 2,
        Nuisance.REGISTER: CLEAR,
    }
    limits[asked.near.source.kind] = max(limits[asked.near.source.kind], limit)
    sources = sources_near(job.survey, asked.alarm)
    for each in (room, *open_to(job.survey, room.id)):
        point = clear_spot(each, sources, limits, asked.alarm.where.point)
        if point is not None:
            return _Spot(each, point)
    return None


def moved(asked: Asked, at: _Spot | None, job: Job) -> Remedy:
    """The remedy that moves the alarm."""
    if at is None:
        return Remedy(
            "Use a photoelectric alarm with a silencing switch as far away as the room allows, and ask the authority."
        )
    x, y = (shown(inches(each)) for each in at.point)
    words = f"Move the alarm in {name_of(at.room)}, for instance to x {x}, y {y} of the drawing; that place is clear."
    place = place_of(job.survey, asked.alarm.device)
    if not isinstance(place, RoomPlace) or at.room is not asked.alarm.where.room or not _is_flat(at.room, job):
        return Remedy(words)
    return Remedy(words, (state(place, "point", [written(inches(each)) for each in at.point]),))


def remedies_of(asked: Asked, at: _Spot | None, job: Job) -> tuple[Remedy, ...]:
    """Move it; or where another way of sensing would be far enough, change it."""
    alarm, elsewhere = asked.alarm.device, moved(asked, at, job)
    enough = SILENCED if is_struck(job) else PHOTOELECTRIC
    if asked.near.source.kind is not Nuisance.COOKING or not reaches(asked.away, enough):
        return (elsewhere,)
    other = Remedy("Use a photoelectric alarm.", (state(alarm, "sensing", Sensing.PHOTOELECTRIC.value),))
    return (other, elsewhere)


def is_struck(job: Job) -> bool:
    """Whether the residential code in force has struck its distances to cooking."""
    return job.plan.basis.knows("residential_code") and int(job.plan.basis.residential_code) >= STRUCK_SINCE


def _is_flat(room: Room, job: Job) -> bool:
    """On a sloped ceiling the height changes with the place, and a patch would have to guess it."""
    try:
        return not ceiling_of(job.survey, room).knows("profile")
    except UnknownFact:  # unknown: the patch states a place on the floor plan alone, and the height as it is
        return True
