"""Holes in the plates of a wall: where cables that go up or down in it leave it for the ceiling or the floor."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Wall
from nailplate.plan.words import How
from nailplate.sheets.drawing.wall_face import height_of_wall
from nailplate.sheets.drill_holes import lines_in
from nailplate.sheets.runs_told import members_crossed, runs_by_wall
from nailplate.survey.index import Survey
from nailplate.survey.rough_in import Run

TOP: Final = "top"
BOTTOM: Final = "bottom"
_SIXTEENTHS: Final = 16
_PLAY: Final = 0.5
"""Inches by which a run has to go on past a plate's line to go through it."""


@dataclass(frozen=True, slots=True)
class PlateHole:
    """A place in a plate and the runs that go through it there, a hole for each cable (IRC R602.6.1 limits them)."""

    plate: str
    along: float
    across: float
    """Inches off the wall's center line, positive toward its left side."""
    runs: tuple[Run, ...]


def plate_holes(survey: Survey, wall: Wall, runs: list[Run]) -> list[PlateHole]:
    """The holes in a wall's plates, the top plates first, along the wall."""
    at: dict[tuple[bool, int, int], list[Run]] = {}
    for run in runs:
        for plate in plates_passed(survey, wall, run):
            along, across = (round(each * _SIXTEENTHS) for each in (run.on_wall[0][0], _across(wall, run)))
            at.setdefault((plate == BOTTOM, along, across), []).append(run)
    return [
        PlateHole(BOTTOM if key[0] else TOP, here[0].on_wall[0][0], key[2] / _SIXTEENTHS, tuple(here))
        for key, here in sorted(at.items(), key=lambda each: each[0])
    ]


def _across(wall: Wall, run: Run) -> float:
    """How far a run is off the center line of its wall, inches, positive toward the left side."""
    (x, y), (u, v), (px, py, _) = wall.start, wall.end, run.points[0]
    return ((u - x) * (py - y) - (v - y) * (px - x)) / geometry.length_of((wall.start, wall.end))


def plates_passed(survey: Survey, wall: Wall, run: Run) -> Iterator[str]:
    """Which plates an upright run goes through: past the wall's height the top ones, below the floor the bottom one."""
    if not run.upright or not run.on_wall:
        return
    heights = [height for _, height in run.on_wall]
    high = height_of_wall(survey, wall)
    if high is not None and min(heights) < high and max(heights) > high + _PLAY:
        yield TOP
    if min(heights) < -_PLAY and max(heights) > 0:
        yield BOTTOM


def holes_counted(survey: Survey) -> int:
    """Holes in studs, by stud and line; in joists, by run and joist; in plates, by cable."""
    found = 0
    for wall_id, runs in runs_by_wall(survey).items():
        wall = survey.plan.walls.get(wall_id)
        level = [run for run in runs if wall and run.segment.how is How.BORED and run.upright is False and run.on_wall]
        passed = {run.id: len(list(plates_passed(survey, wall, run))) for run in runs} if wall else {}
        counted = {run.id for run in level} | {each for each, number in passed.items() if number}
        found += sum(len(line.holes) for line in lines_in(level)) + sum(passed.values())
        found += sum(members_crossed(run) for run in runs if run.segment.how is How.BORED and run.id not in counted)
    return found
