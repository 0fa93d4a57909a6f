"""Published examples in which several units, legs or appliances come together; the figures of the service within sums done by hand.

Annex D examples were read in the 2005 text at flylib.com/books/en/2.419.1/ where not said to be from memory. Meter banks and three-phase
mains are no calculation of this service: of those examples only its own tables are tested.
"""

import math
from dataclasses import replace

import pytest

from nailplate.calc.loads.cooking import as_one_range, cooking_demand
from nailplate.calc.loads.dwelling import Dwelling, LoadMethod, dwelling_load
from nailplate.calc.loads.general import after_demand
from nailplate.calc.loads.items import Line, Load, LoadKind
from nailplate.calc.loads.legs import LegLoad, spread
from nailplate.calc.loads.neutral import neutral_lines
from nailplate.calc.loads.small_supply import small_supply
from nailplate.calc.loads.supply import PlacedLoad, Regime, SmallSupply, SupplyCircuit
from nailplate.calc.overcurrent import next_standard
from nailplate.calc.steps import CalculationError
from nailplate.codes import EDITIONS, edition
from nailplate.units import Amperes, SquareInches, VoltAmperes

BEFORE_2026 = pytest.mark.parametrize("year", [year for year in EDITIONS if year != "2026"])
EVERY_EDITION = pytest.mark.parametrize("year", EDITIONS)


def neutral(year: str, general: float, cooking: float) -> float:
    lines = [
        Line(what="general load after demand", load=general, citation="", to_neutral=general),
        Line(what="cooking", load=cooking, citation="", to_neutral=cooking, between_legs=True),
    ]
    return sum(line.load for line in neutral_lines(lines, edition(year), reduced=True))


# Annex D, example D1(b), from memory: 99 A and 104 A on the legs, a service of 110 A. Example D1(a) stands under both legs as 78 A; an
# air conditioner of 6 A at 240 V, one of 12 A at 120 V, a disposer of 8 A, a dishwasher of 10 A, and 25 percent of each leg's motor
@EVERY_EDITION
def test_legs_of_example_d1b(year: str) -> None:
    loads = [
        LegLoad("example D1(a)", 78, both=True),
        LegLoad("air conditioner, 240 V", 6, both=True),
        LegLoad("air conditioner, 120 V", 12, leg=0),
        LegLoad("a quarter of its motor", 3, leg=0),
        LegLoad("dishwasher", 10, leg=1),
        LegLoad("disposer", 8, leg=1),
        LegLoad("a quarter of its motor", 2, leg=1),
    ]
    assert spread(loads, 2) == [99, 104]
    assert next_standard(Amperes(max(spread(loads, 2))), edition(year).overcurrent) == 110.0


# Annex D, example D4(a), from memory: twenty units with ten ranges, 65590 VA, 273 A, a neutral of 58090 VA, 242 A, 229 A after relief;
# forty with twenty, 104150 VA, 434 A, a neutral of 93650 VA, 390 A, 333 A after relief
@BEFORE_2026
@pytest.mark.parametrize(
    ("general", "ranges", "total", "amperes", "plain", "relieved"),
    [(110_400, 10, 65_590, 273, 242, 229), (220_800, 20, 104_150, 434, 390, 333)],
)
def test_meter_banks_of_example_d4a(
    year: str, general: float, ranges: int, total: float, amperes: float, plain: float, relieved: float
) -> None:
    code = edition(year)
    demand = after_demand(general, code.dwelling_load.demand)
    cooking = cooking_demand([12.0] * ranges, code).kilowatts * 1000
    assert demand + cooking == pytest.approx(total)
    assert round((demand + cooking) / 240) == amperes
    assert round((demand + 0.7 * cooking) / 240) == plain
    assert round(neutral(year, demand, cooking) / 240) == relieved


