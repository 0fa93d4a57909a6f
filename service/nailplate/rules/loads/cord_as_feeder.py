"""Whether the cord that supplies a house is a feeder to it is contested; what the rules on feeders say of it."""

from nailplate.plan import Supply
from nailplate.plan.words import SupplyKind
from nailplate.rulekit import Judgement, Outcome, Reading, Violation

READINGS = (
    Reading("A cord from a pedestal to a dwelling unit is a feeder to it.", "violation"),
    Reading("The feeder ends at the pedestal; the cord is no part of the fixed wiring.", "pass"),
)


def judged_as_feeder(outcome: Outcome, supply: Supply) -> Outcome:
    """What a rule on feeders finds wrong with a supply; of one by cord it is a judgement."""
    if supply.kind is not SupplyKind.CORD_INLET or not isinstance(outcome, Violation):
        return outcome
    return Judgement(
        f"{outcome.message} Whether the cord that supplies this house is a feeder is contested.",
        READINGS,
        outcome.measured,
        outcome.limit,
        outcome.remedies,
        facet=outcome.facet,
        at=outcome.at,
        related=outcome.related,
        lines=outcome.lines,
    )
