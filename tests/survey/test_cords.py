"""Which sinks, tubs and showers a cord from a receptacle reaches, on ways worked out by hand.

Where it is measured from, and that walls, doors (2017) and windows stop it: https://captaincode2017.leviton.com/node/122 . That
doors and doorways do not from 2020: section 807 of the training notes at
https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=807 .
"""

import json
import math
from collections.abc import Mapping
from typing import Any

import pytest

from nailplate.plan import UnknownFact
from nailplate.plan.words import OpeningKind
from nailplate.survey import Survey
from nailplate.survey.protection.cords import DOORWAYS, NOTHING, CordReach, sink_in_reach, tub_in_reach
from nailplate.wire import read_plan

OPEN, SHUT = DOORWAYS, NOTHING
HALL_AND_BATH: dict[str, Any] = {
    "levels": {"main": {"kind": "storey"}, "up": {"kind": "loft"}},
    "walls": {"w": {"level": "main", "from": [0, 100], "to": [200, 100], "thickness": 4, "kind": "interior"}},
    "rooms": {
        "hall": {"level": "main", "outline": [[0, 0], [200, 0], [200, 98], [0, 98]], "uses": ["hallway"]},
        "bath": {"level": "main", "outline": [[0, 102], [200, 102], [200, 182], [0, 182]], "uses": ["bathroom"]},
        "loft": {"level": "up", "outline": [[0, 0], [200, 0], [200, 182], [0, 182]], "uses": ["loft_sleeping"]},
    },
    "fixtures": {"basin": {"kind": "basin", "room": "bath", "bowl": [[80, 120], [96, 120], [96, 132], [80, 132]]}},
    "devices": {"r": {"kind": "receptacle", "at": {"wall": "w", "along": 80, "height": 16, "side": "right"}}},
}


def surveyed(**changes: Mapping[str, Any]) -> Survey:
    plan = {"plan_format": 1, "name": "cords", "basis": {"edition": "2023"}, **HALL_AND_BATH, **changes}
    return Survey(read_plan(json.dumps(plan).encode()))


def sink(survey: Survey, through: frozenset[OpeningKind] = OPEN) -> CordReach:
    return sink_in_reach(survey, survey.plan.devices["r"], through=through)


def opening(kind: str, **facts: Any) -> dict[str, Any]:
    return {"o": {"wall": "w", "along": 40, "width": 30, "kind": kind, **facts}}


def length(reach: CordReach) -> float:
    assert reach.nearest is not None
    assert reach.nearest.length is not None
    return reach.nearest.length


def at(x: float, y: float, room: str = "bath") -> dict[str, Any]:
    return {"r": {"kind": "receptacle", "at": {"room": room, "point": [x, y], "height": 16}}}


def test_cord_goes_around_the_jamb_of_a_doorway() -> None:
    # From the hall face of the wall at (80, 98) to the jamb at (70, 100), and on to the bowl's corner at (80, 120).
    by_hand = math.hypot(10, 2) + math.hypot(10, 20)
    assert length(sink(surveyed(openings=opening("door")))) == pytest.approx(by_hand, abs=1e-9)


@pytest.mark.parametrize("kind", ["door", "cased", "sliding_door", "french_door", "pocket_door", "vehicle_door"])
def test_every_kind_of_doorway_lets_a_cord_through_only_when_doorways_do(kind: str) -> None:
    survey = surveyed(openings=opening(kind))
    assert sink(survey, OPEN).nearest is not None
    assert sink(survey, SHUT).nearest is None


@pytest.mark.parametrize("kind", ["window", "fixed_glass"])
def test_glass_and_windows_never_let_a_cord_through(kind: str) -> None:
    assert sink(surveyed(openings=opening(kind))).nearest is None


def test_wall_without_openings_holds_a_cord_back() -> None:
    assert sink(surveyed()) == CordReach(None, (), given_up=False)


