"""Cables side by side in one wall: down the sides of one stud, and through one line of holes."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from nailplate.calc.framing import band
from nailplate.plan import Box, BoxEnd, Panel, PanelEnd, Pointer, UnknownFact, Wall, WallPlace
from nailplate.plan.cables import End
from nailplate.plan.words import BoxFastening, How
from nailplate.survey.index import Survey
from nailplate.survey.rough_in.holes import sheath_of
from nailplate.survey.rough_in.members import depth_of
from nailplate.survey.rough_in.runs import Run, runs_in_wall
from nailplate.units import Inches

ONE_FACE: Final = 0.5
"""Inches along the wall within which runs go down one place."""
ONE_LINE: Final = 1.0
"""Inches of height within which holes are one line."""


@dataclass(frozen=True, slots=True)
class Stack:
    """Runs that go down one place of a wall at one height; ``width`` is of those whose size is known, side by side, without stackers.

    ``room`` is what the studs there hold: one side where a box is nailed to the stud, both sides of the bay elsewhere.
    ``stackers_unsaid``: where it would be said that cables counted in ``width`` are on stackers.
    """

    along: Inches
    runs: tuple[Run, ...]
    width: Inches
    room: Inches
    unknown: tuple[Pointer, ...]
    stackers_unsaid: tuple[Pointer, ...] = ()


@dataclass(frozen=True, slots=True)
class DrillLine:
    """Level runs bored at one height; ``cables`` is the most that pass one stud."""

    height: Inches
    cables: int


def stacks_in(survey: Survey, wall: Wall) -> tuple[Stack, ...]:
    """Where two or more cables go down one place of a wall beside each other."""
    return survey.once(_stacks, wall.id)


def drill_lines(survey: Survey, wall: Wall) -> tuple[DrillLine, ...]:
    """The lines of holes in a wall, from the lowest up."""
    return survey.once(_drill_lines, wall.id)


def _stacks(survey: Survey, wall_id: str) -> tuple[Stack, ...]:
    wall = survey.plan.walls[wall_id]
    upright = [run for run in runs_in_wall(survey, wall) if run.segment.how is How.ALONG_MEMBER and run.upright]
    found = []
    for along, near in _grouped(upright, lambda run: run.on_wall[0][0], ONE_FACE):
        together = _most_together([(run, _span([z for _, z in run.on_wall])) for run in near])
        if len(together) > 1:
            found.append(_stack(survey, wall, along, together))
    return tuple(found)


def _stack(survey: Survey, wall: Wall, along: float, runs: tuple[Run, ...]) -> Stack:
    width = 0.0
    room: float | None = None
    unknown: list[Pointer] = []
    unsaid: list[Pointer] = []
    for run in runs:
        try:
            free = band(depth_of(run), survey.inches("nail_distance"))
            room = free if room is None else min(room, free)
            if not _on_stackers(survey, run):
                width += sheath_of(run.cable).width
                unsaid += _stackers_unsaid(survey, run)
        except UnknownFact as missing:
            unknown.append(missing.pointer)
    faces = 1 if _nailed_on(survey, wall, along) else 2
    held = Inches((room or 0.0) * faces if room is not None else width)
    return Stack(Inches(along), runs, Inches(width), held, tuple(unknown), tuple(dict.fromkeys(unsaid)))


def _on_stackers(survey: Survey, run: Run) -> bool:
    """Whether the run says so, or the box or panel that it comes to."""
    if run.segment.knows("supports") and run.segment.supports.knows("stackers"):
        return run.segment.supports.stackers
    return any(part.is_(stackers=True) for part in _parts_at_ends(survey, run))


def _stackers_unsaid(survey: Survey, run: Run) -> list[Pointer]:
    """Where the box or panel that a run comes to would say whether it is on stackers, and does not."""
    if run.segment.knows("supports") and run.segment.supports.knows("stackers"):
        return []
    return [part.where("stackers") for part in _parts_at_ends(survey, run) if not part.knows("stackers")]


def _parts_at_ends(survey: Survey, run: Run) -> list[Box | Panel]:
    ends = [end for there, end in zip((run.place == 0, run.is_last), run.cable.ends, strict=True) if there]
    return [part for end in ends if (part := _box_or_panel(survey, end)) is not None]


def _box_or_panel(survey: Survey, end: End) -> Box | Panel | None:
    if isinstance(end, BoxEnd):
        return survey.plan.boxes[end.box]
    return survey.plan.panels[end.panel] if isinstance(end, PanelEnd) else None


def _nailed_on(survey: Survey, wall: Wall, along: float) -> bool:
    """Whether a box of one or two gangs is nailed to the side of the stud there."""
    boxes = survey.once(_boxes_on).get(wall.id, [])
    return any(
        abs(box.at.along - along) <= ONE_FACE
        and box.knows("fastened", "gangs")
        and box.fastened is BoxFastening.FRAMING
        and box.gangs <= SMALL
        for box in boxes
        if isinstance(box.at, WallPlace)
    )


SMALL: Final = 2
"""Gangs up to which a box on 16 in centers reaches one stud of its bay only."""


def _boxes_on(survey: Survey) -> dict[str, list[Box]]:
    found: dict[str, list[Box]] = {}
    for box in survey.plan.boxes.values():
        if box.knows("at") and isinstance(box.at, WallPlace):
            found.setdefault(box.at.wall, []).append(box)
    return found


def _drill_lines(survey: Survey, wall_id: str) -> tuple[DrillLine, ...]:
    wall = survey.plan.walls[wall_id]
    level = [run for run in runs_in_wall(survey, wall) if run.segment.how is How.BORED and run.upright is False]
    found = []
    for height, near in _grouped(level, lambda run: run.on_wall[0][1], ONE_LINE):
        together = _most_together([(run, _span([along for along, _ in run.on_wall])) for run in near])
        found.append(DrillLine(Inches(height), len(together)))
    return tuple(found)


def _span(values: list[float]) -> tuple[float, float]:
    return min(values), max(values)


def _grouped(runs: list[Run], place: Callable[[Run], float], tolerance: float) -> Iterator[tuple[float, list[Run]]]:
    """Runs in order of a place, cut where the next is farther than ``tolerance`` from the group's first."""
    group: list[Run] = []
    start = 0.0
    for at, run in sorted(((place(run), run) for run in runs), key=lambda each: each[0]):
        if group and at - start > tolerance:
            yield start, group
            group = []
        if not group:
            start = at
        group.append(run)
    if group:
        yield start, group


def _most_together(spans: list[tuple[Run, tuple[float, float]]]) -> tuple[Run, ...]:
    """The largest set of runs whose spans all hold one place."""
    best: list[Run] = []
    open_now: list[tuple[float, Run]] = []
    for run, (low, high) in sorted(spans, key=lambda each: each[1]):
        open_now = [(end, other) for end, other in open_now if end > low]
        open_now.append((high, run))
        if len(open_now) > len(best):
            best = [other for _, other in open_now]
    return tuple(best)
