"""Where a receptacle that a basin lacks could go: beside it on an adjacent wall, out of the tub's zone and clear of openings."""

from collections.abc import Iterator

from nailplate.calc import geometry
from nailplate.plan import Fixture, UnknownFact
from nailplate.plan.trade import NO_WALL_BOX
from nailplate.plan.words import FixtureKind
from nailplate.remedies.added_receptacles import ROOM_FOR_BOX, Added, room_for_boxes
from nailplate.rules.placement.basin_receptacles import adjacent_to
from nailplate.survey.index import Survey
from nailplate.survey.space import Stretch, Surface, floor_line
from nailplate.units import reaches, within

USUAL_HEIGHT = 42.0
"""Inches above the floor of a receptacle over a vanity (common practice)."""
TUB_ZONE = 36.0
"""Inches from a tub or shower within which no receptacle is proposed (our own measure, as wide as the zone around them)."""
_TOPS_BREAK = False  # no matter here: over a vanity's top is where the receptacle goes


def place_beside(survey: Survey, basin: Fixture) -> Added | None:
    """The nearest place beside the basin on an adjacent wall, out of the tub's zone and clear of openings, if there is one."""
    try:
        line = survey.once(floor_line, basin.room, _TOPS_BREAK)
        found = [spot for stretch in line for spot in _spots(survey, basin, stretch)]
    except UnknownFact:  # unknown: the remedy stands in words alone
        return None
    return min(found, key=lambda spot: spot[0])[1] if found else None


def _spots(survey: Survey, basin: Fixture, stretch: Stretch) -> Iterator[tuple[float, Added]]:
    wall, side = stretch.wall, stretch.side
    if wall is None or side is None or stretch.surface is Surface.OPEN or wall.kind in NO_WALL_BOX:
        return
    if not adjacent_to(survey, basin, stretch.segment):
        return
    seen = [geometry.project(point, stretch.segment).along for point in basin.outline]
    wanted = (min(seen) - 2 * ROOM_FOR_BOX, max(seen) + 2 * ROOM_FOR_BOX)
    for start, end in room_for_boxes(survey, stretch, USUAL_HEIGHT):
        for along in (min(max(each, start), end) for each in wanted):
            point = geometry.point_along(stretch.segment, along)
            distance = geometry.distance_to_outline(point, basin.outline)
            if within(distance, survey.inches("basin_reach") - ROOM_FOR_BOX) and not _near_tub(survey, basin, point):
                yield distance, Added(wall, side, stretch.along_wall(along), USUAL_HEIGHT)


def _near_tub(survey: Survey, basin: Fixture, point: geometry.Point) -> bool:
    return any(
        not fixture.knows("outline") or not reaches(geometry.distance_to_outline(point, fixture.outline), TUB_ZONE)
        for fixture in survey.fixtures_in_room.get(basin.room, [])
        if fixture.kind in (FixtureKind.TUB, FixtureKind.SHOWER)
    )
