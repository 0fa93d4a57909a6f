"""Site item of a wall where things are fastened to it later: baseboards, cabinets, shelves and rods, and where they stand."""

from collections.abc import Iterator
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Counter, Fixture, Wall
from nailplate.plan.words import FixtureKind
from nailplate.rulekit import Job
from nailplate.sheets.site_items import SiteFigure, SiteItem
from nailplate.survey import Survey
from nailplate.survey.names import kind_words, name_of
from nailplate.units import Inches, Measure, inches, shown

BASEBOARD: Final = Inches(6.0)
"""Nails of baseboards reach no higher (common practice)."""
CABINET_RAIL: Final = Inches(6.0)
"""Base cabinets are screwed within this of their tops (common practice)."""
AROUND: Final = Inches(3.0)
"""Brackets of shelves and rods: this far above and below (common practice)."""
FASTENED: Final = (FixtureKind.SHELF, FixtureKind.CLOSET_ROD)
ON_THE_WALL: Final = 3.0
"""Inches off a wall's face within which a cabinet or shelf is fastened to it."""


def keep_clear(job: Job, wall: Wall) -> Iterator[SiteItem]:
    """One item for what is fastened along a wall; none where nothing is."""
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
    yield SiteItem("keep_clear", (wall.pointer,), (f"wall {name_of(wall)}",), do, tuple(figures))


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
            what = f"{kind_words(fixture.kind)} {name_of(fixture)}"
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
