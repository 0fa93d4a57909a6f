"""The house as a load calculation sees it: its area, its appliances by their nameplates, its small-appliance and laundry circuits."""

from collections.abc import Iterator
from dataclasses import dataclass

from nailplate.calc.loads.dwelling import Dwelling, DwellingFigures, LoadMethod, System, dwelling_load
from nailplate.calc.loads.items import Load, LoadKind
from nailplate.codes import Edition
from nailplate.plan import Pointer, UnknownFact
from nailplate.plan.trade import COOKING, IN_THE_ALLOWANCES, TWO_LEGS, WATER_HEATING
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import ApplianceKind, Connection, Fuel, Purpose, SupplyVoltage
from nailplate.survey.index import Survey
from nailplate.survey.space import CountedArea, area_needs, counted_area
from nailplate.units import VoltAmperes, reaches

_KINDS = {
    ApplianceKind.RANGE: LoadKind.RANGE,
    ApplianceKind.WALL_OVEN: LoadKind.WALL_OVEN,
    ApplianceKind.COOKTOP: LoadKind.COOKTOP,
    ApplianceKind.CLOTHES_DRYER: LoadKind.DRYER,
    ApplianceKind.WATER_HEATER: LoadKind.WATER_HEATER,
    ApplianceKind.TANKLESS_HEATER: LoadKind.WATER_HEATER,
    ApplianceKind.DISHWASHER: LoadKind.DISHWASHER,
    ApplianceKind.DISPOSER: LoadKind.DISPOSER,
    ApplianceKind.MICROWAVE: LoadKind.MICROWAVE,
    ApplianceKind.BASEBOARD_HEATER: LoadKind.HEAT,
    ApplianceKind.WALL_HEATER: LoadKind.HEAT,
    ApplianceKind.FURNACE: LoadKind.HEAT,
    ApplianceKind.HEAT_PUMP: LoadKind.HEAT_PUMP,
    ApplianceKind.MINI_SPLIT: LoadKind.HEAT_PUMP,
    ApplianceKind.AIR_CONDITIONER: LoadKind.AIR_CONDITIONER,
    ApplianceKind.EVAPORATIVE_COOLER: LoadKind.AIR_CONDITIONER,
    ApplianceKind.EVSE: LoadKind.EVSE,
    ApplianceKind.WELL_PUMP: LoadKind.MOTOR,
    ApplianceKind.SUMP_PUMP: LoadKind.MOTOR,
    ApplianceKind.PRESSURE_PUMP: LoadKind.MOTOR,
    ApplianceKind.VENTILATOR: LoadKind.MOTOR,
    ApplianceKind.EXHAUST_FAN: LoadKind.MOTOR,
    ApplianceKind.GARAGE_DOOR_OPENER: LoadKind.MOTOR,
}
_BURNERS = COOKING | {ApplianceKind.CLOTHES_DRYER}
_ALWAYS_COUNTED = frozenset(
    {LoadKind.RANGE, LoadKind.WALL_OVEN, LoadKind.COOKTOP, LoadKind.DRYER, LoadKind.EVSE, LoadKind.HEAT, LoadKind.HEAT_PUMP}
)


@dataclass(frozen=True, slots=True)
class HouseLoad:
    """The figures by the standard method and, where conductors of the supply allow it, by the optional one; what was counted.

    ``optional_area`` differs where the edition leaves garages out of the optional method alone.
    """

    standard: DwellingFigures
    optional: DwellingFigures
    area: CountedArea
    optional_area: CountedArea


def house_load(survey: Survey, edition: Edition) -> HouseLoad:
    """The load of the whole dwelling. Raises UnknownFact for the first fact that is missing, CalculationError out of reach."""
    return survey.once(_house_load, edition)


def _house_load(survey: Survey, edition: Edition) -> HouseLoad:
    loads = tuple(load_of(appliance) for appliance in counted_appliances(survey))
    areas = [counted_area(survey, garages=edition.holds(each)) for each in ("garages_count", "garages_count_in_both_methods")]
    standard, optional = (_dwelling(survey, each, loads) for each in areas)
    return HouseLoad(
        dwelling_load(standard, LoadMethod.STANDARD, edition), dwelling_load(optional, LoadMethod.OPTIONAL, edition), *areas
    )


