"""Lines of holes: the level bored runs of a wall put together by height, and the holes that they make stud by stud."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from nailplate.sheets.runs_told import studs_crossed
from nailplate.survey.rough_in import Run

ONE_LINE: Final = 1.0
"""Inches of height within which holes are one line, and of place within which upright cables are one stack."""


@dataclass(frozen=True, slots=True)
class HoleAt:
    """One hole: its height, its stud's place along the wall, its diameter if it is stated, and the runs in it."""

    height: float
    along: float
    diameter: float | None
    runs: tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class DrillLine:
    """The holes of a wall at one height."""

    height: float
    runs: tuple[Run, ...]
    holes: tuple[HoleAt, ...]


def lines_in(level: list[Run]) -> list[DrillLine]:
    """Level bored runs of one wall as lines of holes, the lowest first."""
    groups: list[list[Run]] = []
    for run in sorted((each for each in level if each.on_wall), key=lambda each: each.on_wall[0][1]):
        if groups and run.on_wall[0][1] - groups[-1][0].on_wall[0][1] <= ONE_LINE:
            groups[-1].append(run)
        else:
            groups.append([run])
    return [DrillLine(group[0].on_wall[0][1], tuple(group), tuple(_holes(group))) for group in groups]


def _holes(group: list[Run]) -> Iterator[HoleAt]:
    at: dict[float, list[Run]] = {}
    for run in group:
        for along in studs_crossed(run):
            at.setdefault(along, []).append(run)
    for along, runs in sorted(at.items()):
        yield HoleAt(
            group[0].on_wall[0][1], along, max((d for each in runs if (d := diameter_of(each))), default=None), tuple(runs)
        )


def diameter_of(run: Run) -> float | None:
    """The diameter of a run's holes, inches, where it is stated."""
    return run.segment.hole.diameter if run.segment.knows("hole") else None
