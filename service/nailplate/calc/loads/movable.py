"""Amperes on the legs of a movable home or a small feeder: part by part as Articles 550 and 552 add them up, a vehicle's in full."""

from collections.abc import Iterator

from nailplate.calc.loads.climate import kept_loads
from nailplate.calc.loads.dwelling import SQUARE_FOOT, System, amperes_of
from nailplate.calc.loads.general import after_demand, general_lines
from nailplate.calc.loads.items import CLIMATE, Load, LoadKind, of_kinds
from nailplate.calc.loads.legs import LEG_VOLTAGE, LINE_VOLTAGE, LegLoad, spread
from nailplate.calc.loads.standard import standard_lines
from nailplate.calc.loads.supply import CircuitUse, PlacedLoad, Regime, SmallSupply, needs_both_legs
from nailplate.calc.steps import CalculationError, Step
from nailplate.codes import Edition
from nailplate.units import VoltAmperes, amperes, volt_amperes, within


def leg_currents(asked: SmallSupply, edition: Edition) -> tuple[list[float], list[Step]]:
    """Amperes on each leg, with the steps that lead there."""
    if asked.regime is Regime.VEHICLE_PARK:
        return _by_sites(asked, edition)
    if asked.regime is Regime.FEEDER and asked.length is not None:
        return _by_standard_method(asked, edition)
    vehicle = asked.regime is Regime.RECREATIONAL_VEHICLE
    loads, steps = _running(asked, edition) if vehicle else _by_parts(asked, edition)
    return spread(loads, 2 if asked.two_legs else 1), steps


def _running(asked: SmallSupply, edition: Edition) -> tuple[list[LegLoad], list[Step]]:
    """A vehicle's nameplates in full, the larger of heating and cooling: Article 551 has no demand factors to take from them."""
    kept = kept_loads([placed.load for placed in asked.loads], edition)
    running = [placed for placed in asked.loads if placed.load.kind not in CLIMATE or placed.load in kept]
    loads = [_leg_load(placed, placed.load.total, asked) for placed in running if placed.load.total]
    return loads, [_step(load, edition.movable_homes.vehicle_cite) for load in loads]


def _by_sites(asked: SmallSupply, edition: Edition) -> tuple[list[float], list[Step]]:
    """A park's feeder: each circuit stands for one site with a receptacle of its rating."""
    table = edition.movable_homes.sites
    connected = 0.0
    for site in asked.circuits:
        if int(site.rating) not in table.load or site.rating % 1:
            raise CalculationError(f"a site of {site.rating:g} A: {table.cite} speaks of 20, 30 and 50 A")
        connected += table.load[int(site.rating)]
    percent = table.percent[max(row for row in table.percent if row <= len(asked.circuits))]
    load = VoltAmperes(connected * percent / 100.0)
    legs = [load / _volts(asked)] * (2 if asked.two_legs else 1)
    return legs, [
        Step("sites", volt_amperes(connected), table.cite, f"{len(asked.circuits)} of them"),
        Step("after demand", volt_amperes(load), table.cite, f"x {percent:g} %"),
    ]


def _by_standard_method(asked: SmallSupply, edition: Edition) -> tuple[list[float], list[Step]]:
    general = general_lines(_square_feet(asked), None, _of_use(asked, CircuitUse.LAUNDRY), edition)
    lines = standard_lines(general, [placed.load for placed in asked.loads], edition)
    current = amperes_of(lines, System.V120_240)
    legs = [current, current] if asked.two_legs else [sum(line.load for line in lines) / LEG_VOLTAGE]
    return legs, [line.step() for line in [*general, *lines]]


def _by_parts(asked: SmallSupply, edition: Edition) -> tuple[list[LegLoad], list[Step]]:
    """The steps that Articles 550 and 552 have in common; without a size only what is named counts."""
    table = edition.movable_homes
    cite = table.manufactured_cite if asked.regime is Regime.MANUFACTURED_HOME else table.park_trailer_cite
    loads = [
        *_general(asked, edition),
        *_climate(asked, edition),
        *_appliances(asked, edition),
        *_ranges(asked, edition),
        *_others(asked),
    ]
    loads = [load for load in loads if load.current]
    return loads, [_step(load, cite) for load in loads]


def _step(load: LegLoad, cite: str) -> Step:
    return Step(load.what, amperes(load.current), cite, "on both legs" if load.both else "on one leg")