@pytest.mark.parametrize("thickness", [{}, {"thickness": 6.5}])
@pytest.mark.parametrize("end", [200, 199.9996, 196.75, 196.25])
def test_cord_slips_through_no_corner_whether_walls_are_drawn_to_faces_or_to_centre_lines(
    end: float, thickness: dict[str, float]
) -> None:
    # 6 1/2 in walls: 3 1/4 in from the centre line to the face, and 1/2 in of board that the drawing may leave out.
    outer = {"level": "main", "from": [200, 0], "to": [200, 182], "kind": "exterior", **thickness}
    walls = {"w": {**HALL_AND_BATH["walls"]["w"], "to": [end, 100]}, "e": outer}
    basin = {"basin": {"kind": "basin", "room": "bath", "bowl": [[178, 106], [194, 106], [194, 118], [178, 118]]}}
    assert sink(surveyed(walls=walls, fixtures=basin, devices=at(190, 90, "hall"))).nearest is None


def test_cord_goes_through_a_gap_that_is_wider_than_finishes_make() -> None:
    outer = {"level": "main", "from": [200, 0], "to": [200, 182], "kind": "exterior", "thickness": 6.5}
    walls = {"w": {**HALL_AND_BATH["walls"]["w"], "to": [194, 100]}, "e": outer}
    basin = {"basin": {"kind": "basin", "room": "bath", "bowl": [[178, 106], [194, 106], [194, 118], [178, 118]]}}
    assert length(sink(surveyed(walls=walls, fixtures=basin, devices=at(194, 90, "hall")))) == pytest.approx(16.0, abs=1e-9)


def test_sliding_door_lets_a_cord_through_at_its_sliding_panel() -> None:
    # Two panels of 15 in from 40 on: with the nearer one fixed, the cord turns at 55 instead of at 70.
    near = surveyed(openings=opening("sliding_door", panels=["fixed", "sliding"]))
    far = surveyed(openings=opening("sliding_door", panels=["sliding", "fixed"]))
    assert length(sink(near)) == pytest.approx(math.hypot(10, 2) + math.hypot(10, 20), abs=1e-9)
    assert length(sink(far)) == pytest.approx(math.hypot(25, 2) + math.hypot(25, 20), abs=1e-9)


@pytest.mark.parametrize("kind", ["half", "railing"])
def test_cord_goes_over_half_walls_and_railings(kind: str) -> None:
    wall = {**HALL_AND_BATH["walls"]["w"], "kind": kind}
    assert length(sink(surveyed(walls={"w": wall}), SHUT)) == pytest.approx(22)


@pytest.mark.parametrize("kind", ["exterior", "interior", "glass"])
def test_wall_drawn_without_thickness_holds_a_cord_back(kind: str) -> None:
    wall = {"level": "main", "from": [0, 100], "to": [200, 100], "kind": kind}
    assert sink(surveyed(walls={"w": wall})).nearest is None


def test_receptacle_on_a_wall_without_thickness_reaches_the_sink_on_its_own_side() -> None:
    wall = {"level": "main", "from": [0, 100], "to": [200, 100], "kind": "interior"}
    device = {"r": {"kind": "receptacle", "at": {"wall": "w", "along": 80, "height": 16, "side": "left"}}}
    assert length(sink(surveyed(walls={"w": wall}, devices=device))) == pytest.approx(20, abs=0.01)


def test_six_feet_are_measured_from_the_bowl_and_not_from_its_counter() -> None:
    basin = {**HALL_AND_BATH["fixtures"]["basin"], "outline": [[60, 104], [120, 104], [120, 140], [60, 140]]}
    assert length(sink(surveyed(fixtures={"basin": basin}, devices=at(168, 126)))) == pytest.approx(72)
    assert sink(surveyed(fixtures={"basin": basin}, devices=at(168.01, 126))).nearest is None