def load_needs(survey: Survey, edition: Edition) -> tuple[Pointer, ...]:
    """The facts that the load cannot be worked out without: one of each room and appliance that lacks any."""
    return (*area_needs(survey, garages=edition.holds("garages_count")), *appliance_needs(survey))


def appliance_needs(survey: Survey) -> tuple[Pointer, ...]:
    """Of each appliance the fact without which its load is not known."""
    found = []
    for appliance in survey.plan.appliances.values():
        try:
            if is_counted(appliance):
                load_of(appliance)
        except UnknownFact as unknown:
            found.append(unknown.pointer)
    return tuple(found)


def _dwelling(survey: Survey, area: CountedArea, loads: tuple[Load, ...]) -> Dwelling:
    purposes = [circuit.purpose for circuit in survey.plan.circuits.values() if circuit.knows("purpose")]
    systems = {supply.voltage for supply in survey.plan.supplies.values() if supply.knows("voltage")}
    return Dwelling(
        area=area.area,
        loads=loads,
        small_appliance_circuits=max(2, purposes.count(Purpose.SMALL_APPLIANCE)),
        laundry_circuits=max(1, purposes.count(Purpose.LAUNDRY)),
        system=System.V120_208 if SupplyVoltage.V120_208 in systems else System.V120_240,
    )


def counted_appliances(survey: Survey) -> Iterator[Appliance]:
    """The appliances that count by their nameplates; of those that stand either way the fastened and hard-wired ones."""
    return (appliance for appliance in survey.plan.appliances.values() if is_counted(appliance))


def is_counted(appliance: Appliance) -> bool:
    """Whether it counts by its nameplate. Raises UnknownFact where that is not said."""
    return appliance.kind not in IN_THE_ALLOWANCES and _is_electric(appliance) and _counts(appliance)


def _is_electric(appliance: Appliance) -> bool:
    """A gas range or dryer draws next to nothing; a fuel that is not said leaves it open, which raises UnknownFact."""
    heats = appliance.kind in _BURNERS or appliance.kind in WATER_HEATING
    return appliance.fuel is Fuel.NONE if heats else True


def _counts(appliance: Appliance) -> bool:
    if appliance.kind is ApplianceKind.WASHER_DRYER:  # at 120 V the laundry circuit's allowance holds it
        return reaches(appliance.volts, TWO_LEGS)
    if kind_of(appliance) in _ALWAYS_COUNTED:
        return True
    hard_wired = appliance.knows("connection") and appliance.connection is Connection.HARD_WIRED
    return hard_wired or appliance.fastened


def kind_of(appliance: Appliance) -> LoadKind:
    """What an appliance is to a load calculation. A furnace that burns fuel is its fan."""
    if appliance.kind is ApplianceKind.FURNACE and appliance.fuel is not Fuel.NONE:
        return LoadKind.MOTOR
    if appliance.kind is ApplianceKind.WASHER_DRYER:
        return LoadKind.DRYER
    return _KINDS.get(appliance.kind, LoadKind.OTHER)


def load_of(appliance: Appliance) -> Load:
    """One appliance by its nameplate."""
    return Load(
        kind=kind_of(appliance),
        power=nameplate(appliance),
        name=_called(appliance),
        voltage=appliance.volts if appliance.knows("volts") else None,
        fastened=True,
        units=appliance.units if appliance.knows("units") else 1,
    )


def nameplate(appliance: Appliance) -> VoltAmperes:
    """Volt-amperes: the power stated, else amperes times volts. Raises UnknownFact where neither is there."""
    if appliance.knows("power"):
        return appliance.power
    if appliance.knows("current", "volts"):
        return VoltAmperes(appliance.current * appliance.volts)
    raise UnknownFact(appliance.where("power"))


def amperes_drawn(appliance: Appliance) -> float:
    """Amperes: the current stated, else power over volts. Raises UnknownFact where neither is there."""
    if appliance.knows("current"):
        return appliance.current
    if appliance.knows("power", "volts"):
        return appliance.power / appliance.volts
    raise UnknownFact(appliance.where("current"))


def _called(appliance: Appliance) -> str:
    if appliance.knows("label"):
        return appliance.label
    return f"{appliance.kind.value.replace('_', ' ').replace('evse', 'vehicle charging equipment')} {appliance.id}"
