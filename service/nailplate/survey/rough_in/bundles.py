"""Which cables are bundled as drawn: those that lie together, without spacing, for longer than the code lets pass.

The code gives no figure for a spacing. Cables drawn on one line, or no farther apart than they are wide, touch; with an inch from
center to center there is at least half an inch of air between 14, 12 and 10 AWG cables (common practice). What lies between the two
is counted by the strict reading and not by the literal one.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from nailplate.plan import Cable, Segment
from nailplate.plan.words import How
from nailplate.survey.index import Survey
from nailplate.survey.rough_in.runs import Run, run_at, runs_of
from nailplate.survey.rough_in.side_by_side import Beside, beside, extent_of
from nailplate.units import Inches, reaches, within

SPACED: Final = Inches(1.0)
TOUCHING: Final = Inches(0.5)
"""Inches from center to center; the widest NM-B cables of 14 to 10 AWG are about 1/2 in wide (one manufacturer.s sheet)."""
_ONE_STUD: Final = 24.0
"""Inches: a run this long crosses a stud wherever they stand, at the widest usual spacing (common practice)."""


@dataclass(frozen=True, slots=True)
class DrawnBundle:
    """Cables that lie together, in the document's order, and for how long along the cable that was asked about (inches)."""

    cables: tuple[Cable, ...]
    start: float
    end: float

    @property
    def length(self) -> Inches:
        """How long all of them lie together."""
        return Inches(self.end - self.start)


def drawn_bundles(survey: Survey, cable: Cable, *, strict: bool = True) -> tuple[DrawnBundle, ...]:
    """The bundles longer than the code lets pass that a cable is drawn in, by one reading of what spacing is; none inside a larger one."""
    return survey.once(_bundles, cable.id, SPACED if strict else TOUCHING)


def drawn_bundle(survey: Survey, segment: Segment, *, strict: bool) -> DrawnBundle | None:
    """The largest of them that the stretch is in."""
    run = run_at(survey, segment)
    extent = extent_of(survey, run)
    if extent is None:
        return None
    every = drawn_bundles(survey, run.cable, strict=strict)
    held = [each for each in every if min(each.end, extent[1]) - max(each.start, extent[0]) > 0]
    return max(held, key=lambda each: (len(each.cables), each.length), default=None)


def runs_along(survey: Survey, cable: Cable, start: float, end: float) -> Iterator[Run]:
    """The runs of a cable that come between two distances along its route."""
    for run in runs_of(survey, cable):
        extent = extent_of(survey, run)
        if extent is not None and min(end, extent[1]) > max(start, extent[0]):
            yield run


def in_one_hole(survey: Survey, segment: Segment) -> tuple[Cable, ...]:
    """The cables that pass the stretch's bored holes, or the plate that it goes through, with it; its own among them."""
    run = run_at(survey, segment)
    extent = extent_of(survey, run)
    if extent is None:
        return (run.cable,)
    others = [
        each
        for each in beside(survey, run.cable, SPACED)
        if _through_one_stud(run, each, extent) or _through_one_plate(survey, run, each, extent)
    ]
    names = {run.cable.id, *(each.other.id for each in others)}
    return tuple(cable for name, cable in survey.plan.cables.items() if name in names) if others else (run.cable,)


def _through_one_stud(run: Run, other: Beside, extent: tuple[float, float]) -> bool:
    if run.segment.how not in (How.BORED, How.NOTCH):
        return False
    framing = run.wall.framing if run.wall is not None and run.wall.knows("framing") else None
    spacing = framing.spacing if framing is not None and framing.knows("spacing") else _ONE_STUD
    return reaches(min(other.end, extent[1]) - max(other.start, extent[0]), spacing)


def _through_one_plate(survey: Survey, run: Run, other: Beside, extent: tuple[float, float]) -> bool:
    """Where a run up a wall passes its bottom or top plate."""
    if run.wall is None or not run.upright:
        return False
    begin, low, high = _rise(run)
    plates = [0.0, *([float(run.wall.height)] if run.wall.knows("height") else [])]
    crossed = [extent[0] + abs(plate - begin) for plate in plates if low < plate < high]
    return any(other.start < at < other.end for at in crossed)


def _rise(run: Run) -> tuple[float, float, float]:
    heights = [point[2] for point in run.points]
    return heights[0], min(heights), max(heights)


def _bundles(survey: Survey, cable_id: str, spacing: float) -> tuple[DrawnBundle, ...]:
    cable = survey.plan.cables[cable_id]
    apart = survey.inches("bundled_cables_apart")
    near = [each for each in beside(survey, cable, spacing) if not within(each.length, apart)]
    found = [each for each in _windows(near) if not within(each.end - each.start, apart)]
    largest = [each for each in found if not any(_inside(each, other) for other in found)]
    order = survey.once(_order)
    return tuple(
        DrawnBundle(
            tuple(sorted((cable, *(one.other for one in each.near)), key=lambda one: order[one.id])), each.start, each.end
        )
        for each in largest
    )


def _order(survey: Survey) -> Mapping[str, int]:
    return {name: place for place, name in enumerate(survey.plan.cables)}


@dataclass(frozen=True, slots=True)
class _Window:
    """Others that all lie beside a cable from ``start`` to ``end``."""

    near: tuple[Beside, ...]
    start: float
    end: float


def _windows(near: list[Beside]) -> Iterator[_Window]:
    """For each place where another cable begins, and each where one leaves: those that stay together longest."""
    seen: set[frozenset[str]] = set()
    for start in sorted({each.start for each in near}):
        held = sorted((each for each in near if each.start <= start < each.end), key=lambda each: each.end)
        for place, first_to_leave in enumerate(held):
            if place and first_to_leave.end == held[place - 1].end:
                continue  # all that leave together are in the window of the first of them
            group = tuple(held[place:])
            names = frozenset(each.other.id for each in group)
            if names not in seen:
                seen.add(names)
                yield _Window(group, max(each.start for each in group), first_to_leave.end)


def _inside(window: _Window, other: _Window) -> bool:
    """Whether all its cables lie together in a larger group."""
    own = {each.other.id for each in window.near}
    return len(other.near) > len(window.near) and own < {each.other.id for each in other.near}
