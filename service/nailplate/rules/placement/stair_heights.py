"""How high the steps of a stair are over a point of its outline: they rise evenly from where one steps on."""

import math
from collections.abc import Mapping, Sequence

from nailplate.calc import geometry
from nailplate.plan import Stair, UnknownFact
from nailplate.survey.index import Survey


def stairs_from(survey: Survey, level: str) -> Sequence[Stair]:
    """The stairs that rise from a level or come up onto it."""
    return survey.once(_by_level).get(level, ())


def _by_level(survey: Survey) -> Mapping[str, list[Stair]]:
    found: dict[str, list[Stair]] = {}
    for stair in survey.plan.stairs.values():
        for level in dict.fromkeys((stair.lower, stair.upper)):
            found.setdefault(level, []).append(stair)
    return found


def steps_at(survey: Survey, stair: Stair, point: geometry.Point) -> float:
    """The height of the steps over the lower floor at a point; taken as rising straight away from the stair's foot.

    Raises UnknownFact where the plan does not say where one steps on, or how far apart the two floors are.
    """
    foot = next((each for each in stair.entries if each.level == stair.lower), None)
    if foot is None:
        raise UnknownFact(stair.where("entries"))
    levels = survey.plan.levels
    rise = levels[stair.upper].elevation - levels[stair.lower].elevation
    run = max(geometry.distance(foot.point, corner) for corner in stair.outline)
    return rise * min(1.0, geometry.distance(foot.point, point) / run) if run > 0 else math.nan
