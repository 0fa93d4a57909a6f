"""An existing feeder of three wires to another building, whose neutral may be bonded there (250.32(B)(1), exception)."""

from typing import Final

from nailplate.plan import Supply
from nailplate.plan.words import SupplyKind
from nailplate.rulekit import Reading

THREE_WIRE_READINGS: Final = (
    Reading(
        "It is an existing feeder to a separate building, lawful when it was run, without metal paths between the grounding of both "
        "buildings and without ground-fault protection of equipment ahead: the neutral stays bonded here.",
        "pass",
    ),
    Reading(
        "It is new, within one building, or such a path is there: a grounding conductor is required, and no bond here.",
        "violation",
    ),
)


def may_be_old(supply: Supply) -> bool:
    """A feeder without a grounding conductor that is not said to be new."""
    if supply.kind is not SupplyKind.FEEDER or (supply.knows("existing") and not supply.existing):
        return False
    return supply.knows("conductors") and supply.conductors.knows("grounding") and supply.conductors.grounding == "none"
