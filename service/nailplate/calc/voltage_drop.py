"""Voltage drop along a run of conductors, by direct-current resistance, by impedance, or with one constant for the metal."""

import math
from dataclasses import dataclass
from enum import StrEnum

from nailplate.calc.steps import CalculationError, Step, looked_up
from nailplate.codes import Column, Edition, Material
from nailplate.units import Amperes, Inches, Measure, Unit, Volts, amperes, inches, reaches, volts, within


class DropMethod(StrEnum):
    """How the drop is worked out."""

    DC_RESISTANCE = "dc_resistance"
    IMPEDANCE = "impedance"
    K_FACTOR = "k_factor"


# https://www.voltexam.com/questions/electrician/voltage-drop: ohms of one circular mil over one foot, 75 degC
K_COPPER = 12.9
K_ALUMINUM = 21.2

ADVISED = (3.0, 5.0)
"""Percent: the farthest outlet of a branch circuit, and feeder and branch circuit together."""

SOLID_UP_TO = "10 AWG"
"""Conductors of cable are solid up to this size and stranded above (common practice)."""

LEAST_VOLTAGE = 1.0
_FEET = 12.0
_PER_LENGTH = 1000.0  # feet that the ohms of the tables are given for
_THREE_PHASE = 3
_WIDEST = Column.C90
_CITES = {
    DropMethod.DC_RESISTANCE: "Chapter 9 Table 8",
    DropMethod.IMPEDANCE: "Chapter 9 Table 9",
    DropMethod.K_FACTOR: "Chapter 9 Table 8 (circular mils)",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One run. ``length`` is one way; ``parallel`` conductors share the current; ``k`` replaces the usual constant."""

    voltage: Volts
    current: Amperes
    length: Inches
    size: str
    material: Material = Material.COPPER
    phases: int = 1
    method: DropMethod = DropMethod.DC_RESISTANCE
    k: float | None = None
    power_factor: float = 1.0
    parallel: int = 1
    stranded: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Drop:
    """The drop in volts and percent, what is left at the load, and the smallest size for each percentage advised; None: no size."""

    drop: Volts
    percent: float
    at_load: Volts
    smallest: dict[float, str | None]
    steps: tuple[Step, ...]


def voltage_drop(run: Run, edition: Edition) -> Drop:
    """The drop along ``run``. Raises CalculationError for figures that make no sense, or a size that the table lacks."""
    _refuse_nonsense(run)
    volts_lost = _lost(run, run.size, edition)
    percent = 100.0 * volts_lost / run.voltage
    return Drop(
        drop=Volts(volts_lost),
        percent=percent,
        at_load=Volts(run.voltage - volts_lost),
        smallest={limit: _smallest(run, limit, edition) for limit in ADVISED},
        steps=tuple(_steps(run, volts_lost, percent, edition)),
    )


def ohms_per_foot(run: Run, size: str, edition: Edition) -> float:
    """What one foot of one conductor opposes to the current, by the run's method."""
    if run.method is DropMethod.K_FACTOR:
        return _k(run) / looked_up(edition.conductors.area, size, "wire size")
    if run.method is DropMethod.IMPEDANCE:
        return _effective_impedance(run, size, edition) / _PER_LENGTH
    return _resistance(run, size, edition) / _PER_LENGTH


def _lost(run: Run, size: str, edition: Edition) -> float:
    return _ways(run) * ohms_per_foot(run, size, edition) / run.parallel * run.current * run.length / _FEET


def _ways(run: Run) -> float:
    """There and back on one phase, also between two legs; on three phases the root of three."""
    return math.sqrt(3.0) if run.phases == _THREE_PHASE else 2.0


def _k(run: Run) -> float:
    if run.k is not None:
        return run.k
    return K_COPPER if run.material is Material.COPPER else K_ALUMINUM


def _resistance(run: Run, size: str, edition: Edition) -> float:
    table = edition.conductors.of(run.material)
    small = size in edition.conductors.area and not edition.conductors.larger(size, SOLID_UP_TO)
    solid = small if run.stranded is None else not run.stranded
    rows = table.solid if solid else table.stranded
    return looked_up(rows, size, f"{'solid' if solid else 'stranded'} conductor with a resistance")


def _effective_impedance(run: Run, size: str, edition: Edition) -> float:
    if run.material is not Material.COPPER:
        raise CalculationError(
            "the impedance of aluminum conductors is not evaluated: its table was not seen; use dc_resistance"
        )
    resistance = looked_up(edition.impedance.copper, size, "wire size with an impedance")
    reactive = math.sqrt(1.0 - run.power_factor**2)
    return resistance * run.power_factor + edition.impedance.reactance[size] * reactive


def _smallest(run: Run, limit: float, edition: Edition) -> str | None:
    allowed = run.voltage * limit / 100.0
    for size in edition.conductors.rising(edition.ampacity.of(run.material)[_WIDEST]):
        try:
            if within(_lost(run, size, edition), allowed):
                return size
        except CalculationError:
            continue  # a size that this method has no figure for
    return None


def _steps(run: Run, lost: float, percent: float, edition: Edition) -> list[Step]:
    cite = _CITES[run.method]
    steps = [
        Step("length one way", inches(run.length), cite),
        Step(
            "current", amperes(run.current), cite, f"{run.parallel} conductors in parallel share it" if run.parallel > 1 else ""
        ),
        Step(
            "length and return",
            Measure(_ways(run), Unit.COUNT),
            cite,
            "three phases: root of 3" if run.phases > 1 else "there and back",
        ),
    ]
    ohms = ohms_per_foot(run, run.size, edition) * _PER_LENGTH
    note = f"K {_k(run):g} / {edition.conductors.area[run.size]} circular mils" if run.method is DropMethod.K_FACTOR else ""
    if run.method is DropMethod.IMPEDANCE:
        note = f"R x {run.power_factor:g} + X x {math.sqrt(1.0 - run.power_factor**2):.3g}"
    steps.append(Step("ohms for 1000 ft of one conductor", Measure(ohms, Unit.OHM), cite, note))
    steps.append(Step("voltage drop", volts(lost), cite, "ways x ohms / 1000 x current x feet"))
    steps.append(
        Step(
            "share of the voltage",
            Measure(percent, Unit.PERCENT),
            _advice(edition),
            "3 % and 5 % are informational notes, not limits",
        )
    )
    return steps


def _advice(edition: Edition) -> str:
    return edition.limit_entry("voltage_drop_in_all").section


def _refuse_nonsense(run: Run) -> None:
    if not reaches(run.voltage, LEAST_VOLTAGE):
        raise CalculationError(f"a run under {LEAST_VOLTAGE:g} V has no drop to speak of")
    if not (run.current >= 0 and run.length >= 0):
        raise CalculationError("current and length may not be negative")
    if run.phases not in (1, _THREE_PHASE):
        raise CalculationError(f"{run.phases} phases: 1 or 3 are wanted")
    if not 0 < run.power_factor <= 1:
        raise CalculationError(f"a power factor of {run.power_factor:g} makes no sense; it lies over 0 and up to 1")
    if run.parallel < 1 or (run.k is not None and not run.k > 0):
        raise CalculationError("at least one conductor carries the current, and K lies over 0")
