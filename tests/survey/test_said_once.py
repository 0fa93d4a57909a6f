"""What an author states once holds at the other place too, points to where it is stated, and gives way to a part's own word."""

import copy
from typing import Any

import pytest

from houses import house as whole_house
from nailplate.catalog import catalog
from nailplate.plan import Plan
from nailplate.plan.house import WallPlace
from nailplate.plan.words import DisconnectKind, Mount
from nailplate.review import check
from nailplate.wire import read_plan_value, resolved

HOUSES = ("tamarack-wren", "tamarack-heron", "tamarack-osprey")
SQUARE = [[0, 0], [120, 0], [120, 120], [0, 120]]
HEAD: dict[str, Any] = {"plan_format": 1, "name": "small", "basis": {"edition": "2023"}}
KITCHEN: dict[str, Any] = {
    "levels": {"main": {"kind": "storey", "ceiling": {"height": 96}}, "up": {"kind": "loft"}},
    "rooms": {"kitchen": {"level": "main", "uses": ["kitchen"], "outline": SQUARE}},
}
FRIDGE = {"kind": "refrigerator", "footprint": [[2, 2], [32, 2], [32, 32], [2, 32]]}


def read(**maps: Any) -> Plan:
    return read_plan_value({**HEAD, **KITCHEN, **maps})


def fridge_served(**facts: Any) -> Plan:
    panel = {"panels": {"p": {"kind": "service"}}, "circuits": {"a": {"panel": "p"}, "b": {"panel": "p"}}}
    devices = {
        "r": {"kind": "receptacle", "circuit": "a", "serves": ["fridge"]},
        "other": {"kind": "receptacle", "circuit": "b"},
    }
    return read(**panel, devices=devices, appliances={"fridge": {**FRIDGE, **facts}})


def test_appliance_has_the_outlet_circuit_and_room_that_are_stated_elsewhere() -> None:
    fridge = fridge_served().appliances["fridge"]
    assert (fridge.outlet, fridge.circuit, fridge.room) == ("r", "a", "kitchen")
    assert fridge.where("outlet") == "/devices/r/serves"
    assert fridge.where("circuit") == "/devices/r/circuit"
    assert fridge.where("room") == "/appliances/fridge/footprint"
    assert fridge.own("outlet") == "/appliances/fridge/outlet"


def test_own_word_stands() -> None:
    fridge = fridge_served(outlet="other", circuit="a").appliances["fridge"]
    assert (fridge.outlet, fridge.circuit) == ("other", "a")
    assert fridge.where("outlet") == "/appliances/fridge/outlet"


def test_outlet_serves_who_names_it() -> None:
    devices = {"r": {"kind": "receptacle"}, "none": {"kind": "receptacle", "serves": []}}
    plan = read(devices=devices, appliances={"fridge": {**FRIDGE, "outlet": "r"}})
    assert plan.devices["r"].serves == ("fridge",)
    assert plan.devices["r"].where("serves") == "/appliances/fridge/outlet"
    assert plan.devices["none"].serves == ()


def test_two_outlets_or_two_rooms_leave_it_open() -> None:
    devices = {name: {"kind": "receptacle", "serves": ["fridge"]} for name in ("one", "two")}
    loft = {"level": "up", "uses": ["loft_sleeping"], "outline": SQUARE}
    plan = read(rooms={**KITCHEN["rooms"], "loft": loft}, devices=devices, appliances={"fridge": FRIDGE})
    assert not plan.appliances["fridge"].knows("outlet")
    assert not plan.appliances["fridge"].knows("room")


@pytest.mark.parametrize("facts", [{"connection": "hard_wired"}, {}], ids=["wired in", "not said"])
def test_service_receptacle_is_no_outlet_of_equipment(facts: dict[str, Any]) -> None:
    devices = {"r": {"kind": "receptacle", "serves": ["pump"]}}
    assert not read(devices=devices, appliances={"pump": {"kind": "heat_pump", **facts}}).appliances["pump"].knows("outlet")
    devices["whip"] = {"kind": "connection", "serves": ["pump"]}
    assert read(devices=devices, appliances={"pump": {"kind": "heat_pump", **facts}}).appliances["pump"].outlet == "whip"


def test_footprint_that_reaches_into_the_next_room_leaves_it_open() -> None:
    plan = read(appliances={"fridge": {**FRIDGE, "footprint": [[80, 2], [140, 2], [140, 32], [80, 32]]}})
    assert not plan.appliances["fridge"].knows("room")


