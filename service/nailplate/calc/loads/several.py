"""The optional method for three or more dwelling units on one service or feeder: all that is connected, by one percentage."""

from collections.abc import Sequence

from nailplate.calc.loads.climate import cooling_set, heating_set
from nailplate.calc.loads.items import Line, Load
from nailplate.calc.loads.optional import counts_in_pool
from nailplate.calc.steps import CalculationError
from nailplate.codes import Edition


def several_lines(general: Sequence[Line], loads: Sequence[Load], units: int, edition: Edition) -> list[Line]:
    """The one line of the sum. For units that each cook with electricity and heat or cool with it, on one feeder each."""
    table = edition.dwelling_load.several
    share = table.share(units)
    if share is None:
        raise CalculationError(f"{units} dwelling units: {table.cite} begins at {min(table.percent)}; two are not evaluated")
    climate = max(sum(load.total for load in each) for each in (heating_set(loads), cooling_set(loads)))
    connected = sum(line.load for line in general) + sum(load.total for load in loads if counts_in_pool(load)) + climate
    note = f"{connected:g} VA connected x {share:g}, for units that each cook and heat or cool with electricity"
    return [Line(what=f"{units} dwelling units", load=connected * share, citation=table.cite, note=note, between_legs=True)]
