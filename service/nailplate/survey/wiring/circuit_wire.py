"""What all the wire of one circuit bears: its stated conductors and every cable drawn, the weakest of them.

210.19 asks twice: for 125 percent of a continuous load before any correction or adjustment, and for the load itself after them. The
first is looked at here for a circuit as a whole, the second for one stretch of a cable.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from dataclasses import replace as altered

from nailplate.calc.ampacity import usable_ampacity
from nailplate.codes import Edition
from nailplate.plan import Circuit, Pointer
from nailplate.survey.index import Survey
from nailplate.survey.wiring.cable_runs import Stretch
from nailplate.survey.wiring.wires import Wire, bearing, has_ampacity, open_facts, use_of
from nailplate.survey.wiring.wiring_nodes import is_power_cable
from nailplate.units import Amperes

MOST_NAMED = 5
"""Missing facts that one outcome names; they are all of one kind."""


@dataclass(frozen=True, slots=True)
class CircuitWire:
    """What the weakest wire bears before correction and adjustment, at the worst and the best that the plan can mean.

    ``needs`` is what is missing between the two; ``known`` is False where no wire of a size in the tables is drawn;
    ``allows_breaker`` tells whether all of it may have the breaker, where it lies, at best.
    """

    worst: Amperes
    best: Amperes
    needs: tuple[Pointer, ...]
    known: bool
    allows_breaker: bool


def circuit_wire(survey: Survey, circuit: Circuit, edition: Edition) -> CircuitWire:
    """What a circuit's wire bears. Where it is not drawn at all, ``needs`` names the size that is missing."""
    return survey.once(_circuit_wire, circuit.id, edition)


def wires_of(survey: Survey, circuit: Circuit, edition: Edition) -> Iterator[Wire]:
    """Each cable of a known size that carries the circuit, and its stated conductors."""
    for cable in survey.cables_on_circuit.get(circuit.id, []):
        if is_power_cable(cable) and cable.knows("size"):
            yield Wire(circuit, cable, cable.size, cable, survey, edition)
    if circuit.knows("conductor") and circuit.conductor.knows("size"):
        yield Wire(circuit, None, circuit.conductor.size, circuit, survey, edition)


def _circuit_wire(survey: Survey, circuit_id: str, edition: Edition) -> CircuitWire:
    circuit = survey.plan.circuits[circuit_id]
    wires = [wire for wire in wires_of(survey, circuit, edition) if has_ampacity(wire)]
    if not wires:
        unsaid = (circuit.pointer / "conductor" / "size",)
        return CircuitWire(Amperes(0.0), Amperes(0.0), unsaid, known=False, allows_breaker=True)
    needs = tuple(dict.fromkeys(need for wire in wires for need in open_facts(wire)))[:MOST_NAMED]
    worst, best = (min(unadjusted(wire, worst=worst) for wire in wires) for worst in (True, False))
    return CircuitWire(worst, best, needs, known=True, allows_breaker=_allow(circuit, wires))


def unadjusted(wire: Wire, *, worst: bool) -> Amperes:
    """What a wire bears by itself at the table's ambient, at one end of what the plan can mean."""
    return usable_ampacity(use_of(wire, worst=worst), wire.edition)


def where_it_lies(wire: Wire, stretch: Stretch, *, strict: bool, worst: bool) -> Amperes:
    """What a wire bears in one stretch of its cable, by one reading of how its bundle is counted."""
    use = altered(
        use_of(wire, worst=worst),
        current_carrying=stretch.current_carrying(strict=strict, most=worst),
        ambient=stretch.ambient[worst],
        in_thermal_insulation=stretch.in_insulation[worst],
    )
    return usable_ampacity(use, wire.edition)


def _allow(circuit: Circuit, wires: list[Wire]) -> bool:
    if not (circuit.knows("breaker") and circuit.breaker.knows("rating")):
        return True
    return all(bearing(wire, strict=True, worst=False).allows(circuit.breaker.rating) for wire in wires)
