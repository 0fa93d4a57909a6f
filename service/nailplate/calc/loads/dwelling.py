"""The load of one dwelling unit: volt-amperes by the standard or the optional method, amperes, neutral, the service it needs."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from nailplate.calc.loads.general import area_note, general_lines
from nailplate.calc.loads.items import Line, Load
from nailplate.calc.loads.legs import LINE_VOLTAGE
from nailplate.calc.loads.neutral import neutral_lines
from nailplate.calc.loads.optional import optional_lines
from nailplate.calc.loads.readings import Reading, readings
from nailplate.calc.loads.several import several_lines
from nailplate.calc.loads.standard import standard_lines
from nailplate.calc.overcurrent import next_standard
from nailplate.calc.steps import CalculationError, Step
from nailplate.codes import Edition
from nailplate.units import Amperes, SquareInches, VoltAmperes, amperes, volt_amperes


class LoadMethod(StrEnum):
    """The two methods of the code."""

    STANDARD = "standard"
    OPTIONAL = "optional"


class System(StrEnum):
    """The voltages of a dwelling's supply."""

    V120_240 = "120/240"
    V120_208 = "120/208"


SQUARE_FOOT = 144.0
_LINE = {System.V120_240: LINE_VOLTAGE, System.V120_208: 208.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class Dwelling:
    """What a calculation asks of a dwelling, or of several ``units`` together; ``area`` by outside dimensions."""

    area: SquareInches
    loads: tuple[Load, ...] = ()
    small_appliance_circuits: int | None = None
    laundry_circuits: int | None = None
    system: System = System.V120_240
    units: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class DwellingFigures:
    """The answer. ``service`` is the next standard rating, never under the minimum; None beyond the largest.

    ``general`` are the parts of the general load before any demand factor, ``lines`` what adds up to the total. ``others`` are
    figures that another reading of the code or another choice gives; the ones above are the default.
    """

    total: VoltAmperes
    current: Amperes
    neutral: VoltAmperes
    neutral_current: Amperes
    service: Amperes | None
    general: tuple[Line, ...]
    lines: tuple[Line, ...]
    others: tuple[Reading, ...]
    steps: tuple[Step, ...]


def dwelling_load(dwelling: Dwelling, method: LoadMethod, edition: Edition) -> DwellingFigures:
    """The load of ``dwelling``. Raises CalculationError for what the method cannot answer."""
    _refuse_nonsense(dwelling)
    general = general_lines(_feet(dwelling), *_circuits(dwelling, edition), edition)
    lines = _lines(general, dwelling, method, edition)
    total = sum(line.load for line in lines)
    neutral = neutral_lines(
        standard_lines(general, dwelling.loads, edition), edition, reduced=dwelling.system is System.V120_240
    )
    on_neutral = sum(line.load for line in neutral)
    current = amperes_of(lines, dwelling.system)
    service = next_standard(Amperes(max(counted_amperes(current), _least(dwelling, edition))), edition.overcurrent)
    return DwellingFigures(
        total=VoltAmperes(total),
        current=Amperes(current),
        neutral=VoltAmperes(on_neutral),
        neutral_current=Amperes(on_neutral / LINE_VOLTAGE),
        service=service,
        general=tuple(general),
        lines=tuple(lines),
        others=_others(general, dwelling, method, edition),
        steps=(
            *(line.step() for line in [*general, *lines]),
            Step("total", volt_amperes(total), edition.dwelling_load.cite, area_note(edition)),
            Step("current of each leg", amperes(current), edition.dwelling_load.rounding_cite, _current_note(dwelling.system)),
            *(line.step() for line in neutral),
            Step("neutral", volt_amperes(on_neutral), edition.dwelling_load.neutral.cite, "by the standard method"),
            Step("neutral current", amperes(on_neutral / LINE_VOLTAGE), edition.dwelling_load.neutral.cite),
            *_service_steps(service, dwelling, edition),
        ),
    )


def amperes_of(lines: Sequence[Line], system: System) -> float:
    """What each leg carries: loads to the neutral spread over both legs, the others between the legs."""
    if system is System.V120_240:
        return sum(line.load for line in lines) / LINE_VOLTAGE
    return sum(line.load / (_LINE[system] if line.between_legs else LINE_VOLTAGE) for line in lines)


def _circuits(dwelling: Dwelling, edition: Edition) -> tuple[int, int]:
    """Small-appliance and laundry circuits; the least for each unit where the number is not said."""
    table = edition.dwelling_load.allowances
    kitchens, washing = dwelling.small_appliance_circuits, dwelling.laundry_circuits
    return (
        table.least_small_appliance * dwelling.units if kitchens is None else kitchens,
        table.least_laundry * dwelling.units if washing is None else washing,
    )


def _lines(general: list[Line], dwelling: Dwelling, method: LoadMethod, edition: Edition) -> list[Line]:
    if method is LoadMethod.STANDARD:
        return standard_lines(general, dwelling.loads, edition)
    if dwelling.units > 1:
        return several_lines(general, dwelling.loads, dwelling.units, edition)
    return optional_lines(general, dwelling.loads, edition)


def _others(general: list[Line], dwelling: Dwelling, method: LoadMethod, edition: Edition) -> tuple[Reading, ...]:
    """Other readings are worked out for one dwelling alone."""
    if dwelling.units > 1:
        return ()
    return tuple(readings(general, dwelling.loads, edition, optional=method is LoadMethod.OPTIONAL))


def _least(dwelling: Dwelling, edition: Edition) -> Amperes:
    """The least rating of the disconnecting means: that of a one-family dwelling, or of any other."""
    minimums = edition.dwelling_load.minimums
    return minimums.one_family_dwelling if dwelling.units == 1 else minimums.others


def _feet(dwelling: Dwelling) -> float:
    return dwelling.area / SQUARE_FOOT


def counted_amperes(current: float) -> float:
    """Fractions of an ampere under one half are dropped (220.5(B))."""
    whole = float(int(current))
    return whole if current - whole < _HALF else current


_HALF = 0.5


def _current_note(system: System) -> str:
    if system is System.V120_240:
        return "total / 240 V; fractions under 0.5 A may be dropped"
    return "loads to the neutral / 240 V (two legs of 120 V), loads between the legs / 208 V"


def _service_steps(service: Amperes | None, dwelling: Dwelling, edition: Edition) -> list[Step]:
    one = dwelling.units == 1
    section = f"{edition.dwelling_load.minimums.cite}({'C' if one else 'D'})"
    what = "least for a one-family dwelling" if one else "least for other installations"
    least = Step(what, amperes(_least(dwelling, edition)), section)
    return [least] if service is None else [least, Step("next standard rating", amperes(service), edition.overcurrent.cite)]


def _refuse_nonsense(dwelling: Dwelling) -> None:
    if not dwelling.area > 0:
        raise CalculationError("the floor area is nothing")
    if dwelling.units < 1:
        raise CalculationError("there is at least one dwelling unit")
