"""Heating and cooling that do not run together: the larger of the two is kept."""

from collections.abc import Sequence

from nailplate.calc.loads.items import CLIMATE, Line, Load, LoadKind, of_kinds
from nailplate.codes import Edition

_HEATING = (LoadKind.HEAT, LoadKind.SUPPLEMENTARY_HEAT)


def kept(loads: Sequence[Load], edition: Edition) -> list[Line]:
    """The lines of heating or cooling that count under the standard method, at their full nameplates."""
    heating, cooling = heating_set(loads), cooling_set(loads)
    if not heating and not cooling:
        return []
    table = edition.dwelling_load
    alone = not heating or not cooling or heating == cooling
    note = "" if alone else "the larger of heating and cooling, the largest motor's share included"
    return [
        _line(load, table.heating.cite if load.kind in _HEATING else table.noncoincident.cite, note)
        for load in kept_loads(loads, edition)
    ]


def kept_loads(loads: Sequence[Load], edition: Edition) -> list[Load]:
    """Those of the larger set."""
    heating, cooling = heating_set(loads), cooling_set(loads)
    others = [load for load in loads if load.is_motor and load.kind not in CLIMATE]
    return heating if _weight(heating, others, edition) >= _weight(cooling, others, edition) else cooling


def motors_kept(loads: Sequence[Load], edition: Edition) -> list[Load]:
    """The motors among the loads that were kept."""
    return [load for load in kept_loads(loads, edition) if load.is_motor]


def heating_set(loads: Sequence[Load]) -> list[Load]:
    """What runs while the house is heated; a heat pump runs together with its supplementary heat."""
    return of_kinds(loads, (*_HEATING, LoadKind.HEAT_PUMP))


def cooling_set(loads: Sequence[Load]) -> list[Load]:
    """What runs while the house is cooled."""
    return of_kinds(loads, (LoadKind.AIR_CONDITIONER, LoadKind.HEAT_PUMP))


def _weight(loads: Sequence[Load], others: Sequence[Load], edition: Edition) -> float:
    """What is compared: whole totals with the share of the largest motor, which may be one of ``others`` that run anyway.

    The words of 2023 say so; before, the same comparison is the safer reading.
    """
    motors = [load.power for load in (*loads, *others) if load.is_motor]
    return sum(load.total for load in loads) + edition.dwelling_load.motor.share * max(motors, default=0.0)


def _line(load: Load, cite: str, note: str) -> Line:
    on_neutral = load.total if load.loads_neutral else 0.0
    name = load.called + (f" x {load.count}" if load.count > 1 else "")
    return Line(
        what=name, load=load.total, citation=cite, note=note, to_neutral=on_neutral, between_legs=not load.loads_neutral
    )
