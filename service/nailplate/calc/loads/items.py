"""Appliances and heating as a load calculation sees them, and the lines that it is made of."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from nailplate.calc.loads.legs import BOTH_LEGS_FROM
from nailplate.calc.steps import CalculationError, Step
from nailplate.units import VoltAmperes, reaches, volt_amperes


class LoadKind(StrEnum):
    """What a load is, as far as the methods tell loads apart."""

    RANGE = "range"
    WALL_OVEN = "wall_oven"
    COOKTOP = "cooktop"
    DRYER = "dryer"
    WATER_HEATER = "water_heater"
    DISHWASHER = "dishwasher"
    DISPOSER = "disposer"
    MICROWAVE = "microwave"
    HEAT = "heat"
    AIR_CONDITIONER = "air_conditioner"
    HEAT_PUMP = "heat_pump"
    SUPPLEMENTARY_HEAT = "supplementary_heat"
    EVSE = "evse"
    MOTOR = "motor"
    OTHER = "other"


COOKING = (LoadKind.RANGE, LoadKind.WALL_OVEN, LoadKind.COOKTOP)
CLIMATE = (LoadKind.HEAT, LoadKind.AIR_CONDITIONER, LoadKind.HEAT_PUMP, LoadKind.SUPPLEMENTARY_HEAT)
ALWAYS_FASTENED = (LoadKind.WATER_HEATER, LoadKind.DISHWASHER, LoadKind.DISPOSER)
"""Kinds that are fastened in place wherever they are built in; of others the caller says it."""
USUALLY_120 = (LoadKind.DISHWASHER, LoadKind.DISPOSER, LoadKind.MICROWAVE)
"""Usual nameplate voltage where none is said (common practice); they load the neutral."""
USUALLY_240 = (LoadKind.WATER_HEATER, LoadKind.EVSE, *CLIMATE)
MOTORS = (LoadKind.AIR_CONDITIONER, LoadKind.HEAT_PUMP, LoadKind.MOTOR, LoadKind.DISPOSER)
"""Kinds whose load is mostly that of a motor; 25 percent of the largest is added."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """One appliance, or ``count`` alike. ``power`` is one nameplate; ``units`` counts separately controlled heaters."""

    kind: LoadKind
    power: VoltAmperes
    name: str = ""
    count: int = 1
    voltage: float | None = None
    fastened: bool | None = None
    motor: bool | None = None
    units: int = 1

    def __post_init__(self) -> None:
        """Refuses what makes no sense."""
        if not self.power >= 0 or self.count < 1 or self.units < 1:
            raise CalculationError(f"{self.called}: power may not be negative, and there is at least one")

    @property
    def called(self) -> str:
        """Its name, or what it is."""
        return self.name or self.kind.value.replace("_", " ").replace("evse", "vehicle charging equipment")

    @property
    def total(self) -> float:
        """Of all alike."""
        return self.power * self.count

    @property
    def is_motor(self) -> bool:
        """Whether it counts as a motor."""
        return self.kind in MOTORS if self.motor is None else self.motor

    @property
    def is_fastened(self) -> bool:
        """Whether it is fastened in place. Raises CalculationError where nothing says it."""
        if self.fastened is not None:
            return self.fastened
        if self.kind in ALWAYS_FASTENED:
            return True
        raise CalculationError(f"{self.called}: say whether it is fastened in place")

    @property
    def loads_neutral(self) -> bool:
        """Whether it runs between a leg and the neutral; what is not known loads it, which is the safe side."""
        if self.voltage is not None:
            return not reaches(self.voltage, BOTH_LEGS_FROM)
        return self.kind not in USUALLY_240


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of the sum: what it is, its volt-amperes, its section; ``to_neutral`` is the part that loads the neutral,
    ``between_legs`` says that it runs between the legs."""

    what: str
    load: float
    citation: str
    note: str = ""
    to_neutral: float = 0.0
    between_legs: bool = False

    def step(self) -> Step:
        """The line as a step of the working."""
        return Step(self.what, volt_amperes(self.load), self.citation, self.note)


def of_kinds(loads: Iterable[Load], kinds: Iterable[LoadKind]) -> list[Load]:
    """The loads of some kinds, in order."""
    wanted = set(kinds)
    return [load for load in loads if load.kind in wanted]