def _general(asked: SmallSupply, edition: Edition) -> Iterator[LegLoad]:
    if asked.length is None:
        return
    each = edition.dwelling_load.allowances.each
    circuits = _of_use(asked, CircuitUse.SMALL_APPLIANCE) + _of_use(asked, CircuitUse.LAUNDRY)
    total = _square_feet(asked) * edition.movable_homes.unit_load + circuits * each
    demand = after_demand(total, edition.dwelling_load.demand)
    yield LegLoad("lighting, small-appliance and laundry circuits after demand", demand / _volts(asked), both=True)


def _climate(asked: SmallSupply, edition: Edition) -> Iterator[LegLoad]:
    """Heating or cooling, the larger, and motors; a quarter of the largest motor more."""
    loads = [placed.load for placed in asked.loads]
    kept = kept_loads(loads, edition)
    counted = [each for each in asked.loads if each.load in kept or (each.load.is_motor and each.load.kind is LoadKind.MOTOR)]
    motors = [placed for placed in counted if placed.load.is_motor]
    largest = max(motors, key=lambda placed: placed.load.power, default=None)
    for placed in counted:
        more = placed.load.power * edition.dwelling_load.motor.share if placed is largest else 0.0
        yield _leg_load(placed, placed.load.total + more, asked)
    table = edition.movable_homes
    if asked.rating == table.manufactured_gas_cord and not of_kinds(loads, [LoadKind.AIR_CONDITIONER, LoadKind.HEAT_PUMP]):
        yield LegLoad("allowance for later air conditioning", table.cooling_allowance, both=True)


def _appliances(asked: SmallSupply, edition: Edition) -> Iterator[LegLoad]:
    kinds = (
        LoadKind.DISPOSER,
        LoadKind.DISHWASHER,
        LoadKind.WATER_HEATER,
        LoadKind.DRYER,
        LoadKind.WALL_OVEN,
        LoadKind.COOKTOP,
    )
    found = [placed for placed in asked.loads if placed.load.kind in kinds]
    table = edition.movable_homes
    share = table.appliances_share if sum(placed.load.count for placed in found) > table.appliances_full else 1.0
    for placed in found:
        yield _leg_load(placed, placed.load.total * share, asked)


def _ranges(asked: SmallSupply, edition: Edition) -> Iterator[LegLoad]:
    for placed in asked.loads:
        if placed.load.kind is LoadKind.RANGE:
            yield _leg_load(placed, _range_load(placed.load, edition) * placed.load.count, asked)


def _range_load(load: Load, edition: Edition) -> float:
    table = edition.movable_homes
    if within(load.power, table.range_share_up_to):
        return load.power * table.range_share
    tier = next((tier for tier in table.ranges if within(load.power, tier.up_to)), None)
    if tier is None:
        raise CalculationError(f"a range of {load.power:g} VA: {table.park_trailer_cite} ends at {table.ranges[-1].up_to:g} VA")
    return tier.load


def _others(asked: SmallSupply) -> Iterator[LegLoad]:
    counted = (*CLIMATE, LoadKind.MOTOR, LoadKind.DISPOSER, LoadKind.DISHWASHER, LoadKind.WATER_HEATER, LoadKind.DRYER)
    cooking = (LoadKind.WALL_OVEN, LoadKind.COOKTOP, LoadKind.RANGE)
    for placed in asked.loads:
        if placed.load.kind not in (*counted, *cooking):
            yield _leg_load(placed, placed.load.total, asked)


def _leg_load(placed: PlacedLoad, load: float, asked: SmallSupply) -> LegLoad:
    both = needs_both_legs(placed.load)
    return LegLoad(
        placed.load.called, load / (LINE_VOLTAGE if both else LEG_VOLTAGE), both, placed.leg if asked.two_legs else None
    )


def _volts(asked: SmallSupply) -> float:
    return LINE_VOLTAGE if asked.two_legs else LEG_VOLTAGE


def _of_use(asked: SmallSupply, use: CircuitUse) -> int:
    return sum(1 for circuit in asked.circuits if circuit.use is use)


def _square_feet(asked: SmallSupply) -> float:
    if asked.length is None or asked.width is None:
        raise CalculationError("length and width go together")
    return asked.length * asked.width / SQUARE_FOOT
