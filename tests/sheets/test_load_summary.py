"""The load summary of a report: the same figures as the rules use, what was counted, and what is missing where there are none."""

import json
from importlib import import_module
from typing import Any

import pytest

from nailplate.calc.loads.dwelling import dwelling_load
from nailplate.catalog import Catalog, catalog
from nailplate.codes import EDITIONS
from nailplate.review import check
from nailplate.sheets import load_summary as summary
from nailplate.sheets.loads import Loads, MethodLoad
from nailplate.units import Unit
from nailplate.wire import read_plan

NO_RULES = Catalog(())


def wall(start: tuple[float, float], end: tuple[float, float]) -> dict[str, Any]:
    return {"level": "main", "from": list(start), "to": list(end), "thickness": 6, "kind": "exterior"}


def square(width: float, depth: float) -> list[list[float]]:
    return [[0, 0], [width, 0], [width, depth], [0, depth]]


RANGE = {"kind": "range", "volts": 240, "power": "12 kW", "fuel": "none"}
HEATER = {"kind": "water_heater", "volts": 240, "power": "4500 W", "fuel": "none", "fastened": True, "label": "Water heater"}
# our own small house, published nowhere: an all-electric cottage of 400 square feet, 19 ft by 19 ft inside walls of 6 in
COTTAGE: dict[str, Any] = {
    "plan_format": 1,
    "name": "cottage",
    "basis": {"edition": "2023", "regime": "dwelling"},
    "levels": {"main": {"kind": "storey"}},
    "walls": {
        "south": wall((0, -3), (228, -3)),
        "east": wall((231, 0), (231, 228)),
        "north": wall((0, 231), (228, 231)),
        "west": wall((-3, 0), (-3, 228)),
    },
    "rooms": {"all": {"level": "main", "uses": ["kitchen", "living"], "outline": square(228, 228), "label": "Great room"}},
    "appliances": {
        "range": RANGE,
        "heater": HEATER,
        "dishes": {"kind": "dishwasher", "volts": 120, "power": "1200 W", "fastened": True},
        "dryer": {"kind": "clothes_dryer", "volts": 240, "power": "5 kW", "fuel": "none"},
        "split": {"kind": "mini_split", "volts": 240, "current": 15},
    },
}


def loads_of(document: dict[str, Any], packs: Catalog = NO_RULES, **more: Any) -> Loads:
    found = check(read_plan(json.dumps({**document, **more}).encode()), packs).loads
    assert found is not None
    return found


def methods(loads: Loads) -> tuple[MethodLoad, MethodLoad]:
    standard, optional = loads.methods
    assert (standard.method, standard.default) == ("standard", True)
    assert (optional.method, optional.default) == ("optional", False)
    return standard, optional


@pytest.mark.parametrize(
    ("year", "standard", "optional"),
    [("2017", 27_145, 20_960), ("2020", 27_145, 20_960), ("2023", 27_145, 20_960), ("2026", 27_005, 19_600)],
)
def test_an_all_electric_cottage_by_both_methods(year: str, standard: float, optional: float) -> None:
    first, second = methods(loads_of(COTTAGE, basis={"edition": year, "regime": "dwelling"}))
    assert (first.total.value, second.total.value) == pytest.approx((standard, optional))
    assert first.current.value == pytest.approx(standard / 240)
    assert (first.service and first.service.value, second.service and second.service.value) == (125, 100)
    assert sum(line.load.value for line in first.lines) == pytest.approx(standard)
    assert sum(line.load.value for line in second.lines) == pytest.approx(optional)
    assert second.condition is not None
    assert "100 A" in second.condition
    assert "Water heater" in [line.what for line in first.lines]


