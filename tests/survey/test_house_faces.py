"""The outside of a house, its bays and its open portions, on small plans worked out by hand."""

import json
from typing import Any

import pytest

from nailplate.plan import Plan, UnknownFact
from nailplate.plan.words import Face
from nailplate.remedies.added_outdoors import place_on_face
from nailplate.rules.placement.open_plan import open_to
from nailplate.survey import Survey
from nailplate.survey.outdoors.house_faces import outdoor_place_at, outside_receptacles, walls_of_face
from nailplate.survey.space.garage_bays import bays, empty_bays
from nailplate.wire import read_plan


def square(x: float, y: float, x2: float, y2: float) -> list[list[float]]:
    return [[x, y], [x2, y], [x2, y2], [x, y2]]


def plan(**more: Any) -> Plan:
    document = {"plan_format": 1, "name": "outside", "basis": {"edition": "2023"}, **more}
    return read_plan(json.dumps(document).encode())


LEVELS = {
    "main": {"kind": "storey", "elevation": 0},
    "upper": {"kind": "storey", "elevation": 108},
    "balcony": {"kind": "deck", "elevation": 107},
    "grade": {"kind": "grade", "elevation": -18},
}
YARD = {"level": "grade", "outline": square(0, 100, 300, 300), "uses": ["outdoors"], "face": "back"}
BALCONY = {"level": "balcony", "outline": square(50, 100, 150, 160), "uses": ["balcony"], "face": "back"}


@pytest.mark.parametrize(("level", "place"), [("main", "yard"), ("upper", "balcony")])
def test_of_two_places_over_each_other_the_one_at_the_floor_is_meant(level: str, place: str) -> None:
    survey = Survey(plan(levels=LEVELS, rooms={"yard": YARD, "balcony": BALCONY}))
    found = outdoor_place_at(survey, (100.0, 102.0), level)
    assert found is not None
    assert found.id == place


def test_two_places_over_each_other_without_elevations_are_asked_for() -> None:
    levels = {name: {"kind": level["kind"]} for name, level in LEVELS.items()}
    survey = Survey(plan(levels=levels, rooms={"yard": YARD, "balcony": BALCONY}))
    with pytest.raises(UnknownFact, match="/levels/upper/elevation"):
        outdoor_place_at(survey, (100.0, 102.0), "upper")


HOUSE: dict[str, Any] = {
    "levels": {"main": {"kind": "storey", "elevation": 0}},
    "walls": {
        "front": {"level": "main", "from": [0, 2], "to": [300, 2], "thickness": 4, "kind": "exterior", "face": "front"},
        "gable": {"level": "main", "from": [298, 2], "to": [298, 98], "thickness": 4, "kind": "exterior", "face": "side"},
    },
    "rooms": {"r": {"level": "main", "outline": square(4, 4, 296, 96), "uses": ["living"]}},
}


def test_walls_of_a_face_are_those_marked_so() -> None:
    assert [wall.id for wall in walls_of_face(Survey(plan(**HOUSE)), Face.FRONT)] == ["front"]


def test_a_place_on_a_face_is_outside_and_clear_of_doors_and_boxes() -> None:
    door = {"wall": "front", "along": 100, "width": 100, "kind": "door"}
    box = {"at": {"wall": "front", "along": 50, "height": 24, "side": "right"}}
    place = place_on_face(Survey(plan(**HOUSE, openings={"d": door}, boxes={"b": box})), Face.FRONT)
    assert place is not None
    assert (place.wall.id, place.side) == ("front", "right")
    assert not 97 < place.along < 203
    assert abs(place.along - 50) >= 3


def test_a_face_that_is_all_glass_doors_has_no_place() -> None:
    door = {"wall": "front", "along": 4, "width": 292, "kind": "sliding_door"}
    assert place_on_face(Survey(plan(**HOUSE, openings={"d": door})), Face.FRONT) is None


def test_only_what_hangs_on_the_weather_side_is_outdoors() -> None:
    def receptacle(side: str) -> dict[str, Any]:
        at = {"wall": "front", "along": 150, "height": 24, "side": side}
        return {"kind": "receptacle", "at": at, "rating": 15, "voltage": 125}

    survey = Survey(plan(**HOUSE, devices={"out": receptacle("right"), "in": receptacle("left")}))
    assert [one.device.id for one in outside_receptacles(survey).found] == ["out"]


# Bays: a garage of 24 ft by 24 ft, its south wall along x; doors by the x of their edges.


def garage(doors: list[tuple[float, float]], vehicles: int) -> Survey:
    walls = {"s": {"level": "m", "from": [0, -2], "to": [288, -2], "thickness": 4, "kind": "exterior"}}
    openings = {
        f"d{number}": {"wall": "s", "along": start, "width": end - start, "kind": "vehicle_door"}
        for number, (start, end) in enumerate(doors)
    }
    room = {"level": "m", "outline": square(0, 0, 288, 288), "uses": ["garage"], "vehicle_bays": vehicles}
    return Survey(plan(levels={"m": {"kind": "storey"}}, walls=walls, openings=openings, rooms={"g": room}))


@pytest.mark.parametrize(
    ("doors", "vehicles", "middles"),
    [
        ([(24, 120), (168, 264)], 2, [72, 216]),
        ([(48, 240)], 2, [96, 192]),
        ([(24, 216), (228, 276)], 3, [72, 168, 252]),
    ],
)
def test_bays_lie_behind_the_doors_by_their_widths(
    doors: list[tuple[float, float]], vehicles: int, middles: list[float]
) -> None:
    survey = garage(doors, vehicles)
    found = bays(survey, survey.plan.rooms["g"])
    assert [bay.line[0][0] for bay in found] == pytest.approx(middles)
    assert all(bay.line[1][1] > bay.line[0][1] for bay in found)


@pytest.mark.parametrize(
    ("points", "empty"),
    [
        ([], 2),
        ([(0, 150)], 1),
        ([(0, 150), (0, 40)], 1),
        ([(0, 150), (288, 150)], 0),
        ([(144, 288)], 1),
        ([(144, 288), (150, 0)], 0),
        ([(144, 288), (0, 40)], 0),
    ],
)
def test_one_receptacle_serves_one_bay(points: list[tuple[float, float]], empty: int) -> None:
    survey = garage([(24, 120), (168, 264)], 2)
    assert len(empty_bays(bays(survey, survey.plan.rooms["g"]), points)) == empty


def test_rooms_without_a_wall_between_them_are_open_to_each_other() -> None:
    walls = {
        "between": {"level": "m", "from": [202, 0], "to": [202, 100], "thickness": 4, "kind": "interior"},
        "south": {"level": "m", "from": [0, -2], "to": [300, -2], "thickness": 4, "kind": "exterior"},
    }
    rooms = {
        "a": {"level": "m", "outline": square(0, 0, 100, 100), "uses": ["basement"]},
        "b": {"level": "m", "outline": square(100, 0, 200, 100), "uses": ["utility"]},
        "c": {"level": "m", "outline": square(204, 0, 300, 100), "uses": ["storage"]},
    }
    survey = Survey(plan(levels={"m": {"kind": "basement"}}, walls=walls, rooms=rooms))
    assert [each.id for each in open_to(survey, survey.plan.rooms["b"])] == ["a"]
    assert open_to(survey, survey.plan.rooms["c"]) == ()
