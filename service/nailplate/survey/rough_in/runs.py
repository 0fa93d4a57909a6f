"""A cable's runs: each stretch of its route in space, the wall it lies in, its length, and how it goes through the framing.

Heights count from the floor of the run's level; ``elevated`` puts runs of several levels into one space.
"""

import math
from collections.abc import Iterator, Mapping
from functools import cached_property
from itertools import pairwise
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Cable, Pointer, Segment, Wall
from nailplate.plan.words import How, MemberRole
from nailplate.records import record
from nailplate.survey.index import Survey
from nailplate.survey.routing import route_of
from nailplate.units import Inches

Point = tuple[float, float]
Point3 = tuple[float, float, float]

UNCLEAR_WALL: Final = 1.0
"""Inches by which a run may miss a wall's faces and still be in it; lines in plans differ by less."""
UPRIGHT: Final = 1.0
"""Inches that a run may go sideways over its whole height and still be one along a stud."""


@record(frozen=True)
class Run:
    """One stretch of one cable's route.

    ``wall`` is the wall that is stated, else the one whose body holds all of the run. ``points`` are (x, y, height) and empty
    where the route does not give a height for every point. ``derived``: no author draws it, it is worked out between the cable's ends.
    """

    cable: Cable
    place: int
    segment: Segment
    level: str | None
    wall: Wall | None
    points: tuple[Point3, ...]
    is_last: bool = False
    derived: bool = False

    @cached_property
    def pointer(self) -> Pointer:
        """Where the plan states it."""
        return self.segment.pointer

    @cached_property
    def id(self) -> tuple[str, int]:
        """The cable's id and the run's place in its route."""
        return self.cable.id, self.place

    @cached_property
    def length(self) -> Inches | None:
        """Along its points; None where they are not known in space."""
        return Inches(sum(math.dist(one, other) for one, other in pairwise(self.points))) if self.points else None

    @cached_property
    def upright(self) -> bool | None:
        """Whether it goes up or down along a stud; None where its points are not known in space."""
        if not self.points:
            return None
        across = sum(math.dist(one[:2], other[:2]) for one, other in pairwise(self.points))
        rise = sum(abs(one[2] - other[2]) for one, other in pairwise(self.points))
        return across <= min(UPRIGHT, rise)

    @cached_property
    def role(self) -> MemberRole:
        """What its member does: as stated; else in a wall a stud, or a plate where it is bored upright; elsewhere a joist."""
        if self.segment.knows("role"):
            return self.segment.role
        if self.wall is None:
            return MemberRole.JOIST
        return MemberRole.PLATE if self.segment.how is How.BORED and self.upright else MemberRole.STUD

    @cached_property
    def on_wall(self) -> tuple[Point, ...]:
        """(along, height) of its points on its wall, along counted from the wall's ``from`` end; empty without wall or points."""
        if self.wall is None:
            return ()
        line = (self.wall.start, self.wall.end)
        return tuple((_along_line(line, (x, y)), z) for x, y, z in self.points)


def runs(survey: Survey) -> tuple[Run, ...]:
    """Every run of every cable that states a route, limited-energy cables too, in the plan's order."""
    return survey.once(_drawn).runs


def runs_of(survey: Survey, cable: Cable) -> tuple[Run, ...]:
    """The runs of one cable in order; none where it states no route."""
    return survey.once(_by_cable).get(cable.id, ())


def course_of(survey: Survey, cable: Cable) -> tuple[Run, ...]:
    """The runs of one cable in order: as its route draws them, else along the route worked out between its ends."""
    if cable.knows("route") and cable.route:
        return runs_of(survey, cable)
    return survey.once(_derived_runs, cable.id)


def derived_runs(survey: Survey) -> tuple[Run, ...]:
    """Every run of every cable whose route is worked out, in the plan's order."""
    cables = (cable for cable in survey.plan.cables.values() if not (cable.knows("route") and cable.route))
    return tuple(run for cable in cables for run in course_of(survey, cable))


def runs_in_wall(survey: Survey, wall: Wall) -> tuple[Run, ...]:
    """The runs that lie in a wall."""
    return survey.once(_by_wall).get(wall.id, ())


def run_at(survey: Survey, segment: Segment) -> Run:
    """The run along a segment of a route, drawn or worked out."""
    drawn = survey.once(_drawn).by_segment.get(segment.pointer)
    if drawn is not None:
        return drawn
    members = segment.pointer.members
    return course_of(survey, survey.plan.cables[members[1]])[int(members[3])]


