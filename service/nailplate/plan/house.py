"""The building as drawn: levels, walls, openings, rooms, stairs, counters and what is built in.

Geometry is absolute in the plane of a level, x to the right and y up, in inches inside the service; heights count from that
level's finished floor (outdoors: grade, or the deck).
"""

from typing import Annotated

from nailplate.plan import words
from nailplate.plan.facts import AtMost, Doc, Due, Facts, Items, Key, Needed, Part, Stage, drawn
from nailplate.plan.marks import (
    Count,
    CounterId,
    CountOrNone,
    Distance,
    Height,
    Length,
    LevelId,
    Line,
    Outline,
    Point,
    RoomId,
    WallId,
)


@drawn
class WallPlace(Facts):
    """A place on a wall."""

    wall: Annotated[WallId, Doc("the wall"), Needed]
    along: Annotated[Distance, Doc("from the wall's `from` point to the center, along the wall")]
    height: Annotated[Height, Doc("of the center above the level's finished floor (outdoors: grade or deck)")]
    side: Annotated[words.Side, Doc("the wall's face, seen from its `from` toward its `to`")]


@drawn
class RoomPlace(Facts):
    """A place in a room, free of walls (ceiling, floor, counter)."""

    room: Annotated[RoomId, Doc("the room"), Needed]
    point: Annotated[Point, Doc("in the plane of the level")]
    height: Annotated[Height, Doc("above the level's finished floor")]


Place = WallPlace | RoomPlace


@drawn
class Layer(Facts):
    """One layer of finish."""

    material: Annotated[str, Doc("what it is"), Needed]
    thickness: Annotated[Length, Doc("of the layer")]
    combustible: Annotated[bool, Doc("whether it is combustible (wood, plywood)")]


@drawn
class CeilingLine(Facts):
    """A line of a sloped ceiling with one height; between neighbouring lines the ceiling is plane."""

    line: Annotated[Line, Doc("eave, ridge or break, in the plane of the level"), Needed]
    height: Annotated[Length, Doc("of the ceiling at that line"), Needed]


@drawn
class Ceiling(Facts):
    """A ceiling: one height, or a profile of lines."""

    height: Annotated[Length, Doc("of a flat ceiling")]
    profile: Annotated[tuple[CeilingLine, ...], Doc("lines of a sloped ceiling, in order across the slope"), Items(2, 20)]
    finish: Annotated[tuple[Layer, ...], Doc("layers of finish from framing downward"), Items(0, 10)]
    cavity: Annotated[words.Cavity, Doc("what fills the framing over it")]
    decking: Annotated[
        words.Decking, Doc("the roof decking straight over its cavity; `none` where attic or floor lies between")
    ]
    accessible: Annotated[bool, Doc("whether it opens without damage to its finish, as lay-in tiles do"), Due(Stage.ROUGH_IN)]


@drawn
class Level(Part):
    """One level of the house, or the ground around it."""

    kind: Annotated[words.LevelKind, Doc("what the level is"), Needed]
    elevation: Annotated[Height, Doc("of its finished floor above the main floor or another datum of the caller's")]
    ceiling: Annotated[Ceiling, Doc("the usual ceiling of the level")]
    floor_cavity: Annotated[words.Cavity, Doc("what fills the framing of its floor; `none` is a fact")]
    attic_access: Annotated[words.AtticAccess, Doc("how an attic is reached; `none` is a fact")]


@drawn
class Finishes(Facts):
    """The finish layers on both sides of a wall, from framing outward."""

    left: Annotated[tuple[Layer, ...], Doc("on the left side"), Items(0, 10)]
    right: Annotated[tuple[Layer, ...], Doc("on the right side"), Items(0, 10)]


@drawn
class Framing(Facts):
    """The framing of a wall."""

    member: Annotated[words.Member, Doc("nominal size of the studs")]
    spacing: Annotated[Length, Doc("on center")]
    first_stud: Annotated[
        Distance,
        Doc("of the layout: its center, from the wall's `from` point; the others follow at the spacing"),
        Due(Stage.ROUGH_IN),
    ]
    studs: Annotated[
        tuple[Distance, ...],
        Doc(
            "centers of studs from the wall's `from` point: those that stand off the layout, or without `first_stud` all of them; those at "
            "its ends and beside its openings may be left out"
        ),
        Items(0, 400),
    ]
    material: Annotated[words.FramingMaterial, Doc("what the framing is made of")]
    bearing: Annotated[bool, Doc("whether the wall carries load")]


_CORNERS = (
    "one end of the center line, x to the right and y up; where it meets another wall it stands on that wall's center line, near face or "
    "far face, or one of the two runs through: all give the same findings"
)


@drawn
class Wall(Part):
    """A wall, half wall, railing or glass wall, drawn by its center line; left and right are seen from `from` toward `to`."""

    level: Annotated[LevelId, Doc("the level it stands on"), Needed]
    start: Annotated[Point, Key("from"), Doc(_CORNERS), Needed]
    end: Annotated[Point, Key("to"), Doc("the other end, drawn alike"), Needed]
    thickness: Annotated[Length, Doc("over everything, finish included")]
    height: Annotated[Length, Doc("of the wall; absent: to the ceiling")]
    kind: Annotated[words.WallKind, Doc("what it is"), Needed]
    face: Annotated[words.Face, Doc("the face of the house that an exterior wall belongs to")]
    framing: Annotated[Framing, Doc("studs")]
    cavity: Annotated[words.Cavity, Doc("what fills it")]
    finish: Annotated[Finishes, Doc("finish layers on each side")]
    fire_rated: Annotated[bool, Doc("whether it is a fire-rated assembly")]


