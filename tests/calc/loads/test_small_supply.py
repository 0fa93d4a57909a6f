"""Small supplies: recreational vehicles by their circuits, park trailers and manufactured homes by their legs.

Annex D examples D11 and D12 are from memory: their results of 50 A are firm, the integers of single rows are not.
"""

from dataclasses import replace
from typing import Any

import pytest

from nailplate.calc.loads.items import Load, LoadKind
from nailplate.calc.loads.small_supply import small_supply
from nailplate.calc.loads.supply import CircuitUse, PlacedLoad, Regime, SmallSupply, SupplyCircuit
from nailplate.calc.steps import CalculationError
from nailplate.codes import EDITIONS, edition
from nailplate.units import Amperes, Inches, VoltAmperes

EVERY_EDITION = pytest.mark.parametrize("year", EDITIONS)
K = LoadKind


def placed(kind: LoadKind, power: float, leg: int | None = None, **more: Any) -> PlacedLoad:
    return PlacedLoad(load=Load(kind=kind, power=VoltAmperes(power), **more), leg=leg)


def circuits(number: int, use: CircuitUse = CircuitUse.GENERAL, **more: Any) -> tuple[SupplyCircuit, ...]:
    return (SupplyCircuit(rating=Amperes(20), use=use, **more),) * number


SIX = (*circuits(2, CircuitUse.SMALL_APPLIANCE), *circuits(1, CircuitUse.LAUNDRY), *circuits(3))
D11 = SmallSupply(
    regime=Regime.MANUFACTURED_HOME,
    rating=Amperes(50),
    two_legs=True,
    circuits=SIX,
    loads=(
        placed(K.HEAT, 1_000, voltage=240.0),
        placed(K.MOTOR, 200, voltage=120.0, leg=0),
        placed(K.DISHWASHER, 400, voltage=120.0, leg=1),
        placed(K.RANGE, 7_000),
    ),
    length=Inches(70 * 12),
    width=Inches(10 * 12),
)


@EVERY_EDITION
def test_example_d11_of_annex_d(year: str) -> None:
    found = small_supply(D11, edition(year))
    assert [round(leg, 1) for leg in found.legs] == [47.3, 48.6]
    assert (found.fits, found.smallest) == (True, 50.0)


@EVERY_EDITION
def test_example_d12_of_annex_d(year: str) -> None:
    found = small_supply(replace(D11, regime=Regime.PARK_TRAILER, length=Inches(40 * 12)), edition(year))
    assert [round(leg, 1) for leg in found.legs] == [46.0, 47.3]
    assert (found.fits, found.smallest) == (True, 50.0)


# our own small house, published nowhere: 24 ft x 8 ft 6 in on wheels, propane for cooking, heat and water
WHEELS = SmallSupply(
    regime=Regime.PARK_TRAILER,
    rating=Amperes(30),
    two_legs=False,
    circuits=(*circuits(2, CircuitUse.SMALL_APPLIANCE), *circuits(2)),
    loads=(placed(K.AIR_CONDITIONER, 12 * 120, voltage=120.0),),
    length=Inches(24 * 12),
    width=Inches(8.5 * 12),
)


def test_four_circuits_on_30_amperes_fit_by_count_and_are_cautioned_by_load() -> None:
    found = small_supply(WHEELS, edition("2023"))
    assert [round(leg, 1) for leg in found.legs] == [41.8]
    assert (found.fits, found.smallest, found.by) == (True, 30.0, "552.46")
    assert "not everything can run together" in found.cautions[0]
    on_two_legs = small_supply(replace(WHEELS, rating=Amperes(50), two_legs=True), edition("2023"))
    assert sorted(round(leg, 1) for leg in on_two_legs.legs) == [13.4, 28.4]
    assert on_two_legs.cautions == ()


def test_a_240_volt_load_on_a_120_volt_supply_does_not_run() -> None:
    heater = placed(K.WATER_HEATER, 3_800, voltage=240.0)
    found = small_supply(replace(WHEELS, loads=(heater,)), edition("2023"))
    assert not found.fits
    assert "water heater needs 240 V; the supply gives 120 V" in found.reasons


def test_multiwire_on_one_leg_overloads_its_neutral() -> None:
    found = small_supply(replace(WHEELS, circuits=circuits(2, multiwire=True)), edition("2023"))
    assert any("neutral carries their sum" in reason for reason in found.reasons)


