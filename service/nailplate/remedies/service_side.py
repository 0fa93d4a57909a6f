"""Work on a service: what stands ahead of its main disconnect stays live with the main off."""

from typing import Final

from nailplate.plan import Supply
from nailplate.plan.words import SupplyKind
from nailplate.remedies.patches import Operation, Remedy

STAYS_LIVE: Final = "The service conductors stay live with the main off: have the utility pull the meter first."
"""The caution beside any work on a service (common practice)."""


def at_supply(supply: Supply, words: str, patch: tuple[Operation, ...] = ()) -> Remedy:
    """What to do at a supply, with that caution where it is a service."""
    return Remedy(f"{words} {STAYS_LIVE}" if supply.kind is SupplyKind.SERVICE else words, patch)
