"""How near low-voltage cable comes to power cable: as stated, else as drawn in the same wall or over the same level."""

import math
from itertools import pairwise

from nailplate.calc import geometry
from nailplate.plan import UnknownFact
from nailplate.plan.words import CableType
from nailplate.survey.index import Survey
from nailplate.survey.rough_in.runs import Point3, Run, elevated, runs
from nailplate.units import Inches

NEAR = 12.0
"""Inches around a run in which others are looked for."""
CROSSING = 0.5
"""A run that crosses another at more than this share of a right angle meets it at one place only, and is let be."""


def low_voltage_gap(survey: Survey, run: Run) -> Inches | None:
    """The least distance that is stated, or drawn alongside; None where no power cable runs beside it within a foot.

    Raises UnknownFact where the run is not drawn in space and states no distance.
    """
    if run.segment.knows("low_voltage_distance"):
        return run.segment.low_voltage_distance
    mine = elevated(survey, run)
    if not mine:
        raise UnknownFact(run.segment.where("low_voltage_distance"))
    box = geometry.grown(geometry.bounding_box([point[:2] for point in mine]), NEAR)
    gaps = [gap for other in survey.once(_power_grid).near(box) if (gap := _beside(mine, elevated(survey, other))) is not None]
    return Inches(min(gaps)) if gaps else None


def _power_grid(survey: Survey) -> geometry.Grid[Run]:
    power = [run for run in runs(survey) if not _is_limited(run) and elevated(survey, run)]
    return geometry.Grid((geometry.bounding_box([p[:2] for p in run.points]), run) for run in power)


def _is_limited(run: Run) -> bool:
    limited = run.cable.knows("low_voltage") and run.cable.low_voltage
    return limited or (run.cable.knows("type") and run.cable.type in (CableType.CORD, CableType.RACEWAY))


def _beside(mine: tuple[Point3, ...], other: tuple[Point3, ...]) -> float | None:
    gaps = [gap for one in pairwise(mine) for two in pairwise(other) if (gap := _parallel_gap(one, two)) is not None]
    return min(gaps, default=None)


def _parallel_gap(one: tuple[Point3, Point3], two: tuple[Point3, Point3]) -> float | None:
    """The distance between two stretches that run side by side for some way; None where they cross or only meet end to end."""
    along, length = _direction(one)
    across, other = _direction(two)
    if not length or not other or abs(sum(a * b for a, b in zip(along, across, strict=True))) < 1 - CROSSING:
        return None
    places = sorted(sum((p - o) * a for p, o, a in zip(point, one[0], along, strict=True)) for point in two)
    if min(length, places[1]) - max(0.0, places[0]) <= geometry.DUST:
        return None
    offset = [p - o for p, o in zip(two[0], one[0], strict=True)]
    on_line = sum(a * b for a, b in zip(offset, along, strict=True))
    return math.dist(offset, [on_line * a for a in along])


def _direction(line: tuple[Point3, Point3]) -> tuple[tuple[float, ...], float]:
    length = math.dist(*line)
    return (tuple((b - a) / length for a, b in zip(*line, strict=True)) if length else (0.0, 0.0, 0.0)), length
