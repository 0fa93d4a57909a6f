"""The load of a dwelling, against the standard's own examples and others in print, each with its address.

Figures of 2026 are worked out from that edition's unit load and first tier; they are not published. Annex D examples without an
address of their own were read in the 2005 text at flylib.com/books/en/2.419.1/; their results are unchanged up to 2023 as far as
is known. "From memory" is said where the text was not seen.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nailplate.calc.loads.dwelling import Dwelling, DwellingFigures, LoadMethod, System, dwelling_load
from nailplate.calc.loads.items import Load, LoadKind
from nailplate.calc.loads.readings import CHARGING_IN_POOL
from nailplate.calc.steps import CalculationError
from nailplate.codes import EDITIONS, edition
from nailplate.units import SquareInches, VoltAmperes

BEFORE_2026 = pytest.mark.parametrize("year", [year for year in EDITIONS if year != "2026"])
EVERY_EDITION = pytest.mark.parametrize("year", EDITIONS)
K = LoadKind


def load(kind: LoadKind, power: float, **more: Any) -> Load:
    return Load(kind=kind, power=VoltAmperes(power), **more)


def figures(
    square_feet: float, loads: list[Load], year: str, method: LoadMethod = LoadMethod.STANDARD, **more: Any
) -> DwellingFigures:
    asked = Dwelling(area=SquareInches(square_feet * 144), loads=tuple(loads), **more)
    return dwelling_load(asked, method, edition(year))


def line(found: DwellingFigures, what: str) -> float:
    return next(each.load for each in found.lines if each.what == what)


BUCKET = (K.WATER_HEATER, K.DISHWASHER, K.DISPOSER, K.MICROWAVE, K.MOTOR, K.OTHER)
D1A = [load(K.RANGE, 12_000), load(K.DRYER, 5_500)]
D2A = [
    load(K.RANGE, 12_000),
    load(K.WATER_HEATER, 2_500),
    load(K.DISHWASHER, 1_200),
    load(K.DRYER, 5_000),
    load(K.HEAT, 9_000, units=5),
    load(K.AIR_CONDITIONER, 6 * 230),
]
D2B = [
    load(K.WALL_OVEN, 4_000, count=2),
    load(K.COOKTOP, 5_100),
    load(K.WATER_HEATER, 4_500),
    load(K.DISHWASHER, 1_200),
    load(K.DRYER, 5_000),
    load(K.AIR_CONDITIONER, 6 * 7 * 240),
    load(K.HEAT, 1_500),
]
D2C = [
    load(K.RANGE, 12_000),
    load(K.WATER_HEATER, 4_500),
    load(K.DISHWASHER, 1_200),
    load(K.DRYER, 5_000),
    load(K.HEAT_PUMP, 24 * 240),
    load(K.SUPPLEMENTARY_HEAT, 15_000),
]


# Annex D, example D1(a)
@BEFORE_2026
def test_example_d1a(year: str) -> None:
    found = figures(1500, D1A, year)
    assert line(found, "general load after demand") == 5_100
    assert (found.total, found.current) == (18_600.0, 77.5)
    assert (found.neutral, round(found.neutral_current, 1)) == (14_550.0, 60.6)
    assert found.service == 100.0


def test_example_d1a_with_the_unit_load_of_2026() -> None:
    found = figures(1500, D1A, "2026")
    assert (found.total, round(found.current, 1)) == (18_075.0, 75.3)


# Annex D, examples D2(a), D2(b), D2(c); 122 A of D2(b) also at thompsonlearningco.com/chapter/annex-d (2017)
@BEFORE_2026
@pytest.mark.parametrize(
    ("square_feet", "loads", "total", "current", "service"),
    [
        pytest.param(1500, D2A, 21_480, 89.5, 100, id="D2(a)"),
        pytest.param(1500, D2B, 29_200, 121.7, 125, id="D2(b)"),
        pytest.param(2000, D2C, 34_790, 145.0, 150, id="D2(c)"),
    ],
)
def test_optional_examples_of_annex_d(
    year: str, square_feet: float, loads: list[Load], total: float, current: float, service: float
) -> None:
    found = figures(square_feet, loads, year, LoadMethod.OPTIONAL)
    assert (found.total, round(found.current, 1), found.service) == (total, current, service)


@pytest.mark.parametrize(("square_feet", "loads", "total"), [(1500, D2A, 19_680), (1500, D2B, 27_400), (2000, D2C, 32_790)])
def test_optional_examples_with_the_tiers_of_2026(square_feet: float, loads: list[Load], total: float) -> None:
    assert figures(square_feet, loads, "2026", LoadMethod.OPTIONAL).total == total


@BEFORE_2026
def test_neutral_of_the_optional_examples_is_that_of_the_standard_method(year: str) -> None:
    assert figures(1500, D2A, year, LoadMethod.OPTIONAL).neutral == 15_400.0
    # printed 14840: the example rounds 0.55 x 13.1 kW to 7.2 kW
    assert figures(1500, D2B, year, LoadMethod.OPTIONAL).neutral == pytest.approx(14_840, abs=5)


# Annex D, example D4(a): one unit of forty, laundry shared; D4(b): one unit with a range of 8 kW and four heaters
@BEFORE_2026
def test_examples_d4_for_one_unit(year: str) -> None:
    bare = figures(840, [], year, laundry_circuits=0)
    assert (bare.total, round(bare.current, 1)) == (3_882.0, 16.2)
    with_range = figures(840, [load(K.RANGE, 12_000)], year, laundry_circuits=0)
    assert (with_range.total, round(with_range.current, 1), with_range.neutral) == (11_882.0, 49.5, 9_482.0)
    electric = figures(840, D4B, year, laundry_circuits=0)
    assert (electric.total, round(electric.current, 1), line(electric, "cooking")) == (18_782.0, 78.3, 6_400.0)


D4B = [load(K.RANGE, 8_000), load(K.HEAT, 1_500, count=4), load(K.WATER_HEATER, 2_500)]


# Annex D, examples D5(a) and D5(b): the same units on two legs of 208Y/120 V; D5(b) prints 90.3 A for all of it over 208 V and
# 87.8 A with the loads to the neutral spread over the legs, which is what is answered here
@BEFORE_2026
def test_examples_d5_for_one_unit(year: str) -> None:
    found = figures(840, [load(K.RANGE, 12_000)], year, laundry_circuits=0, system=System.V120_208)
    assert round(found.current, 1) == 54.6
    assert found.neutral == 3_882.0 + 8_000.0
    electric = figures(840, D4B, year, laundry_circuits=0, system=System.V120_208)
    assert round(electric.current, 1) == 87.8
    assert round(electric.total / 208, 1) == 90.3


# https://www.jadelearning.com/blog/single-family-dwelling-calculation-optional-method/
@BEFORE_2026
def test_a_house_of_2800_square_feet_by_the_optional_method(year: str) -> None:
    loads = [
        load(K.RANGE, 14_000),
        load(K.WATER_HEATER, 3_000),
        load(K.DRYER, 5_000),
        load(K.DISHWASHER, 1_500),
        load(K.HEAT, 15_000),
        load(K.AIR_CONDITIONER, 29 * 240),
    ]
    found = figures(2800, loads, year, LoadMethod.OPTIONAL)
    assert (found.total, round(found.current)) == (30_310.0, 126.0)


# https://forums.mikeholt.com/threads/dwelling-service-load-calculations.2560180
@BEFORE_2026
def test_a_house_of_2500_square_feet_by_the_standard_method(year: str) -> None:
    loads = [
        load(K.RANGE, 11_000),
        load(K.DRYER, 4_500),
        load(K.HEAT, 10_000),
        load(K.DISPOSER, 800),
        load(K.OTHER, 2_500, fastened=False),
    ]
    found = figures(2500, loads, year)
    assert (found.total, round(found.current)) == (32_650.0, 136.0)
    assert line(found, "dryers") == 5_000
    # the question there put heat, motor and plugged-in appliances under the 35 percent: 20875 VA, wrong
    assert found.total != 20_875.0
    assert 30_150.0 in [each.total for each in found.others]


# https://codelibrary.amlegal.com/codes/centervillein/latest/centerville_in/0-0-0-4223 prints 13775 VA (and 13755): it takes
# 35 percent of 3000 VA for 750 and leaves the laundry circuit out
def test_a_town_codes_sum_is_wrong() -> None:
    cooking = [load(K.WALL_OVEN, 5_000), load(K.COOKTOP, 6_500)]
    others = [load(K.DISHWASHER, 1_500), load(K.DISPOSER, 750, motor=False), load(K.OTHER, 300, fastened=True)]
    without = figures(1000, cooking + others, "2017", laundry_circuits=0)
    assert (without.total, line(without, "general load after demand"), line(without, "cooking")) == (14_075.0, 4_050.0, 7_475.0)
    assert figures(1000, cooking + others, "2017").total == 14_600.0
    assert without.total not in (13_775.0, 13_755.0)


# https://www.scribd.com/document/205290785 prints 173.1 A: 5000 W for the first 90 m2 and so on, the load of another country's code
def test_another_countrys_method_is_not_mixed_in() -> None:
    loads = [
        load(K.AIR_CONDITIONER, 6_000),
        load(K.RANGE, 11_000),
        load(K.OTHER, 8_000, fastened=True),
        load(K.EVSE, 7_200),
        load(K.DRYER, 5_000),
        load(K.WATER_HEATER, 4_500),
    ]
    assert round(figures(2900, loads, "2023", LoadMethod.STANDARD).current, 1) != 173.1


# https://www.ecmag.com/print/section/codes-standards/branch-circuit-feeder-and-service-calculations-part-lv: 13500 VA
# https://dakotaprep.com/post/guide-to-appliance-load-calculation-questions-on-nec-electrical-exams: the sum is worked out here
@EVERY_EDITION
def test_four_fastened_appliances_count_for_three_quarters(year: str) -> None:
    heaters = figures(1000, [load(K.WATER_HEATER, 4_500, count=4)], year)
    assert line(heaters, "water heater x 4") == 13_500
    kitchen = [
        load(K.WATER_HEATER, 4_800),
        load(K.DISHWASHER, 1_200),
        load(K.DISPOSER, 1_150, motor=False),
        load(K.OTHER, 800, fastened=True),
    ]
    general = figures(1000, [], year).total
    assert figures(1000, kitchen, year).total - general == 5_962.5
    assert figures(1000, kitchen[:3], year).total - general == 7_150
    range_and_dryer = [load(K.RANGE, 12_000), load(K.DRYER, 4_500), load(K.WATER_HEATER, 4_500), load(K.DISHWASHER, 1_200)]
    assert figures(1000, range_and_dryer, year).total - general == 18_700


# inputs of https://www.transtutors.com/questions/...5202548.htm, a course assignment without its answer: worked out here
@BEFORE_2026
def test_a_large_house_with_a_tankless_heater(year: str) -> None:
    loads = [
        load(K.WATER_HEATER, 28_000),
        load(K.DISHWASHER, 1_200),
        load(K.DISPOSER, 1_200),
        load(K.MOTOR, 750, count=2, fastened=True),
        load(K.DRYER, 5_000),
        load(K.RANGE, 12_000),
        load(K.AIR_CONDITIONER, 17.9 * 240),
        load(K.AIR_CONDITIONER, 3.3 * 240),
    ]
    found = figures(3800, loads, year, small_appliance_circuits=3)
    assert (round(found.total), round(found.current), found.service) == (51_127.0, 213.0, 225.0)
    assert line(found, "largest motor") == pytest.approx(1_074)


# our own small house, published nowhere: an all-electric cottage of 400 square feet
@pytest.mark.parametrize(
    ("year", "standard", "optional"),
    [("2017", 27_145, 20_960), ("2020", 27_145, 20_960), ("2023", 27_145, 20_960), ("2026", 27_005, 19_600)],
)
def test_an_all_electric_cottage(year: str, standard: float, optional: float) -> None:
    loads = [
        load(K.RANGE, 12_000),
        load(K.WATER_HEATER, 4_500),
        load(K.DISHWASHER, 1_200),
        load(K.DRYER, 5_000),
        load(K.HEAT_PUMP, 15 * 240),
    ]
    found = figures(400, loads, year)
    assert (found.total, found.service) == (standard, 125.0)
    other = figures(400, loads, year, LoadMethod.OPTIONAL)
    assert (other.total, other.service) == (optional, 100.0)
    assert optional in [each.total for each in found.others]


def test_two_furnaces_are_not_four_heaters() -> None:
    two = figures(1000, [load(K.HEAT, 5_000, count=2)], "2023", LoadMethod.OPTIONAL)
    assert line(two, "electric heat") == 6_500
    four = figures(1000, [load(K.HEAT, 2_500, count=4)], "2023", LoadMethod.OPTIONAL)
    assert line(four, "electric heat") == 4_000


@EVERY_EDITION
def test_heating_and_cooling_are_compared_with_the_motors_share(year: str) -> None:
    # the words of 220.60 in 2023; before it, the safer reading
    found = figures(1000, [load(K.HEAT, 5_000), load(K.AIR_CONDITIONER, 4_500)], year)
    assert line(found, "air conditioner") + line(found, "largest motor") == 5_625


def test_the_other_reading_adds_the_cooling_motors_share_to_the_heat() -> None:
    loads = [load(K.HEAT, 9_000), load(K.AIR_CONDITIONER, 4_000)]
    found = figures(1000, loads, "2023")
    assert found.total + 1_000 in [each.total for each in found.others]


@pytest.mark.parametrize(("year", "counted"), [("2017", 7_500), ("2020", 7_500), ("2023", 7_200), ("2026", 6_000)])
def test_vehicle_charging_equipment_of_6_kilowatts(year: str, counted: float) -> None:
    # 2017 and 2020: a continuous load (625.42, from memory); 2023: 220.57; 2026: its nameplate, by a trade report
    assert line(figures(1000, [load(K.EVSE, 6_000)], year), "vehicle charging equipment") == counted


def test_dryers_of_2026_whose_row_was_not_seen_are_not_evaluated() -> None:
    assert line(figures(1000, [load(K.DRYER, 5_000, count=3)], "2026"), "dryers") == 12_000
    assert line(figures(1000, [load(K.DRYER, 5_000, count=6)], "2023"), "dryers") == 22_500
    with pytest.raises(CalculationError, match="6 dryers: not evaluated"):
        figures(1000, [load(K.DRYER, 5_000, count=6)], "2026")


def test_lines_say_what_was_counted_and_by_what_share() -> None:
    four = [load(K.WATER_HEATER, 4_500), load(K.DISHWASHER, 1_200, count=2), load(K.DISPOSER, 900)]
    charger, dryers = load(K.EVSE, 9_600), load(K.DRYER, 5_500, count=5)
    found = figures(1500, [*four, charger, dryers], "2017")
    notes = {each.what: each.note for each in found.lines}
    assert notes["dishwasher x 2"] == notes["water heater"] == "4 fastened in place: x 0.75"
    assert notes["dryers"] == "at least 5000 VA each; 5 dryers: 85 %"
    assert notes["vehicle charging equipment"] == "x 1.25, a continuous load"
    of_2023 = {each.what: each.note for each in figures(1500, [charger], "2023").lines}
    assert "continuous" not in of_2023["vehicle charging equipment"]
    fewer = {each.what: each.note for each in figures(1500, [four[0], load(K.DRYER, 5_500)], "2017").lines}
    assert (fewer["water heater"], fewer["dryers"]) == ("", "at least 5000 VA each")


# 220.61: a motor between the legs puts nothing on the neutral, one between a leg and the neutral its 25 percent too
@EVERY_EDITION
def test_the_largest_motors_share_loads_the_neutral_where_the_motor_does(year: str) -> None:
    on_legs, on_neutral = (figures(1500, [load(K.MOTOR, 1_000, voltage=each, fastened=True)], year) for each in (240, 120))
    shares = [next(each for each in found.lines if each.what == "largest motor") for found in (on_legs, on_neutral)]
    assert [(each.load, each.to_neutral, each.between_legs) for each in shares] == [(250, 0, True), (250, 250, False)]


def test_small_appliances_do_not_make_four_since_2020() -> None:
    loads = [load(K.WATER_HEATER, 4_500), load(K.DISHWASHER, 1_200), load(K.DISPOSER, 600), load(K.OTHER, 300, fastened=True)]
    assert line(figures(1000, loads, "2017"), "water heater") == 3_375
    assert line(figures(1000, loads, "2020"), "water heater") == 4_500


def test_what_cannot_be_answered_says_so() -> None:
    with pytest.raises(CalculationError, match="at least 2"):
        figures(400, [], "2023", small_appliance_circuits=1)
    with pytest.raises(CalculationError, match="fastened"):
        figures(400, [load(K.MICROWAVE, 1_500)], "2023")
    with pytest.raises(CalculationError, match="floor area"):
        figures(0, [], "2023")


def test_neutral_over_200_amperes_has_a_second_relief() -> None:
    # 220.61(B)(2): 70 percent of what lies over 200 A; 48000 VA is 200 A at 240 V
    heavy = [load(K.OTHER, 60_000, fastened=True, voltage=120.0)]
    found = figures(1000, heavy, "2023")
    plain = sum(each.to_neutral for each in found.lines)
    assert found.neutral == pytest.approx(48_000 + 0.7 * (plain - 48_000))
    assert figures(1000, heavy, "2023", system=System.V120_208).neutral == plain


def loads_of(kinds: Iterable[LoadKind]) -> st.SearchStrategy[Load]:
    return st.builds(
        load, st.sampled_from(sorted(kinds)), st.floats(min_value=2_000, max_value=8_000), fastened=st.just(value=True)
    )


@pytest.mark.parametrize("year", ["2017", "2020", "2023"])
@given(loads=st.lists(loads_of(LoadKind), max_size=6), more=loads_of(set(LoadKind) - set(BUCKET)))
def test_adding_a_load_never_lowers_the_total(year: str, loads: list[Load], more: Load) -> None:
    assert figures(800, [*loads, more], year).total >= figures(800, loads, year).total - 1e-6


@EVERY_EDITION
@given(loads=st.lists(loads_of(BUCKET), min_size=4, max_size=6), more=loads_of(BUCKET))
def test_a_fifth_fastened_appliance_never_lowers_the_total(year: str, loads: list[Load], more: Load) -> None:
    assert figures(800, [*loads, more], year).total >= figures(800, loads, year).total - 1e-6


def test_the_fourth_fastened_appliance_may_lower_the_total() -> None:
    """The code's own step: at four, all of them count for three quarters."""
    three = [load(K.WATER_HEATER, 4_500, count=3)]
    four = [*three, load(K.DISHWASHER, 500)]
    assert figures(800, four, "2023").total < figures(800, three, "2023").total


# https://www.krasa.ai/industries/electrical/skills/nec-2026-load-calculation-helper: charging at 100 % of the nameplate by 120.82(D)
@pytest.mark.parametrize(
    ("year", "charging"), [("2017", 0.4 * 7_200), ("2020", 0.4 * 7_200), ("2023", 0.4 * 7_200), ("2026", 7_200.0)]
)
def test_vehicle_charging_by_the_optional_method(year: str, charging: float) -> None:
    without = Dwelling(area=SquareInches(1_500 * 144.0), loads=(Load(kind=LoadKind.RANGE, power=VoltAmperes(12_000)),))
    charger = Load(kind=LoadKind.EVSE, power=VoltAmperes(7_200))
    charged = replace(without, loads=(*without.loads, charger))
    code = edition(year)
    more = dwelling_load(charged, LoadMethod.OPTIONAL, code)
    assert more.total - dwelling_load(without, LoadMethod.OPTIONAL, code).total == pytest.approx(charging)
    in_pool = [each.total for each in more.others if each.what == CHARGING_IN_POOL]
    assert [round(more.total - each, 6) for each in in_pool] == ([round(0.6 * 7_200, 6)] if year == "2026" else [])