def test_nearest_of_two_sinks_is_named() -> None:
    fixtures = {
        "far": {"kind": "basin", "room": "bath", "bowl": [[150, 120], [160, 120], [160, 130], [150, 130]]},
        "near": {"kind": "utility_sink", "room": "bath", "bowl": [[60, 120], [80, 120], [80, 130], [60, 130]]},
    }
    reach = sink(surveyed(fixtures=fixtures, devices=at(100, 125)))
    assert reach.nearest is not None
    assert reach.nearest.fixture.id == "near"
    assert length(reach) == pytest.approx(20)


def test_sink_on_another_level_is_not_reached() -> None:
    assert sink(surveyed(devices=at(88, 126, "loft"))).nearest is None


def test_tubs_and_showers_are_apart_from_sinks() -> None:
    fixtures = {"tub": {"kind": "tub", "room": "bath", "outline": [[0, 102], [60, 102], [60, 132], [0, 132]]}}
    survey = surveyed(fixtures=fixtures, devices=at(100, 110))
    assert sink(survey).nearest is None
    assert length(tub_in_reach(survey, survey.plan.devices["r"], through=SHUT)) == pytest.approx(40)


@pytest.mark.parametrize(
    ("outline", "x", "found", "unknown"),
    [
        ([[70, 110], [100, 110], [100, 140], [70, 140]], 115, True, False),  # 15 to its edge, and 42.4 across it
        ([[70, 110], [100, 110], [100, 140], [70, 140]], 140, False, True),  # 40 to its edge, and 42.4 across it
        ([[70, 110], [100, 110], [100, 140], [70, 140]], 173, False, False),  # 73 to its edge
        (None, 173, False, True),  # anywhere in the room
    ],
)
def test_bowl_that_is_not_drawn_lies_somewhere_in_what_is(outline: Any, x: float, found: bool, unknown: bool) -> None:
    basin = {"kind": "basin", "room": "bath", **({"outline": outline} if outline else {})}
    reach = sink(surveyed(fixtures={"basin": basin}, devices=at(x, 125)))
    assert (reach.nearest is not None) == found
    assert reach.unknown == (("/fixtures/basin/bowl",) if unknown else ())


def test_bowl_that_is_not_drawn_behind_a_wall_is_not_asked_for() -> None:
    basin = {"kind": "basin", "room": "bath"}
    assert sink(surveyed(fixtures={"basin": basin})).unknown == ()


def test_sink_of_which_not_even_the_room_is_drawn_may_be_anywhere_on_the_level() -> None:
    rooms = {**HALL_AND_BATH["rooms"], "spa": {"level": "main", "uses": ["bathroom"]}}
    survey = surveyed(rooms=rooms, fixtures={"basin": {"kind": "basin", "room": "spa"}})
    assert sink(survey).unknown == ("/fixtures/basin/bowl",)


def test_receptacle_without_a_place_is_unknown() -> None:
    survey = surveyed(devices={"r": {"kind": "receptacle"}})
    with pytest.raises(UnknownFact) as unknown:
        sink(survey)
    assert unknown.value.pointer == "/devices/r/at"


@pytest.mark.parametrize("x", range(4, 200, 28))
def test_opening_the_doorways_never_makes_a_way_longer(x: int) -> None:
    survey = surveyed(openings=opening("door"), devices=at(x, 60, "hall"))
    shut, through = sink(survey, SHUT).nearest, sink(survey, OPEN).nearest
    assert shut is None or (through is not None and (through.length or 0) <= (shut.length or 0))


def test_search_among_countless_walls_is_given_up_and_says_so() -> None:
    # Short walls in a lattice, with gaps everywhere: each of their ends is a place where a cord may turn.
    lattice = {
        f"{x}-{y}": {"level": "main", "from": [x, y], "to": [x + 2, y + (x + y) % 3 - 1], "thickness": 1, "kind": "interior"}
        for x in range(60, 140, 3)
        for y in range(104, 176, 3)
    }
    reach = sink(surveyed(walls=lattice, devices=at(135, 172)))
    assert reach.nearest is None
    assert reach.given_up
