"""Site items of a wall: what may be bored in its studs, where plates are needed, how many cables fit, and where not to drill."""

import math
from collections.abc import Iterator
from typing import Final

from nailplate.calc.framing import DEPTHS, NM_SHEATHS, band, beside_on_face, stacked_in_hole
from nailplate.plan import UnknownFact, Wall, WallPlace
from nailplate.plan.words import Cavity, FramingMaterial, How, WallKind
from nailplate.rulekit import Job
from nailplate.sheets.site_items import SiteFigure, SiteItem, many
from nailplate.sheets.site_keep_clear import keep_clear
from nailplate.sheets.site_studs import stud_items
from nailplate.sheets.sixteenths import at_most
from nailplate.survey import Survey
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import Run, drill_lines, hole_distances, runs_in_wall, spacing_of, stud_hole, stud_notch
from nailplate.units import Inches, count, inches, shown

USUAL_HOLE: Final = Inches(0.75)
"""What is usually bored for one or two cables (common practice)."""
CABLES: Final = ("14 AWG", "12 AWG")


def wall_items(job: Job) -> Iterator[SiteItem]:
    """The items of every wall whose framing is stated and in which boxes or cables are drawn."""
    used = _used_walls(job)
    for wall in job.plan.walls.values():
        if wall.id in used:
            yield from _framing(job, wall)
            yield from _drill_lines(job.survey, wall)
            yield from keep_clear(job, wall)
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


# Lines of holes


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
