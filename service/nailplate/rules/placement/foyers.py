"""The wall spaces of a foyer: unbroken by doorways and by windows beside a door that come down to the floor (210.52(I))."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from nailplate.calc import geometry
from nailplate.codes.tables import RunLimits
from nailplate.plan import Pointer, Room, UnknownFact
from nailplate.plan.words import OpeningKind, Use
from nailplate.survey.index import Survey
from nailplate.survey.receptacles import Judged, judged_run, unplaced_needs, wall_receptacles
from nailplate.survey.space import (
    EVERY_VARIANT,
    SNAP,
    THRESHOLD,
    Reading,
    Stretch,
    Surface,
    floor_line,
    halls_on,
    open_between,
    spaces_within,
)
from nailplate.units import reaches, within


@dataclass(frozen=True, slots=True)
class FoyerWalls:
    """A foyer's wall spaces that are wide enough. ``short``: without a receptacle in every reading of facts left out.

    ``needs`` are those facts where they decide.
    """

    served: tuple[Judged, ...]
    short: tuple[Judged, ...]
    needs: tuple[Pointer, ...]


def foyer_walls(survey: Survey, room: Room, tops_break: bool, limits: RunLimits) -> FoyerWalls:
    """The wall spaces of a foyer. Raises UnknownFact where what breaks them is not drawn."""
    line = tuple(_without_glass(survey, survey.once(floor_line, room.id, tops_break)))
    variants = sorted(EVERY_VARIANT) if any(each.variants != EVERY_VARIANT for each in line) else [0]
    sure = {variant: _judged(survey, room, tops_break, limits, line, variant, all_count=False) for variant in variants}
    best = {variant: _judged(survey, room, tops_break, limits, line, variant, all_count=True) for variant in variants}
    if all(each.places for judged in sure.values() for each in judged):
        return FoyerWalls(sure[0], (), ())
    unplaced = unplaced_needs(survey, room.level, tops_break, room.id)
    always = [each for each in best[0] if not each.places and all(_has(judged, each) for judged in best.values())]
    if always and not unplaced:
        return FoyerWalls(tuple(each for each in sure[0] if each.places), tuple(always), ())
    return FoyerWalls((), (), (*_needs_of(survey, room, tops_break, line), *unplaced))


def beside_hall(survey: Survey, room: Room) -> bool:
    """Whether a foyer is a hallway too, or goes on into one without a wall between."""
    if Use.HALLWAY in room.uses:
        return True
    near = geometry.grown(geometry.bounding_box(room.outline), SNAP)
    return any(
        open_between(survey, room, side, hall)
        for hall in survey.once(halls_on, room.level).near(near)
        for side in geometry.sides(room.outline)
    )


def _judged(
    survey: Survey, room: Room, tops_break: bool, limits: RunLimits, line: tuple[Stretch, ...], variant: int, *, all_count: bool
) -> tuple[Judged, ...]:
    spaces = spaces_within(line, Reading(contested_counts=False, variant=variant)) if line else ()
    wide = [each for each in spaces if reaches(each.length, limits.minimum)]
    return tuple(judged_run(survey, room.level, tops_break, limits, each, all_count) for each in wide)


def _has(judged: tuple[Judged, ...], wanted: Judged) -> bool:
    """Whether this very space is without a receptacle in another reading too."""
    return any(not each.places and each.space.stretches == wanted.space.stretches for each in judged)


def _needs_of(survey: Survey, room: Room, tops_break: bool, line: tuple[Stretch, ...]) -> tuple[Pointer, ...]:
    receptacles = survey.once(wall_receptacles, room.level, tops_break).standing
    found = [need for each in line for need in each.needs]
    found += [need for each in receptacles if each.room == room.id for need in each.needs]
    return tuple(dict.fromkeys(found))


def _without_glass(survey: Survey, line: tuple[Stretch, ...]) -> Iterator[Stretch]:
    for stretch in line:
        glass = _glass(survey, stretch)
        at = stretch.start
        for start, end in glass:
            if start - at > geometry.DUST:
                yield replace(stretch, start=at, end=start)
            yield replace(stretch, start=start, end=end, surface=Surface.BREAK)
            at = end
        if stretch.end - at > geometry.DUST:
            yield replace(stretch, start=at)


def _glass(survey: Survey, stretch: Stretch) -> tuple[geometry.Interval, ...]:
    if stretch.wall is None or stretch.surface is not Surface.WALL:
        return ()
    line = (stretch.wall.start, stretch.wall.end)
    found = []
    for opening in survey.openings_in_wall.get(stretch.wall.id, []):
        if opening.kind is not OpeningKind.FIXED_GLASS:
            continue
        if not opening.knows("sill"):
            raise UnknownFact(opening.where("sill"))
        if within(opening.sill, THRESHOLD):
            ends = (geometry.point_along(line, opening.along), geometry.point_along(line, opening.along + opening.width))
            one, two = sorted(geometry.project(end, stretch.segment).along for end in ends)
            found.append((one, two))
    return geometry.clipped(found, stretch.start, stretch.end)
