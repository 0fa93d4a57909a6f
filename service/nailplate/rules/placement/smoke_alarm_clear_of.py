"""A smoke alarm keeps its distance from cooking, from the door of a bathroom with a tub or shower, from fans and registers.

Why: an alarm that nuisance-alarms at every meal and shower is taken down, and a fan or register blows the smoke away from it.

Fix: move it, or use a photoelectric alarm; in a small house the distance yields before a required alarm is left out,
never the alarm.

Trap: distances go to the door of the bathroom, not to its tub. The residential code of 2024 strikes its distances to cooking;
NFPA 72 keeps its own. Where only a wall lies between, the way around it is longer, and that is read two ways.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from nailplate.plan import Device, Pointer, Room, RoomPlace, UnknownFact
from nailplate.plan.words import DeviceKind, Sensing
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
    state,
)
from nailplate.rules.placement.alarm_clearances import (
    Near,
    Nuisance,
    clear_spot,
    is_around_a_wall,
    sources_near,
    unplaced_fans,
    unplaced_sources,
)
from nailplate.survey import place_of, standing
from nailplate.survey.lights import Placed, open_to
from nailplate.survey.names import name_of
from nailplate.survey.space import ceiling_of
from nailplate.units import Inches, inches, reaches, shown, written

PHOTOELECTRIC = Inches(72.0)
SILENCED = Inches(120.0)
IONIZATION = Inches(240.0)
"""The residential code until its edition of 2021: 6 ft, 10 ft and 20 ft by what the alarm senses with. NFPA 72: 10 ft, and never nearer than 6 ft."""
CLEAR = Inches(36.0)
"""3 ft from a bathroom's door (IRC), and from blade tips and registers (NFPA 72 and makers' sheets)."""
WIDEST_FAN = Inches(84.0)
"""The span of the widest ceiling fans for houses (from memory); a fan whose span is not said is asked about within reach of it."""
_STRUCK_SINCE = 2024
_MARK_NAMED = 2021
"""The edition of the IRC that lets an alarm marked as helping to reduce cooking nuisance alarms come to 6 ft."""


@dataclass(frozen=True, slots=True)
class _Asked:
    """One alarm and one thing that it is near, the distance asked for, and how the thing is called."""

    alarm: Placed
    near: Near
    away: float
    limit: float
    of: str


@rule(
    id="smoke-alarm-clear-of",
    over=Device,
    severity=Severity.CODE,
    subjects=(Subject.ALARMS,),
    cites={
        "irc-2018": Cite(
            "R314.3, R314.3.1",
            note="https://www.thebuildingcodeforum.com/forum/threads/36859 (cooking), "
            "https://www.inspect2code.com/2015-residential-code-update-smoke-alarms/ (bathrooms); NFPA 72, edition of 2013: "
            "https://www.ecmag.com/magazine/articles/article-detail/residential-residential-smoke-detection",
        ),
        "irc-2021": Cite(
            "R314.3, R314.3.1",
            note="https://www.thebuildingcodeforum.com/forum/threads/36859 (the mark against nuisance alarms)",
        ),
        "irc-2024": Cite(
            "R310.3",
            note="https://www.thebuildingcodeforum.com/forum/threads/36859 (distances to cooking struck); number from memory",
        ),
    },
    changes={
        "irc-2021": "An alarm marked as helping to reduce cooking nuisance alarms may come as near as 6 ft.",
        "irc-2024": "The distances to cooking are struck; what NFPA 72 and the alarm's instructions require remains.",
    },
    hazards=(Hazard.UNDETECTED_SMOKE,),
    dwelling_only=True,
)
def smoke_alarm_clear_of(alarm: Device, job: Job) -> Iterator[Outcome]:
    """Each thing that one smoke alarm keeps clear of; the nearest of each kind."""
    if alarm.kind is not DeviceKind.SMOKE_ALARM or (alarm.knows("sensing") and alarm.sensing is Sensing.HEAT):
        yield NotConcerned()
        return
    placed = Placed(alarm, standing(job.survey, alarm))
    every = sources_near(job.survey, placed)
    for kind in Nuisance:
        near = next((each for each in every if each.source.kind is kind), None)
        try:
            yield from _JUDGES[kind](placed, near, job)
        except UnknownFact as unknown:
            yield Undetermined((unknown.pointer,), facet=kind.value)


# Cooking


def _cooking(alarm: Placed, near: Near | None, job: Job) -> Iterator[Outcome]:
    unplaced = unplaced_sources(job.survey, alarm.where.level)
    if near is None:
        yield Undetermined(unplaced, facet="cooking") if unplaced else Pass(facet="cooking")
        return
    asked = _Asked(alarm, near, near.straight, PHOTOELECTRIC, name_of(near.source.part))
    if not _is_far_enough(asked) and near.source.needs:
        yield Undetermined(near.source.needs, facet="cooking")
    else:
        yield _from_cooking(asked, job)


def _is_far_enough(asked: _Asked) -> bool:
    """Whether it is beyond what any edition asks of this alarm."""
    return reaches(asked.away, max(_by_sensing(asked.alarm.device, asked.away), SILENCED))


def _by_sensing(alarm: Device, away: float) -> float:
    """The distance by what it senses with. Asks for no more than the distance at hand makes it need."""
    if reaches(away, IONIZATION) or not reaches(away, PHOTOELECTRIC):
        return IONIZATION if reaches(away, IONIZATION) else PHOTOELECTRIC
    if alarm.sensing is Sensing.PHOTOELECTRIC:
        return PHOTOELECTRIC
    return SILENCED if not reaches(away, SILENCED) or alarm.silencing else IONIZATION


def _is_marked(alarm: Device, job: Job) -> bool:
    """Whether its mark lets it come as near as a photoelectric one, under the one edition that names the mark."""
    return int(job.plan.basis.residential_code) == _MARK_NAMED and alarm.nuisance_marked


def _from_cooking(asked: _Asked, job: Job) -> Outcome:
    needed = _by_sensing(asked.alarm.device, asked.away)
    if _is_far_enough(asked):
        return Pass(inches(asked.away), inches(needed), "cooking")
    if not reaches(asked.away, PHOTOELECTRIC):
        return _too_near(asked, PHOTOELECTRIC, job)
    if int(job.plan.basis.residential_code) >= _STRUCK_SINCE:
        return _by_nfpa(asked, needed, job)
    if reaches(asked.away, needed):
        return Pass(inches(asked.away), inches(needed), "cooking")
    if _is_marked(asked.alarm.device, job):
        return Pass(inches(asked.away), inches(PHOTOELECTRIC), "cooking")
    return _too_near(asked, needed, job)


def _by_nfpa(asked: _Asked, needed: float, job: Job) -> Outcome:
    limit = max(needed, SILENCED)
    if is_around_a_wall(job.survey, asked.alarm, asked.near, limit):
        return Pass(inches(asked.away), inches(limit), "cooking")  # measured along the way that smoke takes
    at = _spot(asked, limit, job)
    why = "" if at else " No place in its room is that far away, so that there the distance yields to the alarm."
    return Judgement(
        f"{_said(asked)}; NFPA 72 keeps {shown(inches(limit))} for such an alarm, the residential code in force no figure.{why} "
        "Ask the authority having jurisdiction.",
        readings=_nfpa_readings(asked, elsewhere=at is not None),
        measured=inches(asked.away),
        limit=inches(limit),
        remedies=_remedies(asked, at, job),
        facet="cooking",
        related=(asked.near.source.part.pointer,),
    )


def _nfpa_readings(asked: _Asked, *, elsewhere: bool) -> tuple[Reading, Reading]:
    if reaches(asked.away, SILENCED):
        return (
            Reading("The residential code sets no distance, and the alarm's instructions allow this place.", "pass"),
            Reading("NFPA 72 holds: from 10 to 20 ft an alarm is photoelectric or can be silenced.", "violation"),
        )
    if elsewhere:
        return (
            Reading("The residential code sets no distance, and the alarm's instructions allow this place.", "pass"),
            Reading("NFPA 72 holds, and a place farther away is at hand.", "violation"),
        )
    return (
        Reading("NFPA 72 lets a photoelectric or silenced alarm come within 10 ft where nothing else fits.", "pass"),
        Reading("The alarm is of another kind, or another place would do.", "violation"),
    )


def _too_near(asked: _Asked, limit: float, job: Job) -> Outcome:
    at_limit = _Asked(asked.alarm, asked.near, asked.away, limit, asked.of)
    return _within(at_limit, "cooking", job, never_yields=_is_struck(job))


# The bathroom's door


def _bath(alarm: Placed, near: Near | None, job: Job) -> Iterator[Outcome]:
    if near is None or reaches(near.straight, CLEAR):
        yield Pass(inches(near.straight), inches(CLEAR), "bath") if near else Pass(facet="bath")
    elif near.source.needs:
        yield Undetermined(near.source.needs, facet="bath")
    else:
        door = f"the door of {name_of(near.source.part)}"
        yield _within(_Asked(alarm, near, near.straight, CLEAR, door), "bath", job)


def _within(asked: _Asked, facet: str, job: Job, *, never_yields: bool = False) -> Outcome:
    """Nearer than the residential code allows, unless that would leave a required alarm no place."""
    message = f"{_said(asked)}; {shown(inches(asked.limit))} is the least."
    at = _spot(asked, SILENCED if never_yields else asked.limit, job)
    measured, limit, remedies = inches(asked.away), inches(asked.limit), _remedies(asked, at, job)
    related: tuple[Pointer, ...] = (asked.near.source.part.pointer,)
    walled = is_around_a_wall(job.survey, asked.alarm, asked.near, asked.limit)
    if not walled and (at or never_yields):
        return Violation(message, measured, limit, remedies, facet=facet, related=related)
    why = "" if walled else " No place in its room is clear, so that the distance yields if an alarm is required there."
    return Judgement(
        f"{message}{why} Ask the authority having jurisdiction.",
        readings=_ACROSS_A_WALL if walled else _YIELDS,
        measured=measured,
        limit=limit,
        remedies=remedies,
        facet=facet,
        related=related,
    )


_ACROSS_A_WALL = (
    Reading("A wall is between them, and the way around it is longer than that.", "pass"),
    Reading("The distance is measured across, whatever is between.", "violation"),
)
_YIELDS = (
    Reading("An alarm is required here, and the distance yields.", "pass"),
    Reading("None is required here, or another place would do.", "violation"),
)


# Fans and registers


def _fan(alarm: Placed, near: Near | None, job: Job) -> Iterator[Outcome]:
    if near is None or reaches(near.straight, CLEAR + WIDEST_FAN / 2):
        unplaced = unplaced_fans(job.survey)
        yield Undetermined(unplaced, facet="fan") if unplaced else Pass(facet="fan")
        return
    fan = near.source.part
    if reaches(near.straight, CLEAR) and isinstance(fan, Device):
        asked = _Asked(alarm, near, near.straight - fan.blade_span / 2, CLEAR, f"the blades of {name_of(fan)}")
    else:
        asked = _Asked(alarm, near, near.straight, CLEAR, f"the middle of {name_of(fan)}")
    yield _from_air(asked, "fan", job)


def _register(alarm: Placed, near: Near | None, job: Job) -> Iterator[Outcome]:
    if near is None:
        yield Pass(facet="register")
    else:
        yield _from_air(_Asked(alarm, near, near.straight, CLEAR, name_of(near.source.part)), "register", job)


def _from_air(asked: _Asked, facet: str, job: Job) -> Outcome:
    if reaches(asked.away, CLEAR):
        return Pass(inches(asked.away), inches(CLEAR), facet)
    at = _spot(asked, CLEAR, job)
    return Judgement(
        f"{_said(asked)}; NFPA 72 and makers' instructions keep {shown(inches(CLEAR))}. Ask the authority having jurisdiction.",
        readings=(
            Reading("NFPA 72 and the alarm's instructions are part of how it is installed.", "violation"),
            Reading("The residential code itself names no such distance.", "pass"),
        ),
        measured=inches(max(asked.away, 0.0)),
        limit=inches(CLEAR),
        remedies=(_moved(asked, at, job),),
        facet=facet,
        related=(asked.near.source.part.pointer,),
    )


_JUDGES = {Nuisance.COOKING: _cooking, Nuisance.BATH: _bath, Nuisance.FAN: _fan, Nuisance.REGISTER: _register}


# Words, and where it could go


def _said(asked: _Asked) -> str:
    return f"{name_of(asked.alarm.device)} is {shown(inches(max(asked.away, 0.0)))} from {asked.of}"


@dataclass(frozen=True, slots=True)
class _Spot:
    """A clear place in a room."""

    room: Room
    point: tuple[float, float]


def _spot(asked: _Asked, limit: float, job: Job) -> _Spot | None:
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


def _moved(asked: _Asked, at: _Spot | None, job: Job) -> Remedy:
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


def _remedies(asked: _Asked, at: _Spot | None, job: Job) -> tuple[Remedy, ...]:
    """Move it; or where another way of sensing would be far enough, change it."""
    alarm, moved = asked.alarm.device, _moved(asked, at, job)
    enough = SILENCED if _is_struck(job) else PHOTOELECTRIC
    if asked.near.source.kind is not Nuisance.COOKING or not reaches(asked.away, enough):
        return (moved,)
    other = Remedy("Use a photoelectric alarm.", (state(alarm, "sensing", Sensing.PHOTOELECTRIC.value),))
    return (other, moved)


def _is_struck(job: Job) -> bool:
    return job.plan.basis.knows("residential_code") and int(job.plan.basis.residential_code) >= _STRUCK_SINCE


def _is_flat(room: Room, job: Job) -> bool:
    """On a sloped ceiling the height changes with the place, and a patch would have to guess it."""
    try:
        return not ceiling_of(job.survey, room).knows("profile")
    except UnknownFact:  # unknown: the patch states a place on the floor plan alone, and the height as it is
        return True