@drawn
class Opening(Part):
    """A door, window or other opening in a wall."""

    wall: Annotated[WallId, Doc("the wall it is in"), Needed]
    along: Annotated[Distance, Doc("from the wall's `from` point to the nearer framed edge"), Needed]
    width: Annotated[Length, Doc("framed width, on toward the wall's `to` point"), Needed]
    sill: Annotated[Distance, Doc("height of its lower edge above the floor")]
    head: Annotated[Length, Doc("height of its upper edge above the floor")]
    kind: Annotated[words.OpeningKind, Doc("what it is"), Needed]
    header: Annotated[Distance, Doc("depth of the header over it; 0 where nothing but its frame is there")]
    panels: Annotated[tuple[words.SliderPanel, ...], Doc("a slider's panels in order along the wall"), Items(1, 12)]
    hinge: Annotated[words.Hinge, Doc("the edge it is hinged at, by the end of the wall that is nearer")]
    swing: Annotated[words.Side, Doc("the side that a hinged leaf opens to")]
    leads_to: Annotated[RoomId, Doc("the room, or outdoor place, on the far side of an entrance")]
    stays_open: Annotated[bool, Doc("an opening without a leaf that closes")]


@drawn
class Room(Part):
    """A room, an area of an open plan, or an outdoor place (porch, deck, pad)."""

    level: Annotated[LevelId, Doc("the level it is on"), Needed]
    outline: Annotated[Outline, Doc("along the finished inside faces: the floor line")]
    uses: Annotated[tuple[words.Use, ...], Doc("what it is used for"), Items(1, 10), Needed]
    ceiling: Annotated[Ceiling, Doc("where it differs from the level's")]
    finished: Annotated[bool, Doc("whether a basement, attic or garage is finished")]
    habitable: Annotated[bool, Doc("whether an accessory building or basement is fit for living in")]
    has_power: Annotated[bool, Doc("whether a detached garage or accessory building has electric power")]
    attached: Annotated[bool, Doc("whether a garage is attached to the house")]
    vehicle_bays: Annotated[CountOrNone, AtMost(20), Doc("how many vehicles a garage holds")]
    floor_above_grade: Annotated[Height, Doc("of the floor above the ground outside it")]
    gap_to_house: Annotated[Distance, Doc("horizontal gap between a deck, porch or balcony and the house")]
    steps_to_grade: Annotated[bool, Doc("whether one can step down to grade from it")]
    face: Annotated[words.Face, Doc("the face of the house that an outdoor place lies at")]
    exposure: Annotated[words.Exposure, Doc("how wet it gets")]
    equipment_needs_service: Annotated[bool, Doc("whether storage or utility space holds equipment that needs service")]


@drawn
class StairEntry(Facts):
    """A place where one enters a stair: a level, or a landing with a door."""

    level: Annotated[LevelId, Doc("the level it is entered from")]
    room: Annotated[RoomId, Doc("the room it is entered from")]
    point: Annotated[Point, Doc("where one steps on")]
    height: Annotated[Distance, Doc("of a landing above the lower floor")]


@drawn
class Stair(Part):
    """A stair or ladder between two levels. Its outline may lie over the space beneath it."""

    lower: Annotated[LevelId, Doc("the level it rises from"), Needed]
    upper: Annotated[LevelId, Doc("the level it rises to"), Needed]
    kind: Annotated[words.StairKind, Doc("how one climbs"), Needed]
    risers: Annotated[Count, Doc("number of risers between the two floors")]
    outline: Annotated[Outline, Doc("in the plane of the lower level")]
    opening: Annotated[Outline, Doc("the opening in the upper level's floor")]
    entries: Annotated[tuple[StairEntry, ...], Doc("levels and landings that one enters it from"), Items(1, 10)]


@drawn
class Counter(Part):
    """A counter, island, peninsula, bar or fixed cabinet."""

    room: Annotated[RoomId, Doc("the room it stands in"), Needed]
    kind: Annotated[words.CounterKind, Doc("what it is"), Needed]
    back: Annotated[Line, Doc("its back line along the wall, or the side it is joined by")]
    outline: Annotated[Outline, Doc("of the top, overhang included")]
    facing: Annotated[words.Side, Doc("the side of the back line that its front lies on, seen along the line")]
    depth: Annotated[Length, Doc("from the back line to the front edge of the top")]
    height: Annotated[Length, Doc("of the top above the floor")]
    overhang: Annotated[Distance, Doc("of the top beyond its support on the seating side")]
    has_top: Annotated[bool, Doc("whether it carries a countertop or work surface")]
    backsplash: Annotated[Distance, Doc("height of the backsplash above the top")]
    provision: Annotated[words.FutureOutlet, Doc("what is provided for a later outlet")]


@drawn
class Fixture(Part):
    """Something built in: a sink, tub, toilet, fireplace, closet rod, bed, duct."""

    room: Annotated[RoomId, Doc("the room it is in"), Needed]
    kind: Annotated[words.FixtureKind, Doc("what it is"), Needed]
    outline: Annotated[Outline, Doc("its outside edge")]
    bowl: Annotated[Outline, Doc("top inside edge of a sink's bowl")]
    rim_height: Annotated[Distance, Doc("of a tub's rim or a shower's threshold above the floor")]
    height: Annotated[Distance, Doc("of a basin, rod, shelf, duct or bed above the floor")]
    depth: Annotated[Length, Doc("of a shelf, from the wall")]
    enclosure: Annotated[words.Enclosure, Doc("what closes off a tub or shower")]
    depth_behind: Annotated[Distance, Doc("of the counter behind a sink, range or cooktop")]
    in_corner: Annotated[bool, Doc("whether a sink or cooktop sits across a corner")]
    counter: Annotated[CounterId, Doc("the counter it is set in")]
