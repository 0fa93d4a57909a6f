"""Names on a level's sheet: of rooms inside them, of counters, fixtures, appliances and stairs inside or beside them."""

from collections.abc import Iterator
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Level, Room
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.labels import Label, lettered, place, size_of
from nailplate.sheets.drawing.lettering import fitted
from nailplate.sheets.drawing.measures import dimension, unit_of
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.drawing.room_for import Rectangle, around
from nailplate.sheets.drawing.spots import middle_of
from nailplate.sheets.drawing.svg import Point
from nailplate.survey.index import Survey

_SIZES: Final = (8.6, 7.2, 6.2)
_STEPS: Final = 9
_RECTANGLE: Final = 0.98
"""Of its bounding box: the area from which a room is dimensioned as a rectangle."""
_LONGEST: Final = 150.0
_CUTS: Final = (0.9, 0.6, 0.4)
"""Of a room's width: to what its name is cut where the whole finds no place inside."""
_SHORTEST: Final = 4
_CORNER_WORK: Final = 8
"""Comparisons that a look whether corners lie in a room is worth, for each of its edges."""
_BUILT: Final = 5.8
_FARTHEST: Final = 16.0
"""Points beyond which a name of something built in would be sought elsewhere; the notes have it then."""


def name_rooms(draft: Draft, survey: Survey, level: Level) -> None:
    """Each room's name, and its size where it is a rectangle, as near to its middle as symbols leave room."""
    for room in survey.rooms_on_level.get(level.id, []):
        if room.knows("outline") and not _name_inside(draft, survey, room):
            middle = draft.view(middle_of(room.outline))
            place(draft, Label(_lines(survey, room), _SIZES[-1], middle, 2.0, bold=True))


def _lines(survey: Survey, room: Room) -> tuple[str, ...]:
    left, low, right, high = geometry.bounding_box(room.outline)
    if geometry.area(room.outline) < _RECTANGLE * (right - left) * (high - low):
        return (name_of(room),)
    unit = unit_of(survey.plan)
    return (name_of(room), f"{dimension(right - left, unit)} x {dimension(high - low, unit)}")


def _name_inside(draft: Draft, survey: Survey, room: Room) -> bool:
    lines = _lines(survey, room)
    left, _, right, _ = geometry.bounding_box(draft.view.all(room.outline))
    ways = [(said, size, _LONGEST) for size in _SIZES for said in dict.fromkeys((lines, lines[:1]))]
    for said, size, most in (*ways, *((lines[:1], _SIZES[-1], (right - left) * part) for part in _CUTS)):
        label = Label(said, size, (0.0, 0.0), 0.0, bold=True)
        fit = tuple(fitted(each, size, most, bold=True) for each in said)
        box = _box_inside(draft, room, size_of(fit, size, bold=True))
        if box is not None and len(fit[0]) >= _SHORTEST:
            draft.taken.take(box)
            draft.draw("labels", lettered(box, fit, label))
            return True
    return False


def _box_inside(draft: Draft, room: Room, size: tuple[float, float]) -> Rectangle | None:
    """A free box whose corners are in the room."""
    ring = tuple(draft.view.all(room.outline))
    for center in _middles(ring):
        if not draft.taken.spend(_CORNER_WORK * len(ring)):
            return None
        box = around(center, *size)
        corners = ((box.left, box.top), (box.right, box.top), (box.left, box.bottom), (box.right, box.bottom))
        if all(geometry.contains(ring, each) for each in corners) and draft.taken.is_free(box) and not draft.walls.is_met(box):
            return box
    return None


def _middles(ring: "tuple[Point, ...]") -> Iterator[Point]:
    """Places inside a ring's bounding box, those nearest to its middle first."""
    left, top, right, bottom = geometry.bounding_box(ring)
    middle = ((left + right) / 2, (top + bottom) / 2)
    steps = [(number + 1) / (_STEPS + 1) for number in range(_STEPS)]
    places = [(left + across * (right - left), top + down * (bottom - top)) for across in steps for down in steps]
    return iter(sorted(places, key=lambda each: geometry.distance(each, middle)))


def name_built(draft: Draft, survey: Survey, level: Level) -> None:
    """Names of what is built in or stands on the level, in small letters."""
    for name, shape in _built(survey, level):
        left, low, right, high = geometry.bounding_box(draft.view.all(shape))
        size = size_of((name,), _BUILT)
        box = around(((left + right) / 2, (low + high) / 2), *size)
        if size[0] <= right - left and draft.taken.is_free(box):
            draft.taken.take(box)
            draft.draw("labels", lettered(box, (name,), Label((name,), _BUILT, (0, 0), 0, "np-soft")))
        else:
            reach = min(right - left, high - low) / 2
            place(
                draft,
                Label(
                    (name,),
                    _BUILT,
                    ((left + right) / 2, (low + high) / 2),
                    min(reach, 4.0),
                    "np-soft",
                    most=110.0,
                    farthest=_FARTHEST,
                ),
            )


def _built(survey: Survey, level: Level) -> Iterator[tuple[str, "tuple[Point, ...]"]]:
    plan = survey.plan
    rooms = {room.id for room in survey.rooms_on_level.get(level.id, [])}
    for appliance in plan.appliances.values():
        if appliance.knows("footprint", "room") and appliance.room in rooms:
            yield name_of(appliance), appliance.footprint
    for fixture in plan.fixtures.values():
        if fixture.knows("outline") and fixture.room in rooms:
            yield name_of(fixture), fixture.outline
    for counter in plan.counters.values():
        if counter.knows("outline") and counter.room in rooms:
            yield name_of(counter), counter.outline
    for stair in plan.stairs.values():
        if stair.knows("outline") and stair.lower == level.id:
            yield name_of(stair), stair.outline
