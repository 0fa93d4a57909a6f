"""Amperes on each leg of a supply: loads between the legs on both, others on the leg they are given or on the lighter one."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

LEG_VOLTAGE = 120.0
LINE_VOLTAGE = 240.0
BOTH_LEGS_FROM = 200.0
"""Volts from which a nameplate or circuit asks for both legs: 120 V equipment may be marked 125 V, 240 V equipment 208 V."""


@dataclass(frozen=True, slots=True)
class LegLoad:
    """One load in amperes. ``leg`` is 0 or 1, None for the lighter one; ``both`` runs between the legs."""

    what: str
    current: float
    both: bool = False
    leg: int | None = None


def spread(loads: Iterable[LegLoad], number_of_legs: int) -> list[float]:
    """The sum on each leg. Loads without a leg go, largest first, to the leg that carries less."""
    loads = list(loads)
    legs = [0.0] * number_of_legs
    for load in _placed(loads, number_of_legs):
        for index in _legs_of(load, number_of_legs):
            legs[index] += load.current
    for load in sorted(_unplaced(loads, number_of_legs), key=lambda each: -each.current):
        legs[legs.index(min(legs))] += load.current
    return legs


def _placed(loads: Sequence[LegLoad], number_of_legs: int) -> list[LegLoad]:
    return [load for load in loads if load.both or load.leg is not None or number_of_legs == 1]


def _unplaced(loads: Sequence[LegLoad], number_of_legs: int) -> list[LegLoad]:
    return [load for load in loads if not load.both and load.leg is None and number_of_legs > 1]


def _legs_of(load: LegLoad, number_of_legs: int) -> range:
    if load.both or number_of_legs == 1:
        return range(number_of_legs)
    return range(load.leg or 0, (load.leg or 0) + 1)
