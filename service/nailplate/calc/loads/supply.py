"""A small supply and what stands behind it, as a calculation is asked."""

from dataclasses import dataclass
from enum import StrEnum

from nailplate.calc.loads.items import Load, LoadKind
from nailplate.calc.loads.legs import LEG_VOLTAGE
from nailplate.units import Amperes, Inches


class Regime(StrEnum):
    """What the supplied thing is before the code."""

    RECREATIONAL_VEHICLE = "recreational_vehicle"
    PARK_TRAILER = "park_trailer"
    MANUFACTURED_HOME = "manufactured_home"
    FEEDER = "feeder"
    VEHICLE_PARK = "vehicle_park"


class CircuitUse(StrEnum):
    """What a circuit is for, as far as a small supply asks."""

    GENERAL = "general"
    SMALL_APPLIANCE = "small_appliance"
    LAUNDRY = "laundry"
    INDIVIDUAL = "individual"
    CONVERTER = "converter"


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyCircuit:
    """A branch circuit of the supplied thing."""

    rating: Amperes
    voltage: float = LEG_VOLTAGE
    use: CircuitUse = CircuitUse.GENERAL
    multiwire: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedLoad:
    """A load, and the leg it stands on if that is drawn."""

    load: Load
    leg: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallSupply:
    """What is asked. ``length`` and ``width`` are outside, without the hitch; ``two_legs`` says 120/240 V."""

    regime: Regime
    rating: Amperes
    two_legs: bool
    circuits: tuple[SupplyCircuit, ...]
    loads: tuple[PlacedLoad, ...] = ()
    length: Inches | None = None
    width: Inches | None = None
    energy_management: bool = False
    gas_heat_and_cooking: bool = False


def needs_both_legs(load: Load) -> bool:
    """Whether it needs 240 V: by its nameplate, or by its kind where none is given."""
    if load.kind in (LoadKind.RANGE, LoadKind.DRYER, LoadKind.WALL_OVEN, LoadKind.COOKTOP) and load.voltage is None:
        return True
    return not load.loads_neutral