# Annex D, example D5(a): on three phases ten ranges make at most four on a pair of legs, twenty make seven: columns C(8) = 23 kW and
# C(14) = 29 kW, half of it on each phase; 75090 VA, 208.4 A and 112650 VA, 312.7 A
@BEFORE_2026
@pytest.mark.parametrize(("general", "ranges", "total", "amperes"), [(40_590, 8, 75_090, 208.4), (69_150, 14, 112_650, 312.7)])
def test_ranges_on_three_phases_of_example_d5a(year: str, general: float, ranges: int, total: float, amperes: float) -> None:
    cooking = cooking_demand([12.0] * ranges, edition(year)).kilowatts * 1000 / 2 * 3
    assert general + cooking == pytest.approx(total)
    assert round((general + cooking) / (208 * math.sqrt(3)), 1) == amperes


# worked out with 2 VA for each square foot and a first tier of 8000 VA; not published
def test_published_houses_with_the_figures_of_2026() -> None:
    k = LoadKind
    optional = [(k.RANGE, 14_000), (k.WATER_HEATER, 3_000), (k.DRYER, 5_000), (k.DISHWASHER, 1_500), (k.HEAT, 15_000)]
    optional += [(k.AIR_CONDITIONER, 29 * 240)]
    standard = [(k.RANGE, 11_000), (k.DRYER, 4_500), (k.HEAT, 10_000), (k.DISPOSER, 800)]
    loose = Load(kind=k.OTHER, power=VoltAmperes(2_500), fastened=False)
    code = edition("2026")
    for square_feet, method, loads, more, total, amperes in (
        # https://www.jadelearning.com/blog/single-family-dwelling-calculation-optional-method/ (2014: 30310 VA, 126 A)
        (2800, LoadMethod.OPTIONAL, optional, (), 27_990.0, 116.6),
        # https://forums.mikeholt.com/threads/dwelling-service-load-calculations.2560180 (32650 VA, 136 A)
        (2500, LoadMethod.STANDARD, standard, (loose,), 31_775.0, 132.4),
    ):
        loads_of = tuple(Load(kind=kind, power=VoltAmperes(power)) for kind, power in loads) + more
        found = dwelling_load(Dwelling(area=SquareInches(square_feet * 144), loads=loads_of), method, code)
        assert (found.total, round(found.current, 1)) == (total, amperes)


# https://studylib.net/doc/25337528/load-est-design: 3500 square feet, 10500 VA; 7000 VA and 4400 VA after demand in 2026 are worked out
@pytest.mark.parametrize(
    ("year", "lighting", "demand"), [("2017", 10_500, 5_625), ("2023", 10_500, 5_625), ("2026", 7_000, 4_400)]
)
def test_lighting_of_3500_square_feet(year: str, lighting: float, demand: float) -> None:
    tables = edition(year).dwelling_load
    assert 3500 * tables.unit_load.service == lighting
    assert after_demand(lighting, tables.demand) == pytest.approx(demand)


# http://electricalexamseminars.com/?p=6711: a range of 14 kW, 8.8 kW (the current is worked out); venkatsacademy.com/2016/09/
# earth-magnetic-field-and-bar-magnet.html: a cooktop of 8 and two ovens of 6 kW on one circuit, 11.2 kW, 46.7 A, a circuit of 50 A
@EVERY_EDITION
def test_circuits_of_cooking_equipment(year: str) -> None:
    code = edition(year)
    for kilowatts, amperes, circuit in (
        (cooking_demand([14.0], code).kilowatts, 36.7, 40.0),
        (as_one_range(8, [6, 6], code), 46.7, 50.0),
    ):
        assert round(kilowatts * 1000 / 240, 1) == amperes
        assert next_standard(Amperes(kilowatts * 1000 / 240), code.overcurrent) == circuit


# https://rvtravel.com/rv-electricity-jam-appliance-power-update: a kettle of 1500 W takes about 12 A (12.5 A at 120 V), and with a
# microwave on the same circuit it trips; 12.8 A for the microwave is from published tables of such appliances
@EVERY_EDITION
def test_a_kettle_and_a_microwave_are_more_than_one_kitchen_circuit(year: str) -> None:
    kettle, microwave = (
        PlacedLoad(load=Load(kind=LoadKind.OTHER, power=VoltAmperes(power), voltage=120.0, name=name), leg=0)
        for name, power in (("kettle", 1_500), ("microwave", 12.8 * 120))
    )
    kitchen = SmallSupply(
        regime=Regime.RECREATIONAL_VEHICLE,
        rating=Amperes(20),
        two_legs=False,
        circuits=(SupplyCircuit(rating=Amperes(20)),),
        loads=(kettle,),
    )
    alone = small_supply(kitchen, edition(year))
    both = small_supply(replace(kitchen, loads=(kettle, microwave)), edition(year))
    assert (alone.legs, alone.cautions) == ((12.5,), ())
    assert [round(leg, 1) for leg in both.legs] == [25.3]
    assert "not everything can run together" in both.cautions[0]