def test_the_area_is_told_with_its_rooms_and_lofts() -> None:
    loft = {"level": "up", "uses": ["loft_sleeping"], "outline": square(120, 96), "label": "Sleeping loft"}
    shelf = {"level": "up", "uses": ["storage"], "outline": [[130, 0], [200, 0], [200, 96], [130, 96]]}
    deck = {"level": "main", "uses": ["deck"], "outline": [[300, 0], [400, 0], [400, 96], [300, 96]]}
    document = {
        **COTTAGE,
        "levels": {**COTTAGE["levels"], "up": {"kind": "loft"}},
        "rooms": {**COTTAGE["rooms"], "loft": loft, "shelf": shelf, "deck": deck},
    }
    loads = loads_of(document)
    area = methods(loads)[0].area
    assert [(room.at, room.name, room.loft) for room in area.rooms] == [
        ("/rooms/all", "Great room", False),
        ("/rooms/loft", "Sleeping loft", True),
    ]
    assert area.area.value == pytest.approx(400 + 80)
    assert area.area.unit is Unit.SQUARE_FOOT
    assert not area.stated
    assert any("no rule for lofts" in note for note in loads.notes)


@pytest.mark.parametrize(("year", "areas"), [("2017", (400, 400)), ("2023", (600, 400)), ("2026", (600, 600))])
def test_a_garage_counts_by_edition_and_method_and_the_neutral_stays_that_of_the_standard_method(
    year: str, areas: tuple[float, float]
) -> None:
    garage = {"level": "main", "uses": ["garage"], "outline": [[300, 0], [480, 0], [480, 160], [300, 160]]}
    document = {**COTTAGE, "rooms": {**COTTAGE["rooms"], "garage": garage}}
    first, second = methods(loads_of(document, basis={"edition": year, "regime": "dwelling"}))
    assert (first.area.area.value, second.area.area.value) == pytest.approx(areas)
    assert first.neutral == second.neutral


def in_millimetres(value: Any) -> Any:
    """Every bare number of a drawing, which are lengths."""
    if isinstance(value, dict):
        return {key: in_millimetres(each) for key, each in value.items()}
    if isinstance(value, list):
        return [in_millimetres(each) for each in value]
    return value * 25.4 if isinstance(value, int | float) else value


def test_a_house_drawn_in_millimetres_has_the_same_load() -> None:
    drawn = {name: in_millimetres(COTTAGE[name]) for name in ("walls", "rooms")}
    first, second = methods(loads_of(COTTAGE)), methods(loads_of(COTTAGE, units={"length": "mm"}, **drawn))
    for one, other in zip(first, second, strict=True):
        assert other.total.value == pytest.approx(one.total.value)
        assert other.area.area.value == pytest.approx(one.area.area.value)
        assert [line.load.value for line in other.lines] == pytest.approx([line.load.value for line in one.lines])


def test_the_rule_and_the_summary_share_one_figure_worked_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []

    def counting(*arguments: Any) -> Any:
        asked.append(arguments)
        return dwelling_load(*arguments)

    monkeypatch.setattr(import_module("nailplate.survey.loads.house_load"), "dwelling_load", counting)
    service = {"kind": "service", "voltage": "120/240", "rating": 90}
    plan = read_plan(json.dumps({**COTTAGE, "supplies": {"s": service}}).encode())
    report = check(plan, catalog())
    [finding] = [each for each in report.findings if each.rule == "service-size" and each.outcome == "violation"]
    assert report.loads is not None
    assert finding.measured is not None
    assert int(report.loads.methods[0].current.value) == int(finding.measured.value) == 113
    assert len(asked) == 2  # once by each method


def test_every_fact_that_is_missing_is_named() -> None:
    appliances = {
        "range": {"kind": "range", "volts": 240, "power": "12 kW"},
        "heater": {"kind": "water_heater", "fuel": "none", "fastened": True},
        "oven": {"kind": "microwave", "power": 1500},
        "kettle": {"kind": "kettle"},
    }
    rooms = {**COTTAGE["rooms"], "bath": {"level": "main", "uses": ["bathroom"]}}
    loads = loads_of(COTTAGE, rooms=rooms, appliances=appliances)
    assert loads.methods == ()
    assert loads.not_worked_out
    assert set(loads.needs) == {
        "/rooms/bath/outline",
        "/appliances/range/fuel",
        "/appliances/heater/power",
        "/appliances/oven/fastened",
    }


def test_a_plan_without_rooms_or_appliances_says_so() -> None:
    assert loads_of(COTTAGE, rooms={}, walls={}, appliances={}).needs == ("/rooms",)
    loads = loads_of(COTTAGE, appliances={})
    assert methods(loads)[0].total.value == pytest.approx(3_945)
    assert any("No appliance" in note for note in loads.notes)


