"""Demand of household cooking equipment over 1.75 kW, by the columns and notes of its table.

Kilowatts of nameplate are taken as kilovolt-amperes, as the table does.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from nailplate.calc.steps import CalculationError
from nailplate.codes import Edition
from nailplate.codes.load_tables import Cooking
from nailplate.units import reaches, within

_HALF = 0.5
_PER_CENT = 100.0


@dataclass(frozen=True, slots=True)
class CookingDemand:
    """Kilowatts, how they were found, and a lower figure that a second reading of note 3 gives (None: no other reading)."""

    kilowatts: float
    how: str
    by_column_c: float | None
    by_note_3: float | None
    lower_reading: float | None = None


def cooking_demand(ratings: Sequence[float], edition: Edition) -> CookingDemand:
    """The feeder or service demand of appliances rated ``ratings`` kW: the least figure that the table allows.

    Raises CalculationError for ratings that the table doesn't reach.
    """
    table = edition.cooking
    _refuse_outside(ratings, table)
    c = column_c(ratings, table)
    note_3 = _note_3(ratings, table)
    if note_3 is not None and note_3 < c:
        return CookingDemand(
            note_3, f"{table.cite} note 3, columns A and B", c, note_3, _counted_together(ratings, table, note_3)
        )
    return CookingDemand(c, f"{table.cite} column C", c, note_3)


def column_c(ratings: Sequence[float], table: Cooking) -> float:
    """Column C with notes 1 and 2: the average over 12 kW adds 5 percent for each kilowatt or major part of one."""
    over = max(0.0, _average(ratings, table) - table.column_c_up_to_kw)
    steps = math.floor(over + _HALF)
    return _column_c_row(len(ratings), table) * (1.0 + table.step_over_c * steps)


def _average(ratings: Sequence[float], table: Cooking) -> float:
    if len(set(ratings)) == 1:
        return ratings[0]
    return sum(max(rating, table.column_c_up_to_kw) for rating in ratings) / len(ratings)


def _column_c_row(number: int, table: Cooking) -> float:
    if number in table.column_c:
        return table.column_c[number]
    line = table.beyond[max(first for first in table.beyond if first <= number)]
    return line.base + line.each * number


def _note_3(ratings: Sequence[float], table: Cooking) -> float | None:
    """Nameplates by column A or B, each column counted by its own appliances; None if one is too large for both."""
    if any(not within(rating, table.column_b_up_to_kw) for rating in ratings):
        return None
    small, large = _by_column(ratings, table)
    return _share(small, len(small), table.column_a) + _share(large, len(large), table.column_b)


def _counted_together(ratings: Sequence[float], table: Cooking, usual: float) -> float | None:
    """The other reading: both columns are entered with the number of all appliances."""
    small, large = _by_column(ratings, table)
    together = _share(small, len(ratings), table.column_a) + _share(large, len(ratings), table.column_b)
    return together if small and large and together < usual else None


def _by_column(ratings: Sequence[float], table: Cooking) -> tuple[list[float], list[float]]:
    """Those of column A and those of column B."""
    return (
        [rating for rating in ratings if not reaches(rating, table.column_a_below_kw)],
        [rating for rating in ratings if reaches(rating, table.column_a_below_kw)],
    )


def in_table(rating: float, table: Cooking) -> bool:
    """Whether the table speaks of an appliance of so many kilowatts."""
    return not within(rating, table.least_kw) and within(rating, table.largest_kw)


def _share(ratings: Sequence[float], number: int, column: Mapping[int, float]) -> float:
    if not ratings:
        return 0.0
    return sum(ratings) * column[max(row for row in column if row <= number)] / _PER_CENT


def _refuse_outside(ratings: Sequence[float], table: Cooking) -> None:
    if not ratings:
        raise CalculationError("no cooking appliance is named")
    for rating in ratings:
        if within(rating, table.least_kw):
            raise CalculationError(f"{rating:g} kW: {table.cite} speaks of appliances over {table.least_kw:g} kW")
        if not within(rating, table.largest_kw):
            raise CalculationError(f"{rating:g} kW: {table.cite} ends at {table.largest_kw:g} kW; take the nameplate")


def as_one_range(cooktop: float, ovens: Sequence[float], edition: Edition) -> float:
    """Kilowatts of a branch circuit with one cooktop and one or two wall ovens in the same room: together one range."""
    if not 1 <= len(ovens) <= _MOST_OVENS:
        raise CalculationError("a cooktop and one or two wall ovens count as one range, not more")
    return column_c([cooktop + sum(ovens)], edition.cooking)


_MOST_OVENS = 2
