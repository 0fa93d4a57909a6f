"""Wall counter spaces in which a receptacle is missing, in every reading of what the plan and the code leave open.

Contested are a receptacle on a side wall (does it serve the back line, around the corner?) and one in the top or under a wall
cabinet (is the distance measured along the wall line, or straight from the outlet to it?).
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.calc.spacing import coverage
from nailplate.codes.tables import RunLimits
from nailplate.plan import Pointer
from nailplate.survey.index import Survey
from nailplate.survey.receptacles import (
    CounterSpace,
    Judged,
    Longest,
    Serving,
    counter_spaces,
    longest_way,
    receptacles_in,
    serving,
)
from nailplate.units import Inches, reaches


@dataclass(frozen=True, slots=True)
class JudgedCounter:
    """One wall counter space: whether it is served as drawn, served in one reading only, or short.

    ``surely`` counts what surely serves it, read strictly; ``leniently`` the same read leniently; ``at_best`` all that may.
    """

    found: CounterSpace
    receptacles: tuple[Serving, ...]
    surely: tuple[geometry.Interval, ...]
    leniently: tuple[geometry.Interval, ...]
    at_best: tuple[geometry.Interval, ...]
    unplaced: tuple[Pointer, ...]

    @property
    def needs(self) -> tuple[Pointer, ...]:
        """The facts left out that decide about it."""
        each_of = (need for each in self.receptacles for need in each.needs)
        counter = self.found.counter
        top = () if counter.knows("has_top") else (counter.where("has_top"),)
        return tuple(dict.fromkeys((*self.found.needs, *each_of, *self.unplaced, *top)))


def judged_counters(survey: Survey, room_id: str, limits: RunLimits) -> tuple[JudgedCounter, ...]:
    """Every wall counter space of a room that is long enough to be one, judged."""
    spaces = survey.once(counter_spaces, room_id)
    return tuple(_judged(survey, room_id, each, limits) for each in spaces if reaches(each.space.length, limits.minimum))


def as_run(judged: JudgedCounter, limits: RunLimits, *, at_wall: bool = False) -> Judged:
    """The space with the receptacles that surely serve it, those on side walls left out; ``at_wall``: those in the top too.

    Receptacles that are added to the space so served serve it in every reading.
    """
    space = judged.found.space
    counted = [each for each in judged.receptacles if not each.on_side_wall and not each.needs and not (at_wall and each.off)]
    places = tuple(min(max(each.along, 0.0), space.length) for each in counted)
    found = coverage(Inches(space.length), [Inches(place) for place in places], limits)
    return Judged(space, places, tuple(each.device for each in counted), found)


def worst_way(judged: JudgedCounter, limits: RunLimits) -> Longest:
    """The way along the space that is longest for what it may be."""
    run = as_run(judged, limits)
    return longest_way(run, run.space.stretches[0].room, limits)


def _judged(survey: Survey, room_id: str, found: CounterSpace, limits: RunLimits) -> JudgedCounter:
    room = survey.plan.rooms[room_id]
    receptacles = serving(survey, room, found)
    sure = [each for each in receptacles if not each.needs]
    length = found.space.length
    return JudgedCounter(
        found,
        receptacles,
        _gaps(length, sure, limits, lenient=False),
        _gaps(length, sure, limits, lenient=True),
        _gaps(length, receptacles, limits, lenient=True),
        receptacles_in(survey, room).unplaced,
    )


def _gaps(length: float, receptacles: Iterable[Serving], limits: RunLimits, *, lenient: bool) -> tuple[geometry.Interval, ...]:
    served = [reached for each in receptacles if (reached := _reached(each, length, limits, lenient))]
    return geometry.subtracted([(0.0, length)], served)


def _reached(each: Serving, length: float, limits: RunLimits, lenient: bool) -> geometry.Interval | None:
    if each.on_side_wall:
        left = limits.reach - each.off
        if not lenient or left <= 0:
            return None
        return (0.0, left) if each.along < length / 2 else (length - left, length)
    off = 0.0 if lenient else each.off
    if off >= limits.reach:
        return None
    reach = math.sqrt(limits.reach**2 - off**2)
    return (each.along - reach, each.along + reach)
