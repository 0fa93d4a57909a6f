"""Receptacle spacing along one unbroken run of wall or counter: is every point near an outlet, and where is one missing."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from nailplate.calc.steps import CalculationError, Step
from nailplate.calc.work import spend
from nailplate.codes import Edition
from nailplate.codes.tables import RunLimits
from nailplate.units import Inches, Measure, Unit, count, inches, reaches, within


class RunKind(StrEnum):
    """What the run is."""

    WALL = "wall"
    COUNTER = "counter"


@dataclass(frozen=True, slots=True)
class Gap:
    """A stretch of the run whose points are too far from every outlet."""

    start: Inches
    end: Inches


@dataclass(frozen=True, slots=True, kw_only=True)
class Coverage:
    """How many outlets the run needs at least, where they do not reach, and places that, added, make them reach."""

    required: int
    covered: bool
    gaps: tuple[Gap, ...]
    suggested: tuple[Inches, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RunSpacing:
    """The whole calculation with its steps."""

    required: int
    covered: bool
    gaps: tuple[Gap, ...]
    suggested: tuple[Inches, ...]
    steps: tuple[Step, ...]


def spacing(kind: RunKind, run: Inches, positions: Sequence[Inches], edition: Edition, *, closed: bool = False) -> RunSpacing:
    """The coverage of a run of ``kind``, with its steps."""
    limits = edition.spacing.wall if kind is RunKind.WALL else edition.spacing.counter
    found = coverage(run, positions, limits, closed=closed)
    return RunSpacing(
        required=found.required,
        covered=found.covered,
        gaps=found.gaps,
        suggested=found.suggested,
        steps=_steps(run, found, limits),
    )


def coverage(run: Inches, positions: Iterable[Inches], limits: RunLimits, *, closed: bool = False) -> Coverage:
    """Whether every point of ``run`` is within reach of one of ``positions``, both measured along it from its start.

    A ``closed`` run is a ring without any break, on which the end is the start.
    """
    places = _sorted_places(run, positions)
    spend(1 + len(places) + int(run / limits.reach))
    if not reaches(run, limits.minimum):
        return Coverage(required=0, covered=True, gaps=(), suggested=())
    gaps = _ring_gaps(run, places, limits.reach) if closed else _line_gaps(run, places, limits.reach)
    suggested = _ring_additions(run, places, limits.reach) if closed else _line_additions(run, places, limits.reach)
    return Coverage(
        required=_pieces(run, 2 * limits.reach),
        covered=not gaps,
        gaps=tuple(gaps),
        suggested=tuple(Inches(each) for each in sorted(suggested)),
    )


def _sorted_places(run: Inches, positions: Iterable[Inches]) -> list[float]:
    places = sorted(positions)
    if not 0 <= run < math.inf:
        raise CalculationError(f"a run of {run:g} in makes no sense")
    if any(not (reaches(each, 0) and within(each, run)) for each in places):
        raise CalculationError(
            f"an outlet lies outside its run of {run:g} in; positions are measured along the run from its start"
        )
    return [min(max(each, 0.0), run) for each in places]


def _pieces(length: float, longest: float) -> int:
    """How many pieces no longer than ``longest`` make up ``length``; float dust makes no piece of its own."""
    whole = math.floor(length / longest)
    return whole if within(length, whole * longest) else whole + 1


def _line_gaps(run: float, places: list[float], reach: float) -> list[Gap]:
    starts = [0.0, *(each + reach for each in places)]
    ends = [*(each - reach for each in places), run]
    return _open_stretches(zip(starts, ends, strict=True))


def _ring_gaps(run: float, places: list[float], reach: float) -> list[Gap]:
    if not places:
        return [Gap(Inches(0.0), Inches(run))]
    inner = [(one + reach, two - reach) for one, two in pairwise(places)]
    start, end = places[-1] + reach, places[0] - reach + run
    # The stretch over the seam is told in two parts, so that no gap ends before it starts.
    seam = [(start - run, end - run)] if reaches(start, run) else [(start, min(end, run)), (0.0, end - run)]
    return sorted(_open_stretches([*inner, *seam]), key=lambda gap: gap.start)


def _open_stretches(stretches: Iterable[tuple[float, float]]) -> list[Gap]:
    return [Gap(Inches(start), Inches(end)) for start, end in stretches if not within(end, start)]


def _line_additions(run: float, places: list[float], reach: float) -> list[float]:
    if not places:
        parts = _pieces(run, 2 * reach)
        return [(index + 0.5) * run / parts for index in range(parts)]
    inner = [each for one, two in pairwise(places) for each in _between(one, two, reach)]
    return [*_to_end(places[0], reach), *inner, *(run - each for each in _to_end(run - places[-1], reach))]


def _ring_additions(run: float, places: list[float], reach: float) -> list[float]:
    if not places:
        return _line_additions(run, places, reach)
    inner = [each for one, two in pairwise(places) for each in _between(one, two, reach)]
    return [*inner, *(each % run for each in _between(places[-1], places[0] + run, reach))]


def _between(one: float, two: float, reach: float) -> list[float]:
    """Places that part the stretch between two outlets evenly into pieces of twice the reach at most."""
    parts = max(1, _pieces(two - one, 2 * reach))
    return [one + index * (two - one) / parts for index in range(1, parts)]


def _to_end(length: float, reach: float) -> list[float]:
    """Places, from the end of the run, on a stretch of ``length`` that has an outlet at its other end only."""
    number = _pieces(max(0.0, length - reach), 2 * reach)
    step = length / (number + 0.5)
    return [(index + 0.5) * step for index in range(number)]


def _steps(run: Inches, found: Coverage, limits: RunLimits) -> tuple[Step, ...]:
    steps = [
        Step("length of the run", inches(run), limits.minimum_cite, f"{limits.minimum:g} in or more needs an outlet"),
        Step("reach of an outlet to each side", inches(limits.reach), limits.cite),
        Step("outlets needed at least", count(found.required), limits.cite, "the run over twice the reach, rounded up"),
    ]
    steps += [
        Step(
            "stretch out of reach",
            Measure(gap.end - gap.start, Unit.INCH),
            limits.cite,
            f"from {gap.start:g} to {gap.end:g} in",
        )
        for gap in found.gaps
    ]
    return tuple(steps)
