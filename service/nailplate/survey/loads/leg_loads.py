"""What the circuits of a panel weigh on each of its legs: appliances by their nameplates, circuits without any by half their rating."""

from collections.abc import Mapping

from nailplate.plan import Circuit, Panel, UnknownFact
from nailplate.plan.words import Leg
from nailplate.survey.index import Survey
from nailplate.survey.loads.house_load import amperes_drawn
from nailplate.survey.loads.supplies import circuits_of

_HALF = 0.5


def leg_loads(survey: Survey, panel: Panel) -> Mapping[Leg, float]:
    """Amperes on each leg. Raises UnknownFact for a circuit whose legs, or whose load and breaker both, are not said."""
    return survey.once(_leg_loads, panel.id)


def _leg_loads(survey: Survey, panel_id: str) -> Mapping[Leg, float]:
    circuits = circuits_of(survey, survey.plan.panels[panel_id])
    return {leg: sum(leg_weight(survey, circuit) for circuit in circuits if leg in circuit.legs) for leg in Leg}


def leg_weight(survey: Survey, circuit: Circuit) -> float:
    """Amperes that a circuit counts for on each of its legs. Raises UnknownFact where neither load nor breaker is said."""
    known = []
    for appliance in survey.appliances_on_circuit.get(circuit.id, []):
        try:
            known.append(amperes_drawn(appliance))
        except UnknownFact:
            continue  # unknown: asked for by the rules on loads; the circuit's rating stands for it here
    return sum(known) if known else _HALF * circuit.breaker.rating
