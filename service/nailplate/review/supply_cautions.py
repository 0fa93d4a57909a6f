"""What to say of a cord that suits by the number of circuits and not by what runs at once: a vehicle's article counts circuits."""

from collections.abc import Iterator

from nailplate.calc.loads.supply import Regime as Counted
from nailplate.calc.steps import CalculationError
from nailplate.codes import Edition
from nailplate.plan import UnknownFact
from nailplate.plan.words import Regime, SupplyKind
from nailplate.survey import Survey, regime_of
from nailplate.survey.loads import movable_load
from nailplate.survey.names import name_of

_BY_CIRCUITS = {Regime.RECREATIONAL_VEHICLE: Counted.RECREATIONAL_VEHICLE, Regime.PARK_TRAILER: Counted.PARK_TRAILER}


def supply_cautions(survey: Survey, edition: Edition) -> Iterator[str]:
    """One for each thing to know about a cord that the rules pass."""
    counted = _BY_CIRCUITS.get(regime_of(survey.plan))
    if counted is None:
        return
    for supply in survey.plan.supplies.values():
        if supply.kind is SupplyKind.CORD_INLET:
            try:
                found = movable_load(survey, supply, counted, edition)
            except (UnknownFact, CalculationError):  # unknown: the rule on this supply tells what is missing
                continue
            yield from (f"{name_of(supply)}: {each}." for each in found.cautions)
