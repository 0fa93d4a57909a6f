"""Appliances that the code, or the instructions they are listed with, want on a circuit of their own."""

from typing import Final

from nailplate.plan import Part
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import ApplianceKind, Fuel
from nailplate.survey.index import Survey
from nailplate.survey.loads.circuit_loads import circuit_id_of, fed_by
from nailplate.survey.loads.house_load import amperes_drawn
from nailplate.units import within

_HELPERS: Final = frozenset({ApplianceKind.HEAT_PUMP, ApplianceKind.AIR_CONDITIONER, ApplianceKind.VENTILATOR})
"""What may share a furnace's circuit: equipment that works with it (422.12 exceptions)."""


def reason_for_own(survey: Survey, appliance: Appliance) -> str | None:
    """The section that requires a circuit of its own; None where none does.

    Raises UnknownFact for a furnace's fuel and for volts and amperes of vehicle charging equipment.
    """
    if appliance.is_(own_circuit=True):
        return "110.3(B)"
    if appliance.kind is ApplianceKind.EVSE:
        return "625.40" if _charger_needs_own(survey, appliance) else None
    return "422.12" if appliance.kind is ApplianceKind.FURNACE and appliance.fuel is not Fuel.NONE else None


def _charger_needs_own(survey: Survey, charger: Appliance) -> bool:
    if not survey.holds("small_chargers_share"):
        return True
    volts, current = survey.volts("charger_shares_up_to_volts"), survey.amperes("charger_shares_up_to_current")
    if charger.knows("volts") and not within(charger.volts, volts):
        return True
    return not within(amperes_drawn(charger), current) or not within(charger.volts, volts)


def sharers(survey: Survey, appliance: Appliance) -> list[Part]:
    """What else is fed by an appliance's circuit. Raises UnknownFact where the circuit is not known."""
    fed = fed_by(survey, survey.plan.circuits[circuit_id_of(survey, appliance) or appliance.circuit])
    every: list[Part] = [*(each for each in fed.appliances if each is not appliance), *fed.free]
    return [each for each in every if not _works_with(each, appliance)]


def _works_with(part: Part, appliance: Appliance) -> bool:
    return appliance.kind is ApplianceKind.FURNACE and isinstance(part, Appliance) and part.kind in _HELPERS