def test_what_no_method_reaches_is_said_in_words() -> None:
    dryer = {"kind": "clothes_dryer", "volts": 240, "power": "5 kW", "fuel": "none"}
    six = {f"dryer{number}": dryer for number in range(6)}
    loads = loads_of(COTTAGE, appliances=six, basis={"edition": "2026", "regime": "dwelling"})
    assert loads.methods == ()
    assert loads.not_worked_out is not None
    assert "6 dryers: not evaluated" in loads.not_worked_out


CORD = {"kind": "cord_inlet", "voltage": "120", "rating": 30}
CIRCUIT = {"panel": "p", "voltage": 120, "breaker": {"rating": 20}, "legs": ["A"]}
# our own small house on wheels, published nowhere: 24 ft x 8 ft 6 in, two small-appliance circuits, an air conditioner of 12 A
WHEELS: dict[str, Any] = {
    "plan_format": 1,
    "name": "wheels",
    "basis": {"edition": "2023", "regime": "park_trailer", "floor_area": "204 ft2"},
    "levels": {"main": {"kind": "storey"}},
    "rooms": {"all": {"level": "main", "uses": ["living"]}},
    "supplies": {"cord": CORD},
    "panels": {"p": {"kind": "load_center", "supply": "cord"}},
    "circuits": {
        "counter-1": {**CIRCUIT, "purpose": "small_appliance"},
        "counter-2": {**CIRCUIT, "purpose": "small_appliance"},
        "lights": CIRCUIT,
        "air": CIRCUIT,
    },
    "appliances": {
        "air": {"kind": "air_conditioner", "volts": 120, "current": 12, "circuit": "air", "connection": "hard_wired"}
    },
}


@pytest.mark.parametrize("year", EDITIONS)
def test_a_park_trailer_is_told_leg_by_leg(year: str) -> None:
    loads = loads_of(WHEELS, basis={**WHEELS["basis"], "edition": year})
    [cord] = loads.supplies
    assert [round(leg.value, 1) for leg in cord.legs] == [41.8]
    assert (cord.fits, cord.smallest and cord.smallest.value, cord.by) == (True, 30, "552.46")
    assert cord.lines
    assert "not everything can run together" in cord.cautions[0]
    assert loads.methods == ()


def test_a_movable_home_without_cord_or_facts_says_what_is_missing() -> None:
    assert loads_of(WHEELS, supplies={}, panels={"p": {"kind": "load_center"}}).needs == ("/supplies",)
    [cord] = loads_of(WHEELS, appliances={"air": {"kind": "air_conditioner", "connection": "hard_wired"}}).supplies
    assert (cord.legs, cord.needs) == ((), ("/appliances/air/power",))
    [cord] = loads_of(WHEELS, circuits={}, appliances={}).supplies
    assert cord.needs == ("/circuits",)


def test_what_is_no_dwelling_is_not_worked_out() -> None:
    loads = loads_of(COTTAGE, basis={"edition": "2023", "regime": "not_a_dwelling"})
    assert loads.methods == ()
    assert loads.not_worked_out


def test_legs_of_each_panel_by_nameplates_and_half_ratings() -> None:
    circuits = {
        "air": CIRCUIT,
        "lights": {**CIRCUIT, "legs": ["B"]},
        "heater": {**CIRCUIT, "legs": ["A", "B"], "voltage": 240},
    }
    appliances = {**WHEELS["appliances"], "heater": {**HEATER, "circuit": "heater"}}
    [panel] = loads_of(WHEELS, circuits=circuits, appliances=appliances).panels
    assert (panel.leg_a and panel.leg_a.value, panel.leg_b and panel.leg_b.value) == (12 + 18.75, 10 + 18.75)
    [panel] = loads_of(WHEELS, circuits={"air": {"panel": "p"}}).panels
    assert (panel.leg_a, panel.needs) == (None, ("/circuits/air/legs",))


def test_a_fault_of_the_summary_leaves_the_report_standing(monkeypatch: pytest.MonkeyPatch) -> None:
    def failing(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(summary, "house_load", failing)
    loads = loads_of(COTTAGE)
    assert loads.not_worked_out is not None
    assert "fault of this service" in loads.not_worked_out