# 551.42, options A to D; their existence: codebookcity.com/codearticles/nec/necarticle551-1.htm, their wording from memory
@pytest.mark.parametrize(
    ("number", "rating", "two_legs", "smallest", "fits"),
    [
        (1, 20, False, 20, True),
        (2, 30, False, 30, True),
        (5, 30, False, 30, True),
        (6, 30, False, 50, False),
        (6, 50, True, 50, True),
        (5, 20, False, 30, False),
    ],
)
def test_vehicles_go_by_the_number_of_circuits(number: int, rating: float, two_legs: bool, smallest: float, fits: bool) -> None:
    asked = SmallSupply(
        regime=Regime.RECREATIONAL_VEHICLE, rating=Amperes(rating), two_legs=two_legs, circuits=circuits(number)
    )
    found = small_supply(asked, edition("2023"))
    assert (found.smallest, found.fits, found.by) == (smallest, fits, "551.42")


def test_a_converters_circuit_is_not_counted_and_energy_management_lifts_the_count() -> None:
    vehicle = SmallSupply(
        regime=Regime.RECREATIONAL_VEHICLE,
        rating=Amperes(30),
        two_legs=False,
        circuits=(*circuits(5), *circuits(1, CircuitUse.CONVERTER)),
    )
    assert small_supply(vehicle, edition("2023")).fits
    managed = replace(vehicle, circuits=circuits(7), energy_management=True)
    assert small_supply(managed, edition("2023")).fits
    thermostats = tuple(placed(K.AIR_CONDITIONER, 1_500, voltage=120.0) for _ in range(3))
    assert not small_supply(replace(vehicle, loads=thermostats), edition("2023")).fits


# Article 551 has no steps like those of 550.18 and 552.47: what runs together, runs in full (from memory)
def test_what_runs_in_a_vehicle_counts_in_full() -> None:
    four = (K.DISPOSER, K.DISHWASHER, K.WATER_HEATER, K.COOKTOP)
    loads = (*(placed(kind, 1_200, voltage=120.0) for kind in four), placed(K.AIR_CONDITIONER, 1_440, voltage=120.0))
    vehicle = SmallSupply(
        regime=Regime.RECREATIONAL_VEHICLE, rating=Amperes(30), two_legs=False, circuits=circuits(5), loads=loads
    )
    found = small_supply(vehicle, edition("2023"))
    assert found.legs == (4 * 10.0 + 12.0,)
    assert {step.citation for step in found.steps if step.what in ("disposer", "cooktop")} == {"551.42"}


# 24 CFR 3280.803: 50 A, or 40 A with factory gas heat and cooking (laws9.com/cfr/text/24/3280/803)
def test_a_manufactured_home_has_a_cord_of_50_or_40_amperes() -> None:
    gas = replace(D11, loads=(), gas_heat_and_cooking=True, rating=Amperes(40))
    found = small_supply(gas, edition("2023"))
    assert (found.smallest, found.fits) == (40.0, True)
    assert found.legs[0] == pytest.approx(17.75 + 15)
    heavy = replace(D11, loads=(*D11.loads, placed(K.WATER_HEATER, 4_500, voltage=240.0)))
    assert small_supply(heavy, edition("2023")).smallest is None


def test_a_feeder_to_a_small_house_takes_the_standard_method() -> None:
    feeder = replace(D11, regime=Regime.FEEDER, rating=Amperes(60), loads=(placed(K.RANGE, 12_000),))
    found = small_supply(feeder, edition("2023"))
    assert found.legs[0] == pytest.approx((3_000 + 0.35 * 3_600 + 8_000) / 240)
    assert (found.fits, found.smallest, found.by) == (True, 60.0, "215.2(A)")


# the older sister text at regulations.justia.com/states/indiana/title-675/article-15/rule-2/section-100
@pytest.mark.parametrize(
    ("power", "counted"), [(10_000, 8_000), (10_001, 8_000), (12_501, 8_400), (14_500, 8_800), (17_500, 10_000)]
)
def test_a_free_standing_range_by_its_table(power: float, counted: float) -> None:
    found = small_supply(replace(D11, loads=(placed(K.RANGE, power),)), edition("2023"))
    assert found.legs[0] == pytest.approx(17.75 + counted / 240)


def test_what_makes_no_sense_is_refused() -> None:
    for wrong in (replace(D11, rating=Amperes(0)), replace(D11, width=None), replace(D11, loads=(placed(K.RANGE, 20_000),))):
        with pytest.raises(CalculationError):
            small_supply(wrong, edition("2023"))


def test_equipment_marked_125_volts_needs_one_leg_alone() -> None:
    marked = replace(WHEELS, circuits=circuits(4, voltage=125.0), loads=(placed(K.AIR_CONDITIONER, 1_440, voltage=125.0),))
    assert small_supply(marked, edition("2023")).fits
    across = replace(marked, circuits=circuits(4, voltage=208.0))
    assert not small_supply(across, edition("2023")).fits
