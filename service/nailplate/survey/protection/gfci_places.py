"""The places of a dwelling in which a receptacle is protected from ground faults, by code edition, and which of them it is in.

Places that depend on how a room is used come first, then those measured by cord path. A use that fills only part of a room
(the kitchen of a one-room house) is contested there, since the code does not say where it ends, unless what the receptacle
serves settles it. An indoor place is damp or wet only where the plan says so. Boathouses are not drawn in plans.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from nailplate.calc.geometry import contains, distance_to_outline, distance_to_segment
from nailplate.codes import GfciItem, GfciLocations
from nailplate.plan import Counter, Device, Fixture, Pointer, Room, UnknownFact
from nailplate.plan.trade import BATH_FIXTURES, HABITABLE, KITCHEN_APPLIANCES, LAUNDRY_MACHINES
from nailplate.plan.words import (
    ApplianceKind,
    CounterKind,
    Exposure,
    FixtureKind,
    LevelKind,
    Listing,
    Mount,
    Purpose,
    Use,
)
from nailplate.survey.index import Survey
from nailplate.survey.names import kind_words, name_of
from nailplate.survey.places import Standing, standing
from nailplate.survey.protection.cords import DOORWAYS, DOORWAYS_AND_WINDOWS, NOTHING, CordReach, sink_in_reach, tub_in_reach
from nailplate.survey.protection.ratings import NO_ROOM, appliances_served
from nailplate.units import inches, reaches, shown, within


@dataclass(frozen=True, slots=True)
class GfciPlace:
    """One listed place that a receptacle is in: its item, the words for it, and how far it is where that decides.

    ``other_reading`` says how the words can be read so that the receptacle is not in it; empty where nobody would.
    """

    item: GfciItem
    words: str
    other_reading: str = ""
    fixture: Fixture | None = None
    length: float | None = None


@dataclass(frozen=True, slots=True)
class GfciPlaces:
    """The listed places of one receptacle, the facts missing about others, and whether a cord path was given up."""

    found: tuple[GfciPlace, ...]
    unknown: tuple[Pointer, ...]
    given_up: bool = False


def places_by_room(survey: Survey, device: Device, listed: GfciLocations) -> GfciPlaces:
    """The listed places that follow from where a receptacle stands and what it serves."""
    try:
        where = standing(survey, device)
    except UnknownFact as missing:
        return GfciPlaces((), (missing.pointer,))
    if where.outside:
        found = (GfciPlace(GfciItem.OUTDOORS, "it is outdoors"),) if listed.lists(GfciItem.OUTDOORS) else ()
        return GfciPlaces(found, ())
    if where.room is None:
        return GfciPlaces((), (NO_ROOM,))
    return _looked(_Spot(survey, device, where, where.room, listed))


def _looked(spot: "_Spot") -> GfciPlaces:
    found: list[GfciPlace] = []
    unknown: list[Pointer] = []
    for item, look in _LOOKS.items():
        if not spot.listed.lists(item):
            continue
        try:
            place = look(spot)
        except UnknownFact as missing:
            unknown.append(missing.pointer)
        else:
            found += [place] if place else []
    return GfciPlaces(tuple(found), tuple(dict.fromkeys(unknown)))


def places_by_cord(survey: Survey, device: Device, listed: GfciLocations) -> GfciPlaces:
    """The listed places that follow from the path of a cord to a sink, tub or shower.

    In 2017 a cord stops at doors and doorways, and so at the door of the cabinet that a receptacle is in.
    """
    through = DOORWAYS_AND_WINDOWS if listed.through_windows else DOORWAYS if listed.through_doorways else NOTHING
    if not listed.through_doorways and device.knows("in_cabinet") and device.in_cabinet:
        return GfciPlaces((), ())
    try:
        sink = sink_in_reach(survey, device, through=through)
        tub = tub_in_reach(survey, device, through=through)
    except UnknownFact as missing:
        return GfciPlaces((), (missing.pointer,))
    listed_ones = [(item, reach) for item, reach in ((GfciItem.SINK, sink), (GfciItem.TUB, tub)) if listed.lists(item)]
    found = tuple(place for item, reach in listed_ones for place in _measured(survey, item, reach))
    unknown = tuple(pointer for _, reach in listed_ones for pointer in reach.unknown)
    return GfciPlaces(found, unknown, any(reach.given_up for _, reach in listed_ones))


def _measured(survey: Survey, item: GfciItem, reach: CordReach) -> Iterable[GfciPlace]:
    if reach.nearest is None:
        return
    fixture, length = reach.nearest.fixture, reach.nearest.length
    room = survey.plan.rooms[fixture.room]
    what = f"the {kind_words(fixture.kind)} {name_of(fixture)} in {name_of(room)}"
    edge = "top inside edge of the bowl" if item is GfciItem.SINK else "outside edge"
    how_far = f"{shown(inches(length))} from" if length is not None else "within 6 ft of"
    yield GfciPlace(item, f"it is {how_far} the {edge} of {what} along the path of a cord", "", fixture, length)


@dataclass(frozen=True, slots=True)
class _Spot:
    survey: Survey
    device: Device
    where: Standing
    room: Room
    listed: GfciLocations

    def has(self, *uses: Use) -> bool:
        return any(use in self.room.uses for use in uses)

    def on(self, kind: LevelKind) -> bool:
        return self.survey.plan.levels[self.room.level].kind is kind

    def fixtures(self) -> set[FixtureKind]:
        return {fixture.kind for fixture in self.survey.fixtures_in_room.get(self.room.id, [])}

    def serves(self, kinds: frozenset[ApplianceKind]) -> bool:
        return any(appliance.kind in kinds for appliance in appliances_served(self.survey, self.device))

    def shares(self, *companions: Use) -> bool:
        """Whether the room is used for something that does not go with ``companions`` as a matter of course."""
        return not set(self.room.uses) <= {*companions, Use.CLOSET, Use.STORAGE, Use.UTILITY}


def _bathroom(spot: _Spot) -> GfciPlace | None:
    room, fixtures = name_of(spot.room), spot.fixtures()
    if spot.has(Use.BATHROOM):
        ends = f"the bathroom is only part of {room}" if spot.shares(Use.BATHROOM, Use.TOILET, Use.LAUNDRY) else ""
        return GfciPlace(GfciItem.BATHROOM, f"it is in the bathroom {room}", ends)
    if spot.has(Use.TOILET) and FixtureKind.BASIN not in fixtures:
        return GfciPlace(GfciItem.BATHROOM, f"{room} is part of a bathroom area", f"{room} has no basin and is no bathroom")
    if FixtureKind.BASIN in fixtures and fixtures & BATH_FIXTURES:
        ends = "" if spot.has(Use.TOILET) else f"the bathroom is only part of {room}"
        return GfciPlace(GfciItem.BATHROOM, f"a basin and a toilet, tub or shower make {room} a bathroom", ends)
    return None


def _garage(spot: _Spot) -> GfciPlace | None:
    return GfciPlace(GfciItem.GARAGE, f"it is in the garage {name_of(spot.room)}") if spot.has(Use.GARAGE) else None


def _accessory(spot: _Spot) -> GfciPlace | None:
    room = spot.room
    if not spot.has(Use.ACCESSORY) or room.habitable:
        return None
    if not spot.listed.raised_accessory_floors and not reaches(0.0, room.floor_above_grade):
        return None
    floor = "" if spot.listed.raised_accessory_floors else " with its floor at or below grade"
    return GfciPlace(GfciItem.ACCESSORY, f"it is in the accessory building {name_of(room)}, not habitable{floor}")


def _outdoors(spot: _Spot) -> GfciPlace | None:
    is_outdoors = spot.has(Use.OUTDOORS, Use.PORCH, Use.DECK, Use.BALCONY)
    return GfciPlace(GfciItem.OUTDOORS, f"it is outdoors ({name_of(spot.room)})") if is_outdoors else None


def _crawl_space(spot: _Spot) -> GfciPlace | None:
    if not (spot.has(Use.CRAWL_SPACE) or spot.on(LevelKind.CRAWL_SPACE)):
        return None
    if spot.room.knows("floor_above_grade") and not reaches(0.0, spot.room.floor_above_grade):
        return None
    return GfciPlace(GfciItem.CRAWL_SPACE, f"it is in the crawl space {name_of(spot.room)}")


def _basement(spot: _Spot) -> GfciPlace | None:
    if not (spot.has(Use.BASEMENT) or spot.on(LevelKind.BASEMENT)):
        return None
    if spot.listed.finished_basements:
        return GfciPlace(GfciItem.BASEMENT, f"it is in the basement ({name_of(spot.room)})")
    if spot.has(*HABITABLE) or (spot.room.knows("habitable") and spot.room.habitable) or spot.room.finished:
        return None
    return GfciPlace(GfciItem.BASEMENT, f"it is in an unfinished part of the basement ({name_of(spot.room)})")


def _kitchen(spot: _Spot) -> GfciPlace | None:
    if not spot.has(Use.KITCHEN):
        return None
    room = name_of(spot.room)
    serves_counter = GfciPlace(GfciItem.KITCHEN, f"it serves the countertop of the kitchen {room}")
    if not spot.listed.whole_kitchens:
        return serves_counter if _serves_counter(spot) else None
    if not spot.shares(Use.KITCHEN, Use.PANTRY) or spot.serves(KITCHEN_APPLIANCES):
        return GfciPlace(GfciItem.KITCHEN, f"it is in the kitchen {room}")
    try:
        if _serves_counter(spot):
            return serves_counter
    except UnknownFact:  # unknown: then it may be in the kitchen's part or not, as any other receptacle of the room
        pass
    return GfciPlace(GfciItem.KITCHEN, f"it is in {room}, which is a kitchen", f"the kitchen is only part of {room}")


_FOOD_SINKS: Final = frozenset({FixtureKind.BAR_SINK, FixtureKind.KITCHEN_SINK})
_DEEPEST_TOP: Final = 26.0  # inches from the back of a top to its front edge (common practice)
_ON_A_COUNTER: Final = frozenset({ApplianceKind.MICROWAVE})


def _food_area(spot: _Spot) -> GfciPlace | None:
    fixtures = spot.fixtures()
    if spot.has(Use.KITCHEN) or not fixtures & _FOOD_SINKS:
        return None
    room = name_of(spot.room)
    ends = (
        f"the place with the sink is only part of {room}" if spot.shares(Use.PANTRY) and not _is_at_sinks_counter(spot) else ""
    )
    return GfciPlace(GfciItem.FOOD_AREA, f"it is in {room}, where a sink stands to prepare food or drink", ends)


def _is_at_sinks_counter(spot: _Spot) -> bool:
    """Whether a receptacle stands over the very counter that holds the sink, which nobody takes for another part of the room."""
    sinks = [
        each for each in spot.survey.fixtures_in_room.get(spot.room.id, []) if each.kind in _FOOD_SINKS and each.knows("bowl")
    ]
    counters = [each for each in spot.survey.counters_in_room.get(spot.room.id, []) if each.knows("height")]
    if _is_low(spot) or (spot.device.knows("in_cabinet") and spot.device.in_cabinet):
        return False
    return any(_is_over(spot, each) and any(_holds(each, sink) for sink in sinks) for each in counters)


def _holds(counter: Counter, sink: Fixture) -> bool:
    """Whether every corner of a sink's bowl is within a counter's depth of its back, or inside its outline."""
    if counter.knows("outline"):
        return all(contains(counter.outline, corner) for corner in sink.bowl)
    backs = list(zip(counter.back, counter.back[1:], strict=False))
    return all(min(distance_to_segment(corner, back) for back in backs) <= _DEEPEST_TOP for corner in sink.bowl)


def _laundry(spot: _Spot) -> GfciPlace | None:
    circuit = spot.survey.plan.circuits[spot.device.circuit] if spot.device.knows("circuit") else None
    if spot.serves(LAUNDRY_MACHINES) or (circuit and circuit.knows("purpose") and circuit.purpose is Purpose.LAUNDRY):
        return GfciPlace(GfciItem.LAUNDRY, "it serves laundry equipment")
    if not spot.has(Use.LAUNDRY):
        return None
    ends = f"the laundry is only part of {name_of(spot.room)}" if spot.shares(Use.LAUNDRY) else ""
    return GfciPlace(GfciItem.LAUNDRY, f"it is in the laundry area {name_of(spot.room)}", ends)


def _damp(spot: _Spot) -> GfciPlace | None:
    stated = [each.exposure for each in (spot.room, spot.device) if each.knows("exposure")]
    wet = next((each for each in stated if each is not Exposure.DRY), None)
    if wet is None:
        return None
    return GfciPlace(GfciItem.DAMP, f"it is in a {wet} place in {name_of(spot.room)}")


_LOOKS: Final[Mapping[GfciItem, Callable[[_Spot], GfciPlace | None]]] = {
    GfciItem.BATHROOM: _bathroom,
    GfciItem.GARAGE: _garage,
    GfciItem.ACCESSORY: _accessory,
    GfciItem.OUTDOORS: _outdoors,
    GfciItem.CRAWL_SPACE: _crawl_space,
    GfciItem.BASEMENT: _basement,
    GfciItem.KITCHEN: _kitchen,
    GfciItem.FOOD_AREA: _food_area,
    GfciItem.LAUNDRY: _laundry,
    GfciItem.DAMP: _damp,
}


# Serving a countertop

_AT_THE_COUNTER: Final = 3.0  # inches between a receptacle and a counter's back or edge that still make it one at the counter
_LOWEST_AT_A_COUNTER: Final = 24.0  # inches: below this, nothing on a wall serves a countertop (common practice)


def _serves_counter(spot: _Spot) -> bool:
    """Whether a receptacle is one that serves a countertop.

    By its listing or mount, or by standing over a counter's back line or outline at its top's height or above. One in a cabinet
    or in an appliance's space, or that serves only kitchen appliances with a place of their own, does not.
    """
    device = spot.device
    if device.knows("listing") and device.listing in (Listing.COUNTERTOP, Listing.WORK_SURFACE):
        return True
    if device.knows("mount") and device.mount in (Mount.COUNTERTOP, Mount.BELOW_COUNTER):
        return True
    served = appliances_served(spot.survey, device)
    if device.knows("dedicated_space") or (device.knows("in_cabinet") and device.in_cabinet):
        return False
    if (served and all(each.kind in KITCHEN_APPLIANCES - _ON_A_COUNTER for each in served)) or _is_low(spot):
        return False
    counters = spot.survey.counters_in_room.get(spot.room.id, [])
    if not counters:
        raise UnknownFact(Pointer("/counters"))
    return any(_is_over(spot, counter) for counter in counters)


def _is_low(spot: _Spot) -> bool:
    return not reaches(spot.where.height, _LOWEST_AT_A_COUNTER)


def _is_over(spot: _Spot, counter: Counter) -> bool:
    if counter.kind is CounterKind.TALL_CABINET or (counter.knows("has_top") and not counter.has_top):
        return False
    if counter.knows("outline"):
        off = distance_to_outline(spot.where.point, counter.outline)
    else:
        off = min(distance_to_segment(spot.where.point, side) for side in zip(counter.back, counter.back[1:], strict=False))
    if not within(off, _AT_THE_COUNTER):
        return False
    below = spot.survey.inches("island_receptacle_below_top") if counter.kind is not CounterKind.WALL else 0.0
    return reaches(spot.where.height, counter.height - below)
