"""Which runs lie in thermal insulation as drawn: those in a wall, ceiling or floor whose cavity is filled."""

from typing import Final

from nailplate.plan import Ceiling, Level, Segment
from nailplate.plan.words import Cavity, How
from nailplate.survey.index import Survey
from nailplate.survey.places import room_at
from nailplate.survey.rough_in.runs import Run, run_at
from nailplate.units import within

FILLED: Final = frozenset({Cavity.BATT, Cavity.SPRAY_FOAM, Cavity.RIGID})
_IN_THE_CAVITY: Final = frozenset({How.BORED, How.ALONG_MEMBER, How.NOTCH})
"""How a run goes through the framing itself; what runs on a surface, in a raceway or over an attic's joists may be clear of it."""
_IN_THE_FLOOR: Final = -0.5
"""Inches below the finished floor from which a run lies in the floor's framing."""


def drawn_insulation(survey: Survey, segment: Segment) -> Cavity | None:
    """What fills the cavity that a stretch of a route runs in; ``none`` is a fact, None is not known."""
    return survey.once(_insulation, segment)


def lies_in_insulation(survey: Survey, segment: Segment) -> bool | None:
    """Whether a stretch lies in insulation, by what is drawn or typed: a typed word only adds. None: neither says it."""
    stated = segment.insulation_contact if segment.knows("insulation_contact") else None
    drawn = drawn_insulation(survey, segment)
    return True if drawn in FILLED else stated if stated is not None else None if drawn is None else False


def _insulation(survey: Survey, segment: Segment) -> Cavity | None:
    run = run_at(survey, segment)
    if run.segment.how not in _IN_THE_CAVITY:
        return None
    if run.wall is not None:
        return run.wall.cavity if run.wall.knows("cavity") else None
    level = survey.plan.levels.get(run.level) if run.level is not None else None
    return _of_floor_or_ceiling(survey, run, level) if level is not None and run.points else None


def _of_floor_or_ceiling(survey: Survey, run: Run, level: Level) -> Cavity | None:
    if all(within(z, _IN_THE_FLOOR) for _, _, z in run.points):
        return level.floor_cavity if level.knows("floor_cavity") else None
    ceiling = _ceiling(survey, run, level)
    if ceiling is None or not ceiling.knows("cavity", "height"):
        return None
    return ceiling.cavity if all(not within(z, ceiling.height) for _, _, z in run.points) else None


def _ceiling(survey: Survey, run: Run, level: Level) -> Ceiling | None:
    """The ceiling of the room below the middle of the run, or else its level's. Of a slope no cavity is told by height alone."""
    x, y, _ = run.points[len(run.points) // 2]
    room = room_at(survey, level.id, (x, y))
    if room is not None and room.knows("ceiling"):
        return room.ceiling
    return level.ceiling if level.knows("ceiling") else None
