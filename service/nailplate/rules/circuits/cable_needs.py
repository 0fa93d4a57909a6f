"""How many insulated conductors a cable needs for its circuit's own sake, whatever switches need beside."""

from collections.abc import Iterable
from typing import Final

from nailplate.plan import Cable, Circuit
from nailplate.plan.trade import TWO_LEGS
from nailplate.survey.index import Survey
from nailplate.survey.wiring import circuit_tree, ends_of
from nailplate.units import reaches

THERE_AND_BACK: Final = 2
TWO_HOTS_AND_NEUTRAL: Final = 3


def least_insulated(survey: Survey, cable: Cable, circuits: Iterable[Circuit]) -> int:
    """Two for any circuit; three where two hots and a neutral go together: a multiwire cable, or a range's or dryer's."""
    carried = list(circuits)
    wide = len(carried) > 1 or any(_takes_three(survey, cable, circuit) for circuit in carried)
    return TWO_HOTS_AND_NEUTRAL if wide else THERE_AND_BACK


def _takes_three(survey: Survey, cable: Cable, circuit: Circuit) -> bool:
    """Past the home run a cable may serve an outlet on one leg only, where the circuit has such outlets."""
    if not _has_two_legs_and_neutral(circuit):
        return False
    home_run = circuit_tree(survey, circuit).panel in ends_of(survey, cable)
    return home_run or not survey.once(_has_outlets_on_one_leg, circuit.id)


def _has_two_legs_and_neutral(circuit: Circuit) -> bool:
    return circuit.knows("voltage", "neutral") and reaches(circuit.voltage, TWO_LEGS) and circuit.neutral


def _has_outlets_on_one_leg(survey: Survey, circuit_id: str) -> bool:
    devices = survey.devices_on_circuit.get(circuit_id, ())
    return any(device.knows("voltage") and not reaches(device.voltage, TWO_LEGS) for device in devices)
