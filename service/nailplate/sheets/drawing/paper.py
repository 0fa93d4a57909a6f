"""Paper, architectural scales, and the way from a plan's inches (y up) to a sheet's points (y down)."""

from dataclasses import dataclass
from typing import Final

from nailplate.plan.words import LengthUnit
from nailplate.sheets.drawing.svg import Point

POINTS: Final = 72.0
"""A drawing unit is a point, 1/72 in."""
_TENFOLD: Final = (1, 2, 5)


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, lying; inches."""

    name: str
    width: float
    height: float


PAPERS: Final = {each.name: each for each in (Paper("letter", 11.0, 8.5), Paper("tabloid", 17.0, 11.0))}


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale as drawings state it, and what it makes of an inch of the house: points."""

    words: str
    points: float


_PARTS: Final = (("3/4", 0.75), ("1/2", 0.5), ("3/8", 0.375), ("1/4", 0.25), ("3/16", 0.1875), ("1/8", 0.125), ("3/32", 0.09375), ("1/16", 0.0625))  # fmt: skip
ARCHITECTURAL: Final = tuple(Scale(f'{name}" = 1\'-0"', part / 12 * POINTS) for name, part in _PARTS)
METRIC: Final = tuple(Scale(f"1:{ratio}", POINTS / ratio) for ratio in (20, 25, 50, 75, 100, 125, 200, 250))


def is_metric(unit: LengthUnit) -> bool:
    """Whether a plan is drawn in metric units."""
    return unit in (LengthUnit.MM, LengthUnit.CM, LengthUnit.M)


def fitting_scale(extent: Point, room: Point, *, metric: bool) -> Scale:
    """The largest usual scale at which an extent (inches) fits a room on the paper (points); beyond them 1 in = 20 ft and so on."""
    usual = METRIC if metric else ARCHITECTURAL
    for scale in (*usual, *_small(metric=metric)):
        if extent[0] * scale.points <= room[0] and extent[1] * scale.points <= room[1]:
            return scale
    raise ValueError(f"{extent} fits no paper")


def _small(*, metric: bool) -> tuple[Scale, ...]:
    steps = [step * 10**power for power in range(1, 10) for step in _TENFOLD][1:]
    if metric:
        return tuple(Scale(f"1:{step * 25}", POINTS / (step * 25)) for step in steps)
    return tuple(Scale(f"1 in = {step} ft", POINTS / (12 * step)) for step in steps)


@dataclass(frozen=True, slots=True)
class View:
    """From the plane of a level, or of a wall's face, onto the sheet. ``origin`` of the plan lands on ``at``; y turns over.

    ``mirrored`` turns left and right over too, for a wall that is seen from its left side.
    """

    at: Point
    origin: Point
    points: float
    mirrored: bool = False

    def __call__(self, point: Point) -> Point:
        """Where a place of the plan lies on the sheet."""
        across = (point[0] - self.origin[0]) * self.points
        return (self.at[0] + (-across if self.mirrored else across), self.at[1] - (point[1] - self.origin[1]) * self.points)

    def all(self, points: "tuple[Point, ...] | list[Point]") -> list[Point]:
        """Where several places lie."""
        return [self(each) for each in points]