def elevated(survey: Survey, run: Run) -> tuple[Point3, ...]:
    """The run's points over the plan's datum; empty where its level's floor is not placed among several levels."""
    level = survey.plan.levels.get(run.level) if run.level is not None else None
    if level is not None and level.knows("elevation"):
        floor = level.elevation
    elif len(survey.plan.levels) <= 1:
        floor = Inches(0.0)
    else:
        return ()
    return tuple((x, y, z + floor) for x, y, z in run.points)


@record(frozen=True, slots=True)
class _Drawn:
    runs: tuple[Run, ...]
    by_segment: Mapping[Pointer, Run]


def _drawn(survey: Survey) -> _Drawn:
    found = tuple(
        run for cable in survey.plan.cables.values() if cable.knows("route") for run in _along(survey, cable, cable.route)
    )
    return _Drawn(found, {run.pointer: run for run in found})


def _derived_runs(survey: Survey, cable_id: str) -> tuple[Run, ...]:
    cable = survey.plan.cables[cable_id]
    return tuple(_along(survey, cable, route_of(survey, cable).segments, derived=True))


def _along(survey: Survey, cable: Cable, segments: tuple[Segment, ...], *, derived: bool = False) -> Iterator[Run]:
    last = len(segments) - 1
    for place, segment in enumerate(segments):
        yield _run(survey, cable, place, segment, is_last=place == last, derived=derived)


def _by_cable(survey: Survey) -> Mapping[str, tuple[Run, ...]]:
    found: dict[str, list[Run]] = {}
    for run in runs(survey):
        found.setdefault(run.cable.id, []).append(run)
    return {name: tuple(each) for name, each in found.items()}


def _by_wall(survey: Survey) -> Mapping[str, tuple[Run, ...]]:
    found: dict[str, list[Run]] = {}
    for run in runs(survey):
        if run.wall is not None:
            found.setdefault(run.wall.id, []).append(run)
    return {name: tuple(each) for name, each in found.items()}


def _run(survey: Survey, cable: Cable, place: int, segment: Segment, *, is_last: bool, derived: bool) -> Run:
    stated = survey.plan.walls[segment.wall] if segment.knows("wall") else None
    level = segment.level if segment.knows("level") else stated.level if stated is not None else None
    points = _points(segment)
    wall = stated or (_wall_around(survey, level, points) if level is not None and points and not derived else None)
    return Run(cable, place, segment, level, wall, points, is_last, derived)


def _points(segment: Segment) -> tuple[Point3, ...]:
    if not segment.knows("points", "heights") or len(segment.points) != len(segment.heights):
        return ()
    return tuple((x, y, height) for (x, y), height in zip(segment.points, segment.heights, strict=True))


# The wall that holds a run which names none


def _wall_around(survey: Survey, level: str, points: tuple[Point3, ...]) -> Wall | None:
    """The one wall whose body holds every point, below the level's ceiling. At a corner of two walls it is neither."""
    top = _ceiling_over(survey, level)
    if top is None or any(not 0 <= z <= top for _, _, z in points):
        return None
    box = geometry.bounding_box([(x, y) for x, y, _ in points])
    holding = [wall for wall in survey.once(_wall_grid, level).near(box) if _holds(wall, points, top)]
    return holding[0] if len(holding) == 1 else None


def _ceiling_over(survey: Survey, level: str) -> float | None:
    drawn = survey.plan.levels[level]
    return drawn.ceiling.height if drawn.knows("ceiling") and drawn.ceiling.knows("height") else None


def _holds(wall: Wall, points: tuple[Point3, ...], top: float) -> bool:
    line = (wall.start, wall.end)
    body = wall.thickness / 2 + UNCLEAR_WALL
    height = wall.height if wall.knows("height") else top
    return all(geometry.distance_to_segment((x, y), line) <= body and z <= height for x, y, z in points)


def _wall_grid(survey: Survey, level: str) -> geometry.Grid[Wall]:
    walls = [wall for wall in survey.walls_on_level.get(level, []) if wall.knows("thickness")]
    boxes = (geometry.grown(geometry.bounding_box((wall.start, wall.end)), wall.thickness / 2 + UNCLEAR_WALL) for wall in walls)
    return geometry.Grid(zip(boxes, walls, strict=True), cell=60.0)


def _along_line(line: tuple[Point, Point], point: Point) -> float:
    (x1, y1), (x2, y2) = line
    length = math.hypot(x2 - x1, y2 - y1)
    return ((point[0] - x1) * (x2 - x1) + (point[1] - y1) * (y2 - y1)) / length if length else 0.0
