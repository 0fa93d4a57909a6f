"""Site items of a wall: what may be bored in its studs, where plates are needed, how many cables fit, and where not to drill."""

import math
from collections.abc import Iterator
from typing import Final

from nailplate.calc import geometry
from nailplate.calc.framing import DEPTHS, NM_SHEATHS, band, beside_on_face, stacked_in_hole
from nailplate.plan import Counter, Fixture, UnknownFact, Wall, WallPlace
from nailplate.plan.words import Cavity, FixtureKind, FramingMaterial, How, WallKind
from nailplate.rulekit import Job
from nailplate.sheets.site_items import SiteFigure, SiteItem, many
from nailplate.sheets.site_studs import stud_items
from nailplate.sheets.sixteenths import at_most
from nailplate.survey import Survey
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import Run, drill_lines, hole_distances, runs_in_wall, spacing_of, stud_hole, stud_notch
from nailplate.units import Inches, Measure, count, inches, shown

USUAL_HOLE: Final = Inches(0.75)
"""What is usually bored for one or two cables (common practice)."""
CABLES: Final = ("14 AWG", "12 AWG")
BASEBOARD: Final = Inches(6.0)
"""Nails of baseboards reach no higher (common practice)."""
CABINET_RAIL: Final = Inches(6.0)
"""Base cabinets are screwed within this of their tops (common practice)."""
AROUND: Final = Inches(3.0)
"""Brackets of shelves and rods: this far above and below (common practice)."""
FASTENED: Final = (FixtureKind.SHELF, FixtureKind.CLOSET_ROD)
ON_THE_WALL: Final = 3.0
"""Inches off a wall's face within which a cabinet or shelf is fastened to it."""


def wall_items(job: Job) -> Iterator[SiteItem]:
    """The items of every wall whose framing is stated and in which boxes or cables are drawn."""
    used = _used_walls(job)
    for wall in job.plan.walls.values():
        if wall.id in used:
            yield from _framing(job, wall)
            yield from _drill_lines(job.survey, wall)
            yield from _keep_clear(job, wall)
            yield from stud_items(job.survey, wall)
            yield from _foam(wall)


def _used_walls(job: Job) -> set[str]:
    places = [part.at for part in job.plan.boxes.values() if part.knows("at")]
    places += [part.at for part in job.plan.devices.values() if part.knows("at")]
    places += [part.at for part in job.plan.panels.values() if part.knows("at")]
    placed = {place.wall for place in places if isinstance(place, WallPlace)}
    return placed | {wall.id for wall in job.plan.walls.values() if runs_in_wall(job.survey, wall)}


# Framing


def _framing(job: Job, wall: Wall) -> Iterator[SiteItem]:
    if not wall.knows("framing") or not wall.framing.knows("member"):
        return
    if wall.framing.knows("material") and wall.framing.material is not FramingMaterial.WOOD:
        if wall.framing.material is FramingMaterial.STEEL:
            yield SiteItem("holes", (wall.pointer,), _where(wall), _BUSHINGS, (), _section(job, "(B)"))
        return
    depth = DEPTHS[wall.framing.member]
    yield _holes(job, wall, depth)
    yield from _plates(job, wall)
    if band(depth, job.inches("nail_distance")):
        yield _side_by_side(job, wall, depth)


_BUSHINGS: Final = "Snap a listed bushing into every hole in the steel framing before cable is pulled."


def _holes(job: Job, wall: Wall, depth: Inches) -> SiteItem:
    unplated = band(depth, job.inches("nail_distance"))
    bearing = _bearing(wall)
    strong = stud_hole(job.survey, depth, bearing=bearing)
    largest = Inches(min(unplated, strong))
    slack = Inches((unplated - USUAL_HOLE) / 2)
    carries = "bearing" if bearing else "non-bearing"
    if not unplated:
        do = f"Every hole in these {wall.framing.member} studs needs plates on both faces; bore no more than {at_most(strong)} ({carries})."
    elif slack >= 0:
        do = (
            f"Bore in the center of the {wall.framing.member} studs. Without plates {at_most(largest)} is the largest hole, and a "
            f"{shown(inches(USUAL_HOLE))} hole may be {shown(inches(slack))} out of center; with plates {at_most(strong)} ({carries})."
        )
    else:
        do = f"Bore in the center of the studs, {at_most(largest)} or less; plate anything larger, up to {at_most(strong)} ({carries})."
    figures = (
        SiteFigure("actual depth of the studs", inches(depth)),
        SiteFigure("largest hole without plates", inches(largest)),
        SiteFigure("largest hole with plates", inches(strong)),
        SiteFigure("deepest notch, plated", inches(stud_notch(job.survey, depth, bearing=bearing))),
    )
    return SiteItem("holes", (wall.pointer,), _where(wall), do, figures, f"{_section(job, '(A)')}; IRC R602.6")


