"""Figures that another reading of the code, or another choice it allows, would give beside the default."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nailplate.calc.loads.climate import cooling_set, heating_set, kept_loads
from nailplate.calc.loads.cooking import cooking_demand, in_table
from nailplate.calc.loads.items import COOKING, Line, Load, LoadKind, of_kinds
from nailplate.calc.loads.optional import optional_lines
from nailplate.calc.loads.standard import standard_lines
from nailplate.codes import Edition
from nailplate.units import VoltAmperes

_KILO = 1000.0
CHARGING_IN_POOL = "vehicle charging equipment in the pool with the other appliances, as before 2026"


@dataclass(frozen=True, slots=True)
class Reading:
    """Another reading, and the total that it gives. ``another_method`` says that it is the other of the two methods."""

    what: str
    total: VoltAmperes
    another_method: bool = False


def readings(general: Sequence[Line], loads: Sequence[Load], edition: Edition, *, optional: bool) -> Iterator[Reading]:
    """The other method, and readings in which published answers differ."""
    other = standard_lines(general, loads, edition) if optional else optional_lines(general, loads, edition)
    name = (
        "the standard method"
        if optional
        else "the optional method, for conductors of at least 100 A that carry the whole dwelling"
    )
    yield Reading(name, VoltAmperes(_sum(other)), another_method=True)
    if optional:
        yield from _charging_in_pool(general, loads, edition)
    else:
        total = _sum(standard_lines(general, loads, edition))
        yield from _cooking(loads, total, edition)
        yield from _motor_beside_heat(loads, total, edition)
        yield from _plugged_in_left_out(loads, total)


def _charging_in_pool(general: Sequence[Line], loads: Sequence[Load], edition: Edition) -> Iterator[Reading]:
    """Where the edition is reported to count charging beside the pool, the way it was counted before."""
    if edition.holds("charging_outside_pool") and of_kinds(loads, [LoadKind.EVSE]):
        yield Reading(CHARGING_IN_POOL, VoltAmperes(_sum(optional_lines(general, loads, edition, charging_apart=False))))


def _cooking(loads: Sequence[Load], total: float, edition: Edition) -> Iterator[Reading]:
    table = edition.cooking
    ratings = [load.power / _KILO for load in of_kinds(loads, COOKING) for _ in range(load.count)]
    ratings = [rating for rating in ratings if in_table(rating, table)]
    if not ratings:
        return
    demand = cooking_demand(ratings, edition)
    if demand.by_column_c is not None and demand.by_column_c > demand.kilowatts:
        yield Reading("cooking by column C", VoltAmperes(total + (demand.by_column_c - demand.kilowatts) * _KILO))
    if demand.lower_reading is not None:
        less = (demand.kilowatts - demand.lower_reading) * _KILO
        yield Reading("cooking by note 3 with all appliances counted in both columns", VoltAmperes(total - less))


def _motor_beside_heat(loads: Sequence[Load], total: float, edition: Edition) -> Iterator[Reading]:
    """Where heating is the larger, some keep a quarter of the cooling motor beside it."""
    table = edition.dwelling_load
    cooling = [load.power for load in cooling_set(loads) if load.is_motor and load not in heating_set(loads)]
    if table.noncoincident.motor_added and cooling and kept_loads(loads, edition) == heating_set(loads):
        more = table.motor.share * max(cooling)
        yield Reading("a quarter of the cooling motor added to the heating that was kept", VoltAmperes(total + more))


def _plugged_in_left_out(loads: Sequence[Load], total: float) -> Iterator[Reading]:
    loose = sum(load.total for load in loads if load.fastened is False and load.kind not in COOKING)
    if loose:
        yield Reading("appliances that are not fastened in place taken as part of the general load", VoltAmperes(total - loose))


def _sum(lines: Sequence[Line]) -> float:
    return sum(line.load for line in lines)
