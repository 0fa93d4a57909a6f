"""Where nobody drills or screws later: the bands of a wall in which cables lie, with the cables named."""

import math
from collections.abc import Iterator, Sequence
from typing import Final

from nailplate.plan import Pointer
from nailplate.sheets.called import said
from nailplate.sheets.drill_holes import ONE_LINE
from nailplate.sheets.runs_told import mark_of
from nailplate.sheets.tables import Cell
from nailplate.survey.rough_in import Run
from nailplate.units import inches

CLEAR: Final = 2.0
"""Inches to keep screws away from a cable on each side (common practice: the distance of holes from an edge, and what a hand errs)."""


def keep_out(runs: list[Run]) -> Iterator[tuple[Cell, ...]]:
    """Runs at one height, or down one stud, as bands with their margins; where nothing lies between two, they are two."""
    bands: dict[tuple[bool, int], list[Run]] = {}
    for run in runs:
        if run.on_wall and max(height for _, height in run.on_wall) + CLEAR > 0:  # below the floor nobody hangs anything
            place = run.on_wall[0][0] if run.upright else run.on_wall[0][1]
            bands.setdefault((bool(run.upright), round(place / (2 * ONE_LINE))), []).append(run)
    for (upright, _), group in sorted(bands.items(), key=lambda each: each[0]):
        yield from (_band(stretch) for stretch in stretches(group, axis=1 if upright else 0))


def stretches(group: Sequence[Run], axis: int) -> list[tuple[Run, ...]]:
    """Runs of one line in order along it, cut where no cable is."""
    found: list[list[Run]] = []
    end = -math.inf
    for run in sorted(group, key=lambda each: min(point[axis] for point in each.on_wall)):
        low, high = (pick(point[axis] for point in run.on_wall) for pick in (min, max))
        if not found or low - end > 2 * CLEAR:
            found.append([])
            end = high
        found[-1].append(run)
        end = max(end, high)
    return [tuple(each) for each in found]


def _band(runs: tuple[Run, ...]) -> tuple[Cell, ...]:
    points = [point for run in runs for point in run.on_wall]
    alongs, heights = [along for along, _ in points], [height for _, height in points]
    at = runs[0].pointer
    ends = (max(0.0, min(alongs) - CLEAR), max(alongs) + CLEAR, max(0.0, min(heights) - CLEAR), max(heights) + CLEAR)
    return (*(Cell(inches(each), at) for each in ends), cables_told(runs, at))


def cables_told(runs: tuple[Run, ...], at: Pointer) -> Cell:
    """The cables of several runs by their names, each once."""
    cables = list({run.cable.id: run for run in runs}.values())
    return said(lambda name: "; ".join(f"{name(each.cable)}{mark_of(each)}" for each in cables), at)
