"""Voltage drop along a circuit's own tree, to the outlet where most is lost.

Everything is taken to run at once: appliances and luminaires by their nameplates, and at every receptacle that is there for no
appliance that is drawn 180 VA, the figure by which the code counts a receptacle outlet (220.14(I); for dwellings common practice), but
no more on all of them together than half the circuit's rating (common practice).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from nailplate.calc.voltage_drop import DropMethod, Run, ohms_per_foot
from nailplate.codes import Edition, Material
from nailplate.plan import Cable, Circuit, Device, UnknownFact
from nailplate.plan.words import DeviceKind
from nailplate.survey.index import Survey
from nailplate.survey.loads import amperes_drawn
from nailplate.survey.wiring import NOTHING, CableLength, CircuitTree, Node, cable_length, circuit_tree, node_of_device
from nailplate.units import Amperes, Volts

TOGETHER = 0.5
"""Of the circuit's rating: the most that its receptacles for general use take together (common practice)."""
_FEET = 12.0
_WAYS = 2.0


@dataclass(frozen=True, slots=True)
class CircuitDrop:
    """The outlet where most is lost: the volts, all that was taken to run, the length of cable, and whether a length is estimated."""

    volts: Volts
    percent: float
    outlet: Device
    current: Amperes
    length: CableLength


def circuit_drop(survey: Survey, circuit: Circuit, edition: Edition) -> CircuitDrop | None:
    """The worst drop on a circuit; None where nothing on it says what it draws. Raises UnknownFact for lengths, sizes or voltage."""
    tree = circuit_tree(survey, circuit)
    ohms = {node: _ohms(survey, circuit, step.cable, edition) for node, step in tree.steps.items() if step.cable is not None}
    worst = max(_connected(survey, circuit, tree, ohms), key=lambda each: each[0], default=None)
    if worst is None:
        return None
    lost, outlet = worst
    drawn = sum(load for _, load in _drawing(survey, circuit))
    current = min(drawn, circuit.breaker.rating)
    lost *= current / drawn  # what would be drawn above the breaker's rating is an overload, which other rules tell of
    length = _length(survey, tree, node_of_device(outlet))
    return CircuitDrop(Volts(lost), 100.0 * lost / circuit.voltage, outlet, Amperes(current), length)


_Lost = tuple[float, Device]


def _ohms(survey: Survey, circuit: Circuit, cable: Cable, edition: Edition) -> float:
    """There and back through one cable; one way where two legs share it, whose currents leave its neutral idle (both run at once)."""
    material = cable.material if cable.knows("material") else Material.COPPER
    run = Run(
        voltage=circuit.voltage,
        current=Amperes(0.0),
        length=cable_length(survey, cable).inches,
        size=cable.size,
        material=material,
        method=DropMethod.DC_RESISTANCE,
    )
    ways = 1.0 if cable.knows("second_circuit") else _WAYS
    return ways * ohms_per_foot(run, cable.size, edition) * run.length / _FEET


def _outlets_of_appliances(survey: Survey) -> frozenset[str]:
    return frozenset(each.outlet for each in survey.plan.appliances.values() if each.knows("outlet"))


def _connected(survey: Survey, circuit: Circuit, tree: CircuitTree, ohms: Mapping[Node, float]) -> Iterator[_Lost]:
    """Every load that says what it draws, at once: each cable carries what hangs behind it."""
    at = dict(_loads(survey, circuit, tree))
    behind = _behind(tree, {node: load for node, (load, _) in at.items()})
    lost: dict[Node, float] = {}
    for node, step in tree.steps.items():
        lost[node] = (lost[step.upstream] if step.upstream is not None else 0.0) + ohms.get(node, 0.0) * behind[node]
    for node, (_, device) in at.items():
        yield lost[node], device


def _behind(tree: CircuitTree, at: Mapping[Node, float]) -> dict[Node, float]:
    total = {node: at.get(node, 0.0) for node in tree.steps}
    for node, step in reversed(list(tree.steps.items())):
        if step.upstream is not None:
            total[step.upstream] += total[node]
    return total


def _loads(survey: Survey, circuit: Circuit, tree: CircuitTree) -> Iterator[tuple[Node, tuple[float, Device]]]:
    """Node to the amperes that are drawn there and one of the devices that draw them."""
    found: dict[Node, tuple[float, Device]] = {}
    for device, load in _drawing(survey, circuit):
        node = node_of_device(device)
        if tree.feeds(node):
            found[node] = (found[node][0] + load if node in found else load, device)
    yield from found.items()


def _drawing(survey: Survey, circuit: Circuit) -> Iterator[tuple[Device, float]]:
    for appliance in survey.appliances_on_circuit.get(circuit.id, []):
        if appliance.knows("outlet"):
            try:
                yield survey.plan.devices[appliance.outlet], amperes_drawn(appliance)
            except UnknownFact:
                continue  # unknown: its load is asked for by the rules on loads
    each = _at_a_receptacle(survey, circuit)
    for device in survey.devices_on_circuit.get(circuit.id, []):
        if _is_for_general_use(survey, device):
            yield device, each
        elif device.knows("power") and device.kind in (DeviceKind.LUMINAIRE, DeviceKind.FAN):
            yield device, device.power / circuit.voltage


def _at_a_receptacle(survey: Survey, circuit: Circuit) -> float:
    """Amperes at each receptacle for general use."""
    number = sum(1 for device in survey.devices_on_circuit.get(circuit.id, []) if _is_for_general_use(survey, device))
    if not number:
        return 0.0
    return min(survey.volt_amperes("receptacle_load") / circuit.voltage, TOGETHER * circuit.breaker.rating / number)


def _is_for_general_use(survey: Survey, device: Device) -> bool:
    return device.kind is DeviceKind.RECEPTACLE and device.id not in survey.once(_outlets_of_appliances)


def _length(survey: Survey, tree: CircuitTree, node: Node) -> CableLength:
    total = NOTHING
    for step in tree.path_to(node):
        if step.cable is not None:
            total = total.plus(cable_length(survey, step.cable))
    return total
