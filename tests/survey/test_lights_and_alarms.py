"""Ways into rooms, what switches what, what lights a stair, and where alarms stand: what the rules about light and alarms rest on."""

from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nailplate.plan import Plan, UnknownFact
from nailplate.rules.placement.alarm_clearances import Nuisance, clear_spot, sources_near
from nailplate.rules.placement.carbon_monoxide import carbon_monoxide_sources
from nailplate.rules.switching.stair_lights import lights_over, places
from nailplate.survey import Survey
from nailplate.survey.lights.alarms import VICINITY, outside, smoke_alarms
from nailplate.survey.lights.room_lights import nearest_to_entrance, open_to, room_light
from nailplate.survey.lights.switch_points import controlled, lights
from nailplate.survey.space.ceilings import highest_ceiling
from nailplate.survey.space.entrances import entrances, rooms_beside
from rules.judging import loaded


def plan(**maps: Any) -> Plan:
    return loaded({"plan_format": 1, "name": "survey", "basis": {"edition": "2023"}, **maps})


def box(left: float, bottom: float, right: float, top: float) -> list[list[float]]:
    return [[left, bottom], [right, bottom], [right, top], [left, top]]


def two_rooms(**more: Any) -> Plan:
    """A living room with an open edge to a kitchen on its right, and a bedroom above it behind a wall with a door."""
    return plan(
        **{
            "levels": {"m": {"kind": "storey", "ceiling": {"height": 96}}},
            "walls": {"n": {"level": "m", "from": [0, 122.25], "to": [240, 122.25], "thickness": 4.5, "kind": "interior"}},
            "openings": {"door": {"wall": "n", "along": 40, "width": 30, "kind": "door"}},
            "rooms": {
                "living": {"level": "m", "uses": ["living"], "outline": box(0, 0, 120, 120)},
                "kitchen": {"level": "m", "uses": ["kitchen"], "outline": box(120, 0, 240, 120)},
                "bed": {"level": "m", "uses": ["bedroom"], "outline": box(0, 124.5, 240, 244.5)},
            },
            **more,
        }
    )


def test_a_door_is_a_way_into_both_rooms_and_an_open_edge_too() -> None:
    survey = Survey(two_rooms())
    assert [way.name for way in entrances(survey, "bed")] == ["'door'"]
    assert [(way.name, way.is_open) for way in entrances(survey, "living")] == [
        ("'door'", False),
        ("the open side toward 'kitchen'", True),
    ]
    assert [room.id for room in open_to(survey, "living")] == ["kitchen"]
    left, right = rooms_beside(survey, survey.plan.openings["door"])
    assert left is not None
    assert right is not None
    assert (left.id, right.id) == ("bed", "living")


def test_a_wall_without_thickness_still_has_its_rooms_beside_it() -> None:
    drawn = two_rooms(walls={"n": {"level": "m", "from": [0, 122.25], "to": [240, 122.25], "kind": "interior"}})
    rooms = rooms_beside(Survey(drawn), drawn.openings["door"])
    assert [room.id for room in rooms if room] == ["bed", "living"]


def test_a_distance_to_an_entrance_is_to_its_nearest_edge() -> None:
    """The door runs from 40 to 70 in along the wall; a switch at 100 in on the same wall's line is 30 in away."""
    drawn = two_rooms(
        devices={
            "light": {"kind": "luminaire", "at": {"room": "bed", "point": [60, 200]}},
            "sw": {"kind": "switch", "at": {"room": "bed", "point": [100, 122.25]}, "mount": "wall"},
        },
        controls={"c": {"switches": ["sw"], "outlets": ["light"]}},
    )
    survey = Survey(drawn)
    found = room_light(survey, "bed", receptacles=False, automatic=False)
    reach = nearest_to_entrance(survey, "bed", found.points)
    assert reach is not None
    assert reach.away == pytest.approx(30.0)


@pytest.mark.parametrize(
    ("kind", "facts", "automatic", "counts"),
    [
        ("switch", {}, False, True),
        ("dimmer", {}, False, True),
        ("timer", {}, False, True),
        ("fan_control", {}, False, False),
        ("sensor", {"override": True}, False, True),
        ("sensor", {"override": False}, False, False),
        ("sensor", {"override": False}, True, True),
    ],
)
def test_what_counts_as_a_control(kind: str, facts: dict[str, bool], automatic: bool, counts: bool) -> None:
    drawn = two_rooms(
        devices={
            "light": {"kind": "luminaire", "at": {"room": "bed", "point": [60, 200]}},
            "sw": {"kind": kind, "at": {"wall": "n", "along": 90, "side": "left"}, **facts},
        },
        controls={"c": {"switches": ["sw"], "outlets": ["light"]}},
    )
    found = controlled(Survey(drawn), (drawn.devices["light"],), automatic=automatic)
    assert bool(found.points) is counts
    assert found.needs == ()


def test_a_light_in_an_appliance_is_no_lighting_outlet() -> None:
    drawn = two_rooms(
        appliances={"hood": {"kind": "range_hood"}},
        devices={"lamp": {"kind": "luminaire", "at": {"room": "kitchen", "point": [200, 60]}, "part_of": "hood"}},
    )
    assert not lights(Survey(drawn)).any