def _bearing(wall: Wall) -> bool:
    """As stated; an exterior wall, and one of which nothing is said, is taken to carry load: the smaller hole."""
    if wall.kind is WallKind.EXTERIOR:
        return True
    return wall.framing.bearing if wall.framing.knows("bearing") else True


def _plates(job: Job, wall: Wall) -> Iterator[SiteItem]:
    """Where holes as drawn are too near an edge: how many plates, about."""
    total, near = 0, []
    for run in runs_in_wall(job.survey, wall):
        needed = _plates_for(job.survey, run)
        if needed:
            total += needed
            near.append(run)
    if near:
        do = f"Plate the studs at {many(len(near), 'run')} of cable, about {many(total, 'plate')}, before the finish goes on."
        at = (wall.pointer, *(run.pointer for run in near))
        where = (*_where(wall), *(f"cable {name_of(run.cable)}" for run in near))
        yield SiteItem("plates", at, where, do, (SiteFigure("plates, about", count(total)),), _section(job, "(A)"))


def _plates_for(survey: Survey, run: Run) -> int:
    if run.segment.how is How.NOTCH:
        return _crossed(run)
    if run.segment.how is not How.BORED:
        return 0
    try:
        faces = hole_distances(survey, run).plates
    except UnknownFact:  # unknown: the rule about holes says what is missing
        return 0
    return _crossed(run) * (faces if faces is not None else 1)


def _crossed(run: Run) -> int:
    """How many studs a level run passes, about; one where its length or their spacing is not known."""
    try:
        spacing = spacing_of(run)
    except UnknownFact:  # unknown: one plate at the least, and the figure says about
        return 1
    return max(1, math.ceil(run.length / spacing)) if run.length else 1


def _side_by_side(job: Job, wall: Wall, depth: Inches) -> SiteItem:
    edge = job.inches("nail_distance")
    sizes = {size: NM_SHEATHS[size, 2] for size in CABLES}
    beside = {size: beside_on_face(depth, edge, sheath) for size, sheath in sizes.items()}
    stacked = {size: stacked_in_hole(USUAL_HOLE, sheath) for size, sheath in sizes.items()}
    names = {"14 AWG": "14-2", "12 AWG": "12-2"}
    beside_words = " or ".join(f"{beside[size]} of {names[size]}" for size in CABLES)
    do = (
        f"Staple within the middle {shown(inches(band(depth, edge)))} of each stud's side: {beside_words} cables side by side, more on stackers. A "
        f"{shown(inches(USUAL_HOLE))} hole takes {stacked['14 AWG']} of them by size alone; pull two (common practice)."
    )
    figures = (
        SiteFigure("band without plates on a stud's side", inches(band(depth, edge))),
        *(SiteFigure(f"{names[size]} cables side by side", count(beside[size])) for size in CABLES),
        *(
            SiteFigure(f"{names[size]} cables in a {shown(inches(USUAL_HOLE))} hole, by size", count(stacked[size]))
            for size in CABLES
        ),
    )
    return SiteItem("side_by_side", (wall.pointer,), _where(wall), do, figures, _section(job, "(D)"))


# Lines of holes, and where not to drill


def _drill_lines(survey: Survey, wall: Wall) -> Iterator[SiteItem]:
    lines = drill_lines(survey, wall)
    if not lines:
        return
    heights = ", ".join(shown(inches(line.height)) for line in lines)
    at = "at one height" if len(lines) == 1 else f"at {len(lines)} heights"
    do = f"Snap a line and bore {at} above the floor: {heights}. One line a wall is easiest to plate and to find again."
    figures = tuple(
        SiteFigure(f"cables through the line at {shown(inches(line.height))}", count(line.cables)) for line in lines
    )
    yield SiteItem("drill_lines", (wall.pointer,), _where(wall), do, figures)


