"""Which rules of the code an appliance's circuit goes by, and how the appliance is joined to it."""

from enum import StrEnum

from nailplate.plan.trade import BUILT_IN, CARRIED, COOKING, COOLING, FREE_STANDING, MOTOR_DRIVEN, SPACE_HEATING, WATER_HEATING
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
    CARRIED = "portable cord-and-plug"


def trade_of(appliance: Appliance) -> Trade:
    """The rules that speak of its circuit. One that burns fuel is what else it draws; unsaid, it is taken to be electric."""
    burns = appliance.knows("fuel") and appliance.fuel is not Fuel.NONE
    if appliance.kind is ApplianceKind.EVSE:
        return Trade.CHARGING
    if is_driven(appliance) or (appliance.kind is ApplianceKind.FURNACE and burns):
        return Trade.MOTOR
    heating = ((COOKING, Trade.COOKING), (WATER_HEATING, Trade.WATER), (SPACE_HEATING, Trade.HEAT))
    return next((trade for kinds, trade in heating if appliance.kind in kinds and not burns), Trade.OTHER)


def is_driven(appliance: Appliance) -> bool:
    """Whether it is mostly a motor: by its kind, its horsepower, or its listing as heating or cooling equipment."""
    listed = appliance.knows("listed_hvac") and appliance.listed_hvac
    return appliance.kind in COOLING or appliance.kind in MOTOR_DRIVEN or appliance.knows("hp") or listed


def attachment(appliance: Appliance) -> Attached | None:
    """How it is joined to its circuit; None where the plan does not say it, and its kind does not either."""
    if appliance.kind in CARRIED:
        return Attached.CARRIED
    if appliance.knows("connection") and appliance.connection is Connection.HARD_WIRED:
        return Attached.FASTENED
    if appliance.knows("fastened"):
        return Attached.FASTENED if appliance.fastened else Attached.CORD
    if appliance.kind in BUILT_IN:
        return Attached.FASTENED
    return Attached.CORD if appliance.kind in FREE_STANDING else None