@pytest.mark.parametrize(("height", "mount"), [(96, Mount.CEILING), (94, Mount.CEILING), (93, None), (16, None)])
def test_place_at_the_ceiling_is_a_ceiling_mount(height: float, mount: Mount | None) -> None:
    place = {"room": "kitchen", "point": [60, 60], "height": height}
    plan = read(boxes={"b": {"at": place}}, devices={"d": {"kind": "receptacle", "box": "b"}})
    device = plan.devices["d"]
    assert (device.mount if device.knows("mount") else None) is mount
    assert device.where("mount") == ("/boxes/b/at/height" if mount else "/devices/d/mount")


@pytest.mark.parametrize(
    ("position", "poles", "spaces"), [(7, 1, (7,)), (7, 2, (7, 9)), ([7], 2, (7,)), ([7, 9], 2, (7, 9)), (2, 3, (2, 4, 6))]
)
def test_bare_space_is_the_first_of_as_many_as_there_are_poles(position: Any, poles: int, spaces: tuple[int, ...]) -> None:
    plan = read(
        panels={"p": {"kind": "service"}}, circuits={"c": {"panel": "p", "position": position, "breaker": {"poles": poles}}}
    )
    assert plan.circuits["c"].position == spaces


def test_panel_of_two_spaces_has_both_taken() -> None:
    circuit = {"panel": "p", "position": 1, "breaker": {"poles": 2}}
    assert read(panels={"p": {"kind": "service", "spaces": 2}}, circuits={"c": circuit}).circuits["c"].position == (1, 2)


def test_disconnect_is_its_panels_main_breaker() -> None:
    place = {"wall": "w", "along": 20, "height": 60, "side": "right"}
    walls = {"w": {"level": "main", "from": [0, 0], "to": [120, 0], "kind": "exterior"}}
    panels = {
        "mm": {"kind": "meter_main", "supply": "utility", "main_rating": 100, "at": place},
        "in": {"kind": "subpanel", "supply": "feeder"},
    }
    supplies = {
        "utility": {"kind": "service", "disconnect": {"panel": "mm", "outdoors": True}, "surge_protection": {"type": "2"}},
        "feeder": {"kind": "feeder", "starts_at": "mm"},
    }
    plan = read(walls=walls, panels=panels, supplies=supplies)
    disconnect = plan.supplies["utility"].disconnect
    assert disconnect.kind is DisconnectKind.BREAKER
    assert float(disconnect.rating) == 100
    assert isinstance(disconnect.at, WallPlace)
    assert float(disconnect.at.along) == 20
    assert disconnect.where("rating") == "/panels/mm/main_rating"
    assert plan.supplies["feeder"].surge_protection.pointer == "/supplies/utility/surge_protection"


def test_resolved_plan_tells_where_each_comes_from() -> None:
    devices = {"r": {"kind": "receptacle", "serves": ["fridge"]}}
    found = resolved({**HEAD, **KITCHEN, "devices": devices, "appliances": {"fridge": FRIDGE}})
    assert found["appliances"] == {"fridge": FRIDGE}
    entry = {"from": "elsewhere", "by": "/devices/r/serves", "facts": {"outlet": "r"}}
    assert found["derived"]["/appliances/fridge/outlet"] == entry
    assert resolved(found) == found


def without_what_is_stated_elsewhere(house: dict[str, Any]) -> dict[str, Any]:
    """The house with outlets, rooms and spaces of appliances and circuits stated once."""
    value = copy.deepcopy(house)
    plan = read_plan_value(value)
    for part_id, appliance in value["appliances"].items():
        bare = copy.deepcopy(value)
        for name in ("outlet", "room"):
            bare["appliances"][part_id].pop(name, None)
        derived = read_plan_value(bare).appliances[part_id]
        for name in ("outlet", "room"):
            if name in appliance and derived.knows(name) and getattr(derived, name) == getattr(plan.appliances[part_id], name):
                del appliance[name]
    for circuit in value["circuits"].values():
        if isinstance(circuit.get("position"), list):
            circuit["position"] = circuit["position"][0]
    return value


@pytest.mark.parametrize("name", HOUSES)
def test_saying_it_twice_changes_no_finding(name: str) -> None:
    house = whole_house(name)
    once = without_what_is_stated_elsewhere(house)
    one, other = (check(read_plan_value(each), catalog()) for each in (house, once))
    assert [each.fingerprint for each in one.findings] == [each.fingerprint for each in other.findings]
    counts = [[(each.rule, each.passed, each.undetermined) for each in report.coverage.rules] for report in (one, other)]
    assert [each for each in counts[0] if each[0] != "stated-alike"] == [
        each for each in counts[1] if each[0] != "stated-alike"
    ]
