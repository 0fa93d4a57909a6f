"""The house's load as a range: what is drawn already, and what is not drawn and would move it."""

from collections.abc import Iterator

from nailplate.plan.trade import COOKING, COOLING, SPACE_HEATING, WATER_HEATING
from nailplate.plan.words import ApplianceKind
from nailplate.rulekit import Job
from nailplate.sheets.loads import Loads
from nailplate.sheets.requirements.items import LoadMover, LoadRange
from nailplate.units import volt_amperes

_RANGE, _WATER_HEATER, _HEAT = 8000.0, 4500.0, 5000.0
"""Volt-amperes: one range of up to 12 kW by column C of Table 220.55 (from memory); the usual 4,500 W elements of a storage water heater,
and a heat pump or heaters for a small house (common practice)."""
_DRYERS = frozenset({ApplianceKind.CLOTHES_DRYER, ApplianceKind.WASHER_DRYER})


def load_range(job: Job, loads: Loads) -> LoadRange | None:
    """From the least of the methods as drawn to the most with what could come; None where the load is not worked out."""
    if not loads.methods:
        return None
    totals = [
        total.value for method in loads.methods for total in (method.total, *(each.total for each in method.other_readings))
    ]
    moves = tuple(_moves(job))
    return LoadRange(volt_amperes(min(totals)), volt_amperes(max(totals) + sum(each.adds.value for each in moves)), moves)


def _moves(job: Job) -> Iterator[LoadMover]:
    drawn = {each.kind for each in job.plan.appliances.values()}
    if not drawn & COOKING:
        yield LoadMover("an electric range of up to 12 kW", volt_amperes(_RANGE), "Table 220.55")
    if not drawn & _DRYERS:
        yield LoadMover("an electric clothes dryer", volt_amperes(job.edition.dwelling_load.dryers.least), "220.54")
    if not drawn & WATER_HEATING:
        yield LoadMover("an electric water heater with a tank", volt_amperes(_WATER_HEATER))
    if not drawn & (SPACE_HEATING | COOLING):
        yield LoadMover("electric heating or cooling of a small house", volt_amperes(_HEAT))
