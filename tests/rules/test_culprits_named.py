"""Where a receptacle is missing, the message names the one that is drawn there and says why it does not count."""

from typing import Any

import pytest

from houses import house as whole_house
from nailplate.catalog import catalog
from nailplate.review import check
from nailplate.review.report import Finding
from nailplate.wire import read_plan_value

CULPRITS = [
    ("wall-space", "living-south", {"height": 70}, "living-south-receptacle", "it is 5 ft 10 in above the floor"),
    ("wall-counter", "counter-east", {"height": 62}, "counter-east-receptacle", "it is 2 ft 2 in above the top"),
    ("wall-counter", "counter-east", {"height": 30}, "counter-east-receptacle", "it is below the top"),
    ("bath-receptacle", "basin-wall", {"height": 15}, "basin-wall-receptacle", "it is 1 ft 7 in below the basin's top"),
]


def found(box: str, place: dict[str, Any], rule: str) -> Finding:
    plan = whole_house("tamarack-heron")
    plan["boxes"][box]["at"].update(place)
    (only,) = [each for each in check(read_plan_value(plan), catalog()).findings if each.rule == rule]
    return only


@pytest.mark.parametrize(("rule", "box", "place", "device", "why"), CULPRITS, ids=[f"{each[0]} {each[4]}" for each in CULPRITS])
def test_message_names_the_receptacle_that_does_not_count(
    rule: str, box: str, place: dict[str, Any], device: str, why: str
) -> None:
    finding = found(box, place, rule)
    assert finding.outcome == "violation"
    assert f"does not count: {why}" in finding.message
    assert f"/devices/{device}" in map(str, finding.where.related)


HOUSE: dict[str, Any] = {
    "levels": {"m": {"kind": "storey"}},
    "basis": {"edition": "2023", "regime": "dwelling", "building": "one_family"},
}
RING = [[0, 0], [240, 0], [240, 240], [0, 240]]
WALLS = {
    f"w{n}": {"level": "m", "from": RING[n], "to": RING[(n + 1) % 4], "thickness": 0.02, "kind": "interior"} for n in range(4)
}


def of_room(rule: str, room: dict[str, Any], place: dict[str, Any], **more: Any) -> Finding:
    """The only finding of a rule about one room 20 ft square, with one receptacle on its south wall."""
    at = {"wall": "w0", "along": 120, "height": 40, "side": "left", **place}
    device = {"kind": "receptacle", "rating": 20, "voltage": 125, "contacts": 2, "at": at, **more.pop("device", {})}
    rooms = {"r": {"level": "m", "outline": RING, **room}}
    plan = {"plan_format": 1, "name": "x", **HOUSE, "walls": WALLS, "rooms": rooms, "devices": {"rec": device}, **more}
    (only,) = [each for each in check(read_plan_value(plan), catalog()).findings if each.rule == rule]
    return only


GARAGE = {"uses": ["garage"], "attached": True, "has_power": True, "vehicle_bays": 1}
BASEMENT = {"uses": ["basement"], "finished": False}
OPENER = {"appliances": {"lift": {"label": "Door opener", "kind": "garage_door_opener", "connection": "cord", "outlet": "rec"}}}
ELSEWHERE = [
    ("garage-receptacles", GARAGE, {"height": 72}, {}, "does not count: it is 6 ft above the floor"),
    ("garage-receptacles", GARAGE, {}, OPENER, "does not count: it is there for 'Door opener'"),
    ("basement-receptacle", BASEMENT, {"height": 80}, {}, "does not count: it is 6 ft 8 in above the floor"),
    ("foyer-receptacles", {"uses": ["foyer"]}, {"height": 70}, {}, "does not count: it is 5 ft 10 in above the floor"),
]


@pytest.mark.parametrize(
    ("rule", "room", "place", "more", "why"), ELSEWHERE, ids=[f"{each[0]} {each[4][16:]}" for each in ELSEWHERE]
)
def test_message_names_what_is_there_in_garages_basements_and_foyers(
    rule: str, room: dict[str, Any], place: dict[str, Any], more: dict[str, Any], why: str
) -> None:
    finding = of_room(rule, room, place, **more)
    assert why in finding.message
    assert "/devices/rec" in map(str, finding.where.related)


LAUNDRY = {"uses": ["laundry"]}
BATH = {"uses": ["bathroom"]}
BASIN = {"basin": {"room": "r", "kind": "basin", "outline": [[110, 0], [130, 0], [130, 18], [110, 18]]}}
ON_ANOTHER = [("laundry-circuit", LAUNDRY, {}), ("garage-circuit", GARAGE, {}), ("bathroom-circuit", BATH, {"fixtures": BASIN})]


@pytest.mark.parametrize(("rule", "room", "more"), ON_ANOTHER, ids=[each[0] for each in ON_ANOTHER])
def test_message_names_the_circuit_that_the_receptacle_is_on(rule: str, room: dict[str, Any], more: dict[str, Any]) -> None:
    circuits = {"hall": {"label": "Hall lights", "purpose": "general", "breaker": {"rating": 20}}}
    device = {"circuit": "hall", "label": "Behind the bench"}
    finding = of_room(rule, room, {}, circuits=circuits, device=device, **more)
    assert finding.outcome == "violation"
    assert "'Behind the bench' is on 'Hall lights'." in finding.message
    assert "/devices/rec" in map(str, finding.where.related)


ISLAND = {"room": "r", "kind": "island", "outline": [[90, 90], [150, 90], [150, 126], [90, 126]], "height": 36, "has_top": True}
AT_ISLAND = [
    ({"height": 20}, {}, "it is 1 ft 4 in below the top, and 1 ft is the most"),
    ({"height": 30}, {"overhang": 10}, "the top overhangs it by 10 in, and 6 in is the most"),
]


@pytest.mark.parametrize("edition", ["2017", "2020"])
@pytest.mark.parametrize(("place", "top", "why"), AT_ISLAND, ids=["low", "under an overhang"])
def test_message_names_what_is_at_an_island(edition: str, place: dict[str, Any], top: dict[str, Any], why: str) -> None:
    at = {"wall": None, "along": None, "side": None, "room": "r", "point": [120, 101], **place}
    found = of_room(
        "island-peninsula",
        {"uses": ["kitchen"]},
        {},
        counters={"i": {**ISLAND, **top}},
        device={"at": {name: value for name, value in at.items() if value is not None}, "switched_half": "none"},
        basis={**HOUSE["basis"], "edition": edition},
    )
    assert why in found.message
    assert "/devices/rec" in map(str, found.where.related)


AT_DECK = [
    ({"height": 80}, {}, "it is 6 ft 8 in above the floor"),
    ({"height": 18}, {"readily_accessible": False}, "it is not readily accessible"),
]


@pytest.mark.parametrize(("place", "device", "why"), AT_DECK, ids=["high", "out of reach"])
def test_message_names_what_is_at_a_deck(place: dict[str, Any], device: dict[str, Any], why: str) -> None:
    plan = whole_house("tamarack-osprey")
    plan["boxes"]["out-deck"]["at"].update(place)
    plan["devices"]["out-deck-receptacle"].update(device)
    (only,) = [each for each in check(read_plan_value(plan), catalog()).findings if each.rule == "deck-receptacle"]
    assert only.outcome == "violation"
    assert f"Receptacle 'Deck' does not count: {why}." in only.message
    assert "/devices/out-deck-receptacle" in map(str, only.where.related)