def _keep_clear(job: Job, wall: Wall) -> Iterator[SiteItem]:
    fastened = [*_counters(job, wall), *_shelves(job, wall)]
    words = "".join(
        f"; {what} from {shown(start)} to {shown(end)} along it, {shown(low)} to {shown(high)} up"
        for what, start, end, low, high in fastened
    )
    if not fastened:
        return
    do = f"Keep cable out, or plate it, where things are fastened later: baseboards up to {shown(inches(BASEBOARD))}{words}."
    figures = [SiteFigure("top of the baseboards' nails", inches(BASEBOARD))]
    for what, start, end, low, high in fastened:
        figures += [
            SiteFigure(f"{what}: from, along the wall", start),
            SiteFigure(f"{what}: to, along the wall", end),
            SiteFigure(f"{what}: lowest", low),
            SiteFigure(f"{what}: highest", high),
        ]
    yield SiteItem("keep_clear", (wall.pointer,), _where(wall), do, tuple(figures))


Clear = tuple[str, Measure, Measure, Measure, Measure]


def _counters(job: Job, wall: Wall) -> Iterator[Clear]:
    for counter in _standing_at(job, wall):
        if not isinstance(counter, Counter) or not counter.knows("height"):
            continue
        along = _against(wall, counter.back)
        if along:
            low, high = inches(counter.height - CABINET_RAIL), inches(counter.height)
            yield f"cabinet {name_of(counter)}", inches(along[0]), inches(along[1]), low, high


def _shelves(job: Job, wall: Wall) -> Iterator[Clear]:
    for fixture in _standing_at(job, wall):
        if not isinstance(fixture, Fixture):
            continue
        along = _against(wall, fixture.outline)
        if along:
            low, high = inches(max(0.0, fixture.height - AROUND)), inches(fixture.height + AROUND)
            what = f"{fixture.kind.value.replace('_', ' ')} {name_of(fixture)}"
            yield what, inches(along[0]), inches(along[1]), low, high


def _standing_at(job: Job, wall: Wall) -> list[Counter | Fixture]:
    """Counters with a back line, shelves and rods of the wall's level near it."""
    near = geometry.grown(
        geometry.bounding_box((wall.start, wall.end)), ON_THE_WALL + (wall.thickness if wall.knows("thickness") else 0.0)
    )
    return job.survey.once(_things_on, wall.level).near(near)


def _things_on(survey: Survey, level: str) -> geometry.Grid[Counter | Fixture]:
    rooms = {room.id for room in survey.rooms_on_level.get(level, [])}
    counters = [each for each in survey.plan.counters.values() if each.room in rooms and each.knows("back")]
    fixtures = [
        each
        for each in survey.plan.fixtures.values()
        if each.room in rooms and each.kind in FASTENED and each.knows("outline", "height")
    ]
    lines: list[tuple[geometry.Box, Counter | Fixture]] = [(geometry.bounding_box(each.back), each) for each in counters]
    lines += [(geometry.bounding_box(each.outline), each) for each in fixtures]
    return geometry.Grid(lines, cell=60.0)


def _against(wall: Wall, line: tuple[tuple[float, float], ...]) -> tuple[float, float] | None:
    """The stretch of the wall that a back line or outline stands against."""
    body = (wall.thickness / 2 if wall.knows("thickness") else 0.0) + ON_THE_WALL
    axis = (wall.start, wall.end)
    near = [seen.along for point in line if abs((seen := geometry.project(point, axis)).offset) <= body]
    start, end = max(0.0, min(near, default=0.0)), min(geometry.length_of(axis), max(near, default=0.0))
    return (start, end) if end - start > 1 else None


def _foam(wall: Wall) -> Iterator[SiteItem]:
    if wall.knows("cavity") and wall.cavity is Cavity.SPRAY_FOAM:
        do = (
            "Before the foam: fasten every cable, mask every box, close unused openings, and photograph the whole wall with a tape in the "
            "picture. Have it sprayed in thin passes, each left to cool."
        )
        yield SiteItem("foam", (wall.pointer,), _where(wall), do)


# Words


def _where(wall: Wall) -> tuple[str]:
    return (f"wall {name_of(wall)}",)


def _section(job: Job, letter: str) -> str:
    return f"NEC {job.limit_entry('nail_distance').section.partition('(')[0]}{letter}"
