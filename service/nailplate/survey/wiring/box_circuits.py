"""Which circuits a box holds."""

from dataclasses import dataclass

from nailplate.plan import Box, Cable, Pointer
from nailplate.survey.index import Survey
from nailplate.survey.wiring.cable_circuits import CarriedBy, carried, circuits_of
from nailplate.survey.wiring.circuit_changes import changes_of
from nailplate.survey.wiring.wiring_nodes import Node, NodeKind, cables_at, is_power_cable


@dataclass(frozen=True, slots=True)
class BoxCircuits:
    """The ids of the circuits whose conductors are in a box, in the plan's order.

    ``unsaid`` are the facts that could add one: circuits of cables that neither they nor what is around them tells.
    """

    circuits: tuple[str, ...]
    unsaid: tuple[Pointer, ...]


def circuits_in_box(survey: Survey, box: Box) -> BoxCircuits:
    """The circuits of the cables that end in a box or pass it; of its devices where no cable is drawn.

    A cable that leaves its circuit here adds none: it is listed wrong, or ends in the wrong box.
    """
    node = Node(NodeKind.BOX, box.id)
    ending = [each for each in cables_at(survey, node) if all(change.node != node for change in changes_of(survey, each))]
    cables = dict.fromkeys((*ending, *_passing(survey, box)))
    found = [circuit for cable in cables for circuit in carried(survey, cable).known]
    if not cables:
        found = [circuit for device in survey.devices_in_box.get(box.id, ()) for circuit in circuits_of(device)]
    unsaid = tuple(each.where("circuit") for each in cables if carried(survey, each).by is CarriedBy.OPEN)
    return BoxCircuits(tuple(dict.fromkeys(found)), unsaid)


def _passing(survey: Survey, box: Box) -> list[Cable]:
    return [cable for cable in survey.cables_through_box.get(box.id, ()) if is_power_cable(cable)]
