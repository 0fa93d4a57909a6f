"""The tables of dwelling loads and small supplies, typed as those of ``tables``; shares are parts of one, loads volt-amperes."""

from collections.abc import Mapping
from dataclasses import dataclass

from nailplate.codes.tables import Table
from nailplate.units import Amperes, Inches, VoltAmperes


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class UnitLoad(Table):
    """Volt-amperes for each square foot: for the service or feeder, and for counting branch circuits."""

    service: VoltAmperes
    circuits: VoltAmperes
    circuits_cite: str


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class CircuitAllowances(Table):
    """What each small-appliance and laundry circuit counts for, and how many there are at least."""

    small_appliance_cite: str
    laundry_cite: str
    each: VoltAmperes
    least_small_appliance: int
    least_laundry: int


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class DemandTier:
    """The share of what lies over ``over``, up to the next tier."""

    over: VoltAmperes
    share: float


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Demand(Table):
    """Shares of a load in tiers, in rising order."""

    tiers: tuple[DemandTier, ...]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class FastenedAppliances(Table):
    """The share of appliances fastened in place, from how many on, each of at least ``least_load`` where the edition says one."""

    from_count: int
    share: float
    least_load: float = 0.0


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Dryers(Table):
    """The least load of a dryer, and the percentage by number of dryers; the highest row holds beyond, other gaps were not seen."""

    least: VoltAmperes
    percent: Mapping[int, float]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ChargingEquipment(Table):
    """What vehicle supply equipment counts for: at least ``least`` where the edition says one, times ``share``."""

    share: float
    least: float = 0.0


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Share(Table):
    """One share of a load, with its section."""

    share: float


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Noncoincident(Table):
    """Loads that do not run together; whether some read it so that a share of the smaller motor is added to the larger load."""

    motor_added: bool


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class NeutralShare(Table):
    """The neutral's share of cooking equipment and dryers, and of what lies over ``over``."""

    share: float
    over: Amperes


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class OptionalMethod(Table):
    """The optional method for one dwelling unit."""

    first: VoltAmperes
    share_of_rest: float
    least_ampacity: Amperes
    supplementary_share: float
    few_heaters_share: float
    many_heaters_share: float
    many_heaters: int


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class SeveralUnits(Table):
    """Percentage of the connected load of several dwelling units, by their number; a row holds up to the next."""

    percent: Mapping[int, float]

    def share(self, units: int) -> float | None:
        """The part of one for so many units; None below the first row."""
        rows = [row for row in self.percent if row <= units]
        return self.percent[max(rows)] / 100.0 if rows else None


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class VehicleSites(Table):
    """Sites of recreational vehicles: the load of one by its largest receptacle, and the percentage by their number."""

    load: Mapping[int, VoltAmperes]
    percent: Mapping[int, float]
    least_feeder: Amperes


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ServiceMinimums(Table):
    """The least rating of a service's disconnecting means."""

    one_circuit: Amperes
    two_circuits: Amperes
    one_family_dwelling: Amperes
    others: Amperes
    feeder_cite: str


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class DwellingLoad(Table):
    """Everything that the load of one dwelling is worked out with, cooking apart."""

    area_cite: str
    rounding_cite: str
    unit_load: UnitLoad
    allowances: CircuitAllowances
    demand: Demand
    fastened: FastenedAppliances
    dryers: Dryers
    heating: Share
    noncoincident: Noncoincident
    charging: ChargingEquipment
    motor: Share
    neutral: NeutralShare
    optional: OptionalMethod
    several: SeveralUnits
    minimums: ServiceMinimums


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class DemandLine:
    """Kilowatts from a number of appliances on: ``base`` and ``each`` for every one of them."""

    base: float
    each: float


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Cooking(Table):
    """Demand of household cooking equipment over 1.75 kW, by number of appliances; kilowatts and percentages.

    A row holds up to the next one. ``column_c`` is in kilowatts, its ``beyond`` lines hold past its last row.
    """

    least_kw: float
    column_a_below_kw: float
    column_b_up_to_kw: float
    column_c_up_to_kw: float
    largest_kw: float
    step_over_c: float
    column_a: Mapping[int, float]
    column_b: Mapping[int, float]
    column_c: Mapping[int, float]
    beyond: Mapping[int, DemandLine]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Impedance(Table):
    """Reactance and resistance of copper conductors in PVC conduit, ohms to neutral per 1000 ft."""

    reactance: Mapping[str, float]
    copper: Mapping[str, float]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ElectrodeCap:
    """The largest electrode conductor that is ever asked for, where it is the only connection to that electrode."""

    cite: str
    copper: str
    aluminum: str | None = None


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ElectrodeConductors(Table):
    """Grounding electrode conductors: rows by the largest supply conductor they hold for, in rising order."""

    supply_copper: tuple[str, ...]
    supply_aluminum: tuple[str, ...]
    copper: tuple[str, ...]
    aluminum: tuple[str, ...]
    rod: ElectrodeCap
    concrete_encased: ElectrodeCap


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class CordLengths:
    """The least and the greatest length of an appliance's cord."""

    section: str
    least: Inches
    most: Inches


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ApplianceCords(Table):
    """How long the cords of built-in kitchen appliances are, by kind."""

    kinds: Mapping[str, CordLengths]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class DwellingConductors(Table):
    """The share of its rating that the conductors of a whole dwelling's service or feeder carry, and the ratings it holds for."""

    share: float
    least: Amperes
    largest: Amperes


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class GroundingIncrease(Table):
    """Whether a grounding conductor grows with conductors that are larger for correction or adjustment alone."""

    grows_for_derating: bool


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class RangeTier:
    """What a free-standing range up to ``up_to`` volt-amperes counts for."""

    up_to: VoltAmperes
    load: VoltAmperes


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class MovableHomes(Table):
    """The load of a park trailer or manufactured home by legs, and what cords and assemblies there are."""

    park_trailer_cite: str
    manufactured_cite: str
    vehicle_cite: str
    vehicle_most_circuits: int
    vehicle_most_thermostatic: int
    small_assembly: Amperes
    large_assembly: Amperes
    manufactured_cord: Amperes
    manufactured_gas_cord: Amperes
    appliances_full: int
    appliances_share: float
    range_share: float
    range_share_up_to: VoltAmperes
    ranges: tuple[RangeTier, ...]
    cooling_allowance: Amperes
    unit_load: VoltAmperes
    sites: VehicleSites
