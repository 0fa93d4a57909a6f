"""What stands on a level and takes up room: walls, counters, fixtures, appliances and stairs, each as an outline with heights.

``contested`` says in words why somebody could take an obstacle for none (a door that opens, a stair overhead); ``needs`` are
facts left out without which it is not known to be where it is drawn here.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Appliance, Counter, Fixture, Opening, Pointer, Stair, UnknownFact, Wall
from nailplate.plan.trade import CLOSING, FLOOR_STANDING, HUNG_FIXTURES, TAKES_NO_FLOOR
from nailplate.plan.words import ApplianceKind, FixtureKind, OpeningKind
from nailplate.survey.index import Survey
from nailplate.survey.names import kind_words, name_of
from nailplate.survey.space import half_thickness, widest_footprints

_OVERHEAD = frozenset({ApplianceKind.GARAGE_DOOR_OPENER, ApplianceKind.EXHAUST_FAN, ApplianceKind.VENTILATOR})
_FREE = (OpeningKind.CASED,)


@dataclass(frozen=True, slots=True)
class Obstacle:
    """One thing: its outline on the plan, and where it begins above the floor."""

    name: str
    pointer: Pointer
    outline: geometry.Outline
    low: float = 0.0
    contested: str = ""
    needs: tuple[Pointer, ...] = ()


def obstacles_near(survey: Survey, level: str, around: geometry.Box) -> list[Obstacle]:
    """What stands in or at a box of the level."""
    return survey.once(_on_level, level).near(around)


def undrawn_in(survey: Survey, room: str) -> tuple[Pointer, ...]:
    """The outlines left out of what stands in a room."""
    return tuple(survey.once(_undrawn).get(room, ()))


def _on_level(survey: Survey, level: str) -> geometry.Grid[Obstacle]:
    found = [
        *(each for wall in survey.walls_on_level.get(level, []) for each in _of_wall(survey, wall)),
        *survey.once(_standing_things).get(level, []),
    ]
    return geometry.Grid((geometry.bounding_box(each.outline), each) for each in found)


def _of_wall(survey: Survey, wall: Wall) -> Iterator[Obstacle]:
    """The wall between its doorways, and each door that closes one."""
    length = geometry.length_of((wall.start, wall.end))
    openings = [each for each in survey.openings_in_wall.get(wall.id, []) if each.kind in (*_FREE, *CLOSING)]
    needs = () if wall.knows("thickness") else (wall.where("thickness"),)
    gaps = [(each.along, each.along + each.width) for each in openings]
    for start, end in geometry.subtracted([(0.0, length)], gaps):
        yield Obstacle(f"wall {name_of(wall)}", wall.pointer, _strip(wall, start, end), needs=needs)
    for opening in openings:
        if not _is_free(opening):
            outline = _strip(wall, opening.along, opening.along + opening.width)
            why = "a door that stands closed while nobody works there can be opened"
            yield Obstacle(f"the closed door {name_of(opening)}", opening.pointer, outline, 0.0, why, needs)


def _is_free(opening: Opening) -> bool:
    return opening.kind in _FREE or (opening.knows("stays_open") and opening.stays_open)


def _strip(wall: Wall, start: float, end: float) -> geometry.Outline:
    line = (wall.start, wall.end)
    piece = (geometry.point_along(line, start), geometry.point_along(line, end))
    half = half_thickness(wall)
    (one, two), (three, four) = geometry.offset_segment(piece, half), geometry.offset_segment(piece, -half)
    return (one, two, four, three)


def _standing_things(survey: Survey) -> Mapping[str, list[Obstacle]]:
    """Level id to what stands on it, walls left out."""
    found: dict[str, list[Obstacle]] = {}
    rooms = survey.plan.rooms
    for counter in survey.plan.counters.values():
        found.setdefault(rooms[counter.room].level, []).extend(_of_counter(survey, counter))
    for fixture in survey.plan.fixtures.values():
        found.setdefault(rooms[fixture.room].level, []).extend(_of_fixture(fixture))
    for appliance in survey.plan.appliances.values():
        if appliance.knows("room"):
            found.setdefault(rooms[appliance.room].level, []).extend(_of_appliance(appliance))
    for stair in survey.plan.stairs.values():
        for level, obstacle in _of_stair(stair):
            found.setdefault(level, []).append(obstacle)
    return found


def _of_counter(survey: Survey, counter: Counter) -> Iterator[Obstacle]:
    needs = () if counter.knows("outline") or counter.knows("depth") else (counter.where("depth"),)
    try:
        outlines = widest_footprints(counter, survey.plan.rooms[counter.room])
    except UnknownFact:  # unknown: ``undrawn_in`` asks for what stands in the room and is not drawn
        return
    for outline in outlines:
        yield Obstacle(f"counter {name_of(counter)}", counter.pointer, outline, needs=needs)


def _of_fixture(fixture: Fixture) -> Iterator[Obstacle]:
    if fixture.knows("outline"):
        hung = fixture.kind in HUNG_FIXTURES
        low = fixture.height if hung and fixture.knows("height") else 0.0
        needs = (fixture.where("height"),) if hung and not fixture.knows("height") else ()
        yield Obstacle(f"the {_word(fixture.kind)} {name_of(fixture)}", fixture.pointer, fixture.outline, low, needs=needs)


def _of_appliance(appliance: Appliance) -> Iterator[Obstacle]:
    if appliance.knows("footprint") and appliance.kind not in _OVERHEAD | TAKES_NO_FLOOR:
        yield Obstacle(f"the {_word(appliance.kind)} {name_of(appliance)}", appliance.pointer, appliance.footprint)


def _of_stair(stair: Stair) -> Iterator[tuple[str, Obstacle]]:
    if stair.knows("outline"):
        why = "the plan draws a stair by its outline, and under its upper end there may be headroom"
        yield stair.lower, Obstacle(f"stair {name_of(stair)}", stair.pointer, stair.outline, 0.0, why)
    if stair.knows("opening"):
        yield stair.upper, Obstacle(f"the opening of stair {name_of(stair)}", stair.pointer, stair.opening)


def _word(kind: FixtureKind | ApplianceKind) -> str:
    return kind_words(kind)


def _undrawn(survey: Survey) -> Mapping[str, list[Pointer]]:
    found: dict[str, list[Pointer]] = {}
    for counter in survey.plan.counters.values():
        if not counter.knows("outline") and not counter.knows("back"):
            found.setdefault(counter.room, []).append(counter.where("outline"))
    for fixture in survey.plan.fixtures.values():
        if not fixture.knows("outline"):
            found.setdefault(fixture.room, []).append(fixture.where("outline"))
    for appliance in survey.plan.appliances.values():
        if appliance.kind in FLOOR_STANDING and appliance.knows("room") and not appliance.knows("footprint"):
            found.setdefault(appliance.room, []).append(appliance.where("footprint"))
    return found
