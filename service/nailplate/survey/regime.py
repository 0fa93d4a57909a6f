"""The rules that a house is built under."""

from nailplate.plan import Plan
from nailplate.plan.words import Regime


def regime_of(plan: Plan) -> Regime:
    """The regime stated, or undecided."""
    return plan.basis.regime if plan.basis.knows("regime") else Regime.UNDECIDED