def test_a_light_on_the_wall_beside_a_stair_lights_it() -> None:
    drawn = two_rooms(
        levels={"m": {"kind": "storey"}, "u": {"kind": "storey"}},
        stairs={
            "s": {
                "lower": "m",
                "upper": "u",
                "kind": "stair",
                "outline": box(80, 84, 220, 120),
                "entries": [{"level": "m", "point": [76, 100]}, {"level": "m", "point": [150, 84], "height": 50}],
            }
        },
        devices={
            "beside": {"kind": "luminaire", "at": {"wall": "n", "along": 120, "height": 90, "side": "right"}},
            "far": {"kind": "luminaire", "at": {"room": "living", "point": [20, 20]}},
        },
    )
    survey = Survey(drawn)
    stair = drawn.stairs["s"]
    assert [light.id for light in lights_over(survey, stair)] == ["beside"]
    assert [place.name for place in places(survey, stair)] == ["'m'", "'u'", "the landing 1"]


def alarm(x: float, y: float, room: str, **facts: object) -> dict[str, object]:
    return {"kind": "smoke_alarm", "at": {"room": room, "point": [x, y]}, **facts}


def test_the_way_to_an_alarm_goes_through_the_door_and_not_through_the_wall() -> None:
    """From the middle of the door, (55, 122.25), to an alarm in the living room at (55, 22.25): 100 in."""
    drawn = two_rooms(devices={"out": alarm(55, 22.25, "living")})
    found = outside(Survey(drawn), drawn.rooms["bed"], smoke_alarms(Survey(drawn)))
    assert found is not None
    assert found.near
    assert found.away == pytest.approx(100.0)


def test_an_alarm_beyond_the_vicinity_is_told_as_far() -> None:
    far = two_rooms(
        rooms={
            "living": {"level": "m", "uses": ["living"], "outline": box(0, -400, 120, 120)},
            "bed": {"level": "m", "uses": ["bedroom"], "outline": box(0, 124.5, 240, 244.5)},
        },
        devices={"out": alarm(55, 122.25 - VICINITY - 1, "living")},
    )
    survey = Survey(far)
    found = outside(survey, far.rooms["bed"], smoke_alarms(survey))
    assert found is not None
    assert not found.near


def test_a_heat_alarm_is_no_smoke_alarm() -> None:
    drawn = two_rooms(devices={"heat": alarm(55, 22, "living", sensing="heat"), "smoke": alarm(60, 22, "living")})
    assert [each.device.id for each in smoke_alarms(Survey(drawn)).placed] == ["smoke"]


@given(x=st.integers(10, 110), y=st.integers(10, 110), least=st.integers(10, 120))
def test_a_clear_spot_is_clear_and_none_is_nearer_on_the_raster(x: int, y: int, least: int) -> None:
    """Measured by shapely: the spot keeps the distance; if none is found, no corner of the room does by a step's length."""
    drawn = two_rooms(
        appliances={"range": {"kind": "range", "room": "kitchen", "footprint": box(120, 40, 145, 70)}},
        devices={"a": alarm(x, y, "living")},
    )
    survey = Survey(drawn)
    placed = smoke_alarms(survey).placed[0]
    near = sources_near(survey, placed)
    cooking = shapely.box(120, 40, 145, 70)
    spot = clear_spot(drawn.rooms["living"], near, {Nuisance.COOKING: float(least)}, (float(x), float(y)))
    if spot is not None:
        assert cooking.distance(shapely.Point(spot)) >= least - 1e-9
        assert shapely.box(0, 0, 120, 120).covers(shapely.Point(spot))
    else:
        assert max(cooking.distance(shapely.Point(corner)) for corner in box(6, 6, 114, 114)) < least


def test_nothing_burns_in_an_electric_house_and_a_missing_fuel_is_asked_for() -> None:
    electric = two_rooms(appliances={"range": {"kind": "range", "room": "kitchen", "fuel": "none"}})
    unsaid = two_rooms(appliances={"range": {"kind": "range", "room": "kitchen"}, "washer": {"kind": "clothes_washer"}})
    assert carbon_monoxide_sources(Survey(electric)).found == ()
    assert carbon_monoxide_sources(Survey(electric)).needs == ()
    assert carbon_monoxide_sources(Survey(unsaid)).needs == ("/appliances/range/fuel",)


def test_the_highest_ceiling_of_a_slope_is_its_ridge() -> None:
    profile = [{"line": [[0, 0], [120, 0]], "height": 96}, {"line": [[0, 60], [120, 60]], "height": 130}]
    drawn = two_rooms(
        rooms={
            "living": {"level": "m", "uses": ["living"], "outline": box(0, 0, 120, 120), "ceiling": {"profile": profile}},
            "bed": {"level": "m", "uses": ["bedroom"]},
        }
    )
    assert highest_ceiling(Survey(drawn), drawn.rooms["living"]) == 130
    assert highest_ceiling(Survey(drawn), drawn.rooms["bed"]) == 96


def test_a_level_without_a_ceiling_asks_for_it() -> None:
    drawn = two_rooms(levels={"m": {"kind": "storey"}})
    with pytest.raises(UnknownFact) as missing:
        highest_ceiling(Survey(drawn), drawn.rooms["bed"])
    assert missing.value.pointer == "/levels/m/ceiling"