# https://www.scribd.com/document/205290785 prints 173.1 A, by another country's method; its own figures sum to 36575 W, 152.4 A
@EVERY_EDITION
def test_an_answer_by_another_countrys_code_is_no_reading_of_this_one(year: str) -> None:
    k = LoadKind
    loads = [(k.AIR_CONDITIONER, 6_000), (k.RANGE, 11_000), (k.OTHER, 8_000), (k.EVSE, 7_200), (k.DRYER, 5_000)]
    loads += [(k.WATER_HEATER, 4_500)]
    asked = Dwelling(
        area=SquareInches(2900 * 144),
        loads=tuple(Load(kind=kind, power=VoltAmperes(power), fastened=True) for kind, power in loads),
    )
    for method in LoadMethod:
        found = dwelling_load(asked, method, edition(year))
        answers = [found.current, *(other.total / 240 for other in found.others)]
        assert all(abs(answer - wrong) > 1 for answer in answers for wrong in (173.1, 152.4))


# Annex D, example D4(b), from memory: units of 840 square feet, each with a range of 8 kW, heaters of 6 kW and a water heater of 2.5 kW,
# by the optional method for many units: twenty take 167352 VA, 697 A; forty 246624 VA, 1028 A
@BEFORE_2026
@pytest.mark.parametrize(("units", "total", "amperes"), [(20, 167_352, 697), (40, 246_624, 1_028)])
def test_banks_of_example_d4b(year: str, units: int, total: float, amperes: float) -> None:
    found = dwelling_load(bank(units), LoadMethod.OPTIONAL, edition(year))
    assert (round(found.total), round(found.current)) == (total, amperes)
    assert found.lines[0].citation == "220.84"
    assert found.others == ()


def bank(units: int) -> Dwelling:
    loads = (
        Load(kind=LoadKind.RANGE, power=VoltAmperes(8_000), count=units),
        Load(kind=LoadKind.HEAT, power=VoltAmperes(1_500), count=4 * units),
        Load(kind=LoadKind.WATER_HEATER, power=VoltAmperes(2_500), count=units),
    )
    return Dwelling(area=SquareInches(840 * 144 * units), loads=loads, laundry_circuits=0, units=units)


@EVERY_EDITION
def test_several_units_have_the_least_of_their_own(year: str) -> None:
    three = dwelling_load(Dwelling(area=SquareInches(300 * 144), units=3), LoadMethod.STANDARD, edition(year))
    assert sum(line.load for line in three.general[1:]) == 3 * (2 + 1) * 1_500
    assert three.service == 60.0
    with pytest.raises(CalculationError, match="two are not evaluated"):
        dwelling_load(Dwelling(area=SquareInches(300 * 144), units=2), LoadMethod.OPTIONAL, edition(year))


# NEC 2008, 551.73, at https://www.solar365.com/green-homes/national-electric-code-2008/
# recreational-vehicles-and-recreational-vehicle-parks/page/0/16: twenty sites of 30 A at 45 percent, 32400 VA
@EVERY_EDITION
def test_a_park_of_twenty_sites(year: str) -> None:
    found = small_supply(park(20, 30), edition(year))
    assert found.legs == (135.0, 135.0)
    assert (found.smallest, found.by, found.fits) == (Amperes(150), "551.73(A)", True)
    assert small_supply(park(1, 20), edition(year)).smallest == 30.0
    with pytest.raises(CalculationError, match="20, 30 and 50 A"):
        small_supply(park(2, 40), edition(year))


def park(sites: int, rating: float) -> SmallSupply:
    site = SupplyCircuit(rating=Amperes(rating))
    return SmallSupply(regime=Regime.VEHICLE_PARK, rating=Amperes(150), two_legs=True, circuits=(site,) * sites)
