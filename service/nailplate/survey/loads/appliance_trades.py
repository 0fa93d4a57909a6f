"""Which rules of the code an appliance's circuit goes by, and how the appliance is joined to it."""

from enum import StrEnum
from typing import Final

from nailplate.plan.wiring import Appliance
from nailplate.plan.words import ApplianceKind, Connection, Fuel


class Trade(StrEnum):
    """The rules that speak of an appliance's circuit."""

    COOKING = "cooking"
    WATER = "water heating"
    HEAT = "fixed heating"
    MOTOR = "motors and cooling"
    CHARGING = "vehicle charging"
    OTHER = "other"


class Attached(StrEnum):
    """How a load is joined to a circuit."""

    LIGHTING = "lighting"
    FASTENED = "fastened in place"
    CORD = "on a cord, in its place"
    CARRIED = "plugged in by hand"


COOKING: Final = frozenset({ApplianceKind.RANGE, ApplianceKind.WALL_OVEN, ApplianceKind.COOKTOP})
WATER: Final = frozenset({ApplianceKind.WATER_HEATER, ApplianceKind.TANKLESS_HEATER})
HEAT: Final = frozenset({ApplianceKind.BASEBOARD_HEATER, ApplianceKind.WALL_HEATER, ApplianceKind.FURNACE})
COOLING: Final = frozenset({ApplianceKind.HEAT_PUMP, ApplianceKind.MINI_SPLIT, ApplianceKind.AIR_CONDITIONER})
MOTORS: Final = frozenset(
    {
        ApplianceKind.WELL_PUMP,
        ApplianceKind.SUMP_PUMP,
        ApplianceKind.PRESSURE_PUMP,
        ApplianceKind.GARAGE_DOOR_OPENER,
        ApplianceKind.DISPOSER,
        ApplianceKind.COMPACTOR,
        ApplianceKind.EVAPORATIVE_COOLER,
    }
)
CARRIED: Final = frozenset(
    {
        ApplianceKind.KETTLE,
        ApplianceKind.COFFEE_MAKER,
        ApplianceKind.TOASTER,
        ApplianceKind.HAIR_DRYER,
        ApplianceKind.PORTABLE_HEATER,
        ApplianceKind.COMPUTER,
        ApplianceKind.TELEVISION,
    }
)
"""Plugged in and out by whoever lives there; what the code asks of a circuit does not count them one by one."""
_BUILT_IN: Final = (
    WATER
    | HEAT
    | (COOLING - {ApplianceKind.AIR_CONDITIONER})
    | {
        ApplianceKind.WALL_OVEN,
        ApplianceKind.COOKTOP,
        ApplianceKind.RANGE_HOOD,
        ApplianceKind.DISHWASHER,
        ApplianceKind.DISPOSER,
        ApplianceKind.COMPACTOR,
        ApplianceKind.WELL_PUMP,
        ApplianceKind.GARAGE_DOOR_OPENER,
        ApplianceKind.VENTILATOR,
        ApplianceKind.EXHAUST_FAN,
    }
)
"""Fastened in place, whether or not they have a cord."""
_STANDING: Final = frozenset(
    {
        ApplianceKind.REFRIGERATOR,
        ApplianceKind.FREEZER,
        ApplianceKind.CLOTHES_WASHER,
        ApplianceKind.CLOTHES_DRYER,
        ApplianceKind.WASHER_DRYER,
        ApplianceKind.RANGE,
        ApplianceKind.WELDER,
    }
)
"""On a cord and not fastened, unless the plan says otherwise."""


def trade_of(appliance: Appliance) -> Trade:
    """The rules that speak of its circuit. One that burns fuel is what else it draws; unsaid, it is taken to be electric."""
    burns = appliance.knows("fuel") and appliance.fuel is not Fuel.NONE
    if appliance.kind is ApplianceKind.EVSE:
        return Trade.CHARGING
    if is_driven(appliance) or (appliance.kind is ApplianceKind.FURNACE and burns):
        return Trade.MOTOR
    heating = ((COOKING, Trade.COOKING), (WATER, Trade.WATER), (HEAT, Trade.HEAT))
    return next((trade for kinds, trade in heating if appliance.kind in kinds and not burns), Trade.OTHER)


def is_driven(appliance: Appliance) -> bool:
    """Whether it is mostly a motor: by its kind, its horsepower, or its listing as heating or cooling equipment."""
    listed = appliance.knows("listed_hvac") and appliance.listed_hvac
    return appliance.kind in COOLING or appliance.kind in MOTORS or appliance.knows("hp") or listed


def attachment(appliance: Appliance) -> Attached | None:
    """How it is joined to its circuit; None where the plan does not say it, and its kind does not either."""
    if appliance.kind in CARRIED:
        return Attached.CARRIED
    if appliance.knows("connection") and appliance.connection is Connection.HARD_WIRED:
        return Attached.FASTENED
    if appliance.knows("fastened"):
        return Attached.FASTENED if appliance.fastened else Attached.CORD
    if appliance.kind in _BUILT_IN:
        return Attached.FASTENED
    return Attached.CORD if appliance.kind in _STANDING else None
