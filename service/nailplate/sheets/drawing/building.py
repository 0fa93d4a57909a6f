"""The building on a level's sheet: rooms, walls with their thickness, openings, stairs, counters, fixtures, appliances."""

from collections.abc import Iterator
from typing import Final

from nailplate.calc import geometry
from nailplate.calc.plan_shapes import extent
from nailplate.plan import Fixture, Level, Room, Stair
from nailplate.plan.trade import OUTDOOR
from nailplate.plan.words import LevelKind
from nailplate.sheets.drawing.arrows import arrow_head
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.drawing.room_for import clipped
from nailplate.sheets.drawing.svg import Markup, circle, group, line, polygon, polyline, title
from nailplate.sheets.drawing.walls import draw_walls, length_of, stretch_of, take_wall
from nailplate.survey.index import Survey

_MOST_TREADS: Final = 40


def draw_building(draft: Draft, survey: Survey, level: Level) -> None:
    """Everything of one level that the wiring goes around."""
    for room in survey.rooms_on_level.get(level.id, []):
        if room.knows("outline"):
            draft.draw("rooms", _room(draft, room))
            draft.draw("built", *_contents(draft, survey, room))
        else:
            draft.notes.append(f"{name_of(room)}: no outline in the plan")
    draw_walls(draft, survey, survey.walls_on_level.get(level.id, []))
    draft.draw("built", *(_stair(draft, each, level) for each in survey.plan.stairs.values()))
    draft.draw("built", *_appliances(draft, survey, level))


def is_outdoors(room: Room) -> bool:
    """Whether a room is a place in the open, drawn as such."""
    return bool(OUTDOOR.intersection(room.uses))


def draw_context(draft: Draft, survey: Survey, level: Level) -> None:
    """The walls of the house as a shade under a level that lies around or on it."""
    if level.kind not in (LevelKind.GRADE, LevelKind.DECK, LevelKind.ROOF):
        return
    house = next((each for each in survey.plan.levels.values() if each.kind is LevelKind.STOREY), None)
    for wall in survey.walls_on_level.get(house.id, []) if house else ():
        shade = clipped(draft.view.all(stretch_of(wall, 0.0, length_of(wall))), draft.taken.area)
        if shade:
            draft.draw("context", polygon(shade, "np-context"))
            take_wall(draft, wall)


def _room(draft: Draft, room: Room) -> Markup:
    class_ = "np-outdoors" if is_outdoors(room) else "np-room"
    return polygon(draft.view.all(room.outline), class_, title(name_of(room)))


def _contents(draft: Draft, survey: Survey, room: Room) -> Iterator[Markup]:
    for counter in survey.counters_in_room.get(room.id, []):
        if counter.knows("outline"):
            yield polygon(draft.view.all(counter.outline), "np-counter", title(name_of(counter)))
        elif counter.knows("back"):
            yield polyline(draft.view.all(counter.back), "np-counter")
    for fixture in survey.fixtures_in_room.get(room.id, []):
        yield from _fixture(draft, fixture)


def _fixture(draft: Draft, fixture: Fixture) -> Iterator[Markup]:
    if fixture.knows("outline"):
        yield polygon(draft.view.all(fixture.outline), "np-fixture", title(name_of(fixture)))
    if fixture.knows("bowl"):
        yield polygon(draft.view.all(fixture.bowl), "np-fixture")


def _appliances(draft: Draft, survey: Survey, level: Level) -> Iterator[Markup]:
    for each in survey.plan.appliances.values():
        if each.knows("footprint", "room") and survey.plan.rooms[each.room].level == level.id:
            yield polygon(draft.view.all(each.footprint), "np-appliance", title(name_of(each)))


# Stairs


def _stair(draft: Draft, stair: Stair, level: Level) -> Markup:
    if stair.upper == level.id and stair.knows("opening"):
        return polygon(draft.view.all(stair.opening), "np-unsaid", title(f"{name_of(stair)}: opening in the floor"))
    if stair.lower != level.id or not stair.knows("outline"):
        return Markup("")
    shape = polygon(draft.view.all(stair.outline), "np-stair", title(name_of(stair)))
    return group(shape, *_treads(draft, stair), _way_up(draft, stair))


def _treads(draft: Draft, stair: Stair) -> Iterator[Markup]:
    around = extent(stair.outline)
    count = min(stair.risers, _MOST_TREADS) if stair.knows("risers") else 0
    nx, ny = geometry.left_normal(around.axis)
    half = around.short / 2
    for number in range(1, count):
        x, y = geometry.point_along(around.axis, around.long * number / count)
        yield line(draft.view((x + nx * half, y + ny * half)), draft.view((x - nx * half, y - ny * half)), "np-stair")


def _way_up(draft: Draft, stair: Stair) -> Markup:
    """An arrow from where one steps on, if the plan says it."""
    entries = [each for each in stair.entries if each.knows("point", "level")] if stair.knows("entries") else []
    foot = next((each.point for each in entries if each.level == stair.lower), None)
    if foot is None:
        return Markup("")
    axis = extent(stair.outline).axis
    near, far = sorted(axis, key=lambda end: geometry.distance(end, foot))
    start, end = draft.view(near), draft.view(far)
    return group(circle(start, 1.4, "np-box"), line(start, end, "np-opening"), arrow_head(start, end))
