"""What a circuit's wires may carry, by the strict and the lenient reading of the code, at the least and the most a plan can mean.

210.19 asks twice: for 125 percent of a continuous load before any correction or adjustment, and for the load itself after them. The
first is looked at for a circuit as a whole, the weakest of its wires, the second for one stretch of a cable.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from dataclasses import replace as altered
from typing import Final

from nailplate.calc.ampacity import Method, usable_ampacity
from nailplate.calc.overcurrent import OvercurrentLimit, largest_overcurrent
from nailplate.codes import Edition
from nailplate.plan import Circuit, Pointer
from nailplate.plan.words import DeviceKind
from nailplate.records import record
from nailplate.survey.index import Survey
from nailplate.survey.wiring.cable_runs import Stretch
from nailplate.survey.wiring.wires import Wire, column_of, has_ampacity, method_of, type_of, use_of, wires_of
from nailplate.units import Amperes, within

MOST_NAMED: Final = 5
"""Missing facts that one outcome names; they are all of one kind."""


@record(frozen=True, slots=True)
class Bearing:
    """What a wire may carry and the largest breaker for it, by one reading of the code and of the plan."""

    ampacity: Amperes
    limit: OvercurrentLimit

    def allows(self, rating: Amperes) -> bool:
        """Whether a breaker of this rating may guard it."""
        return self.limit.rating is not None and within(rating, self.limit.rating)


def bearing(wire: Wire, *, strict: bool, worst: bool, beside: int = 0) -> Bearing:
    """What the wire bears where it is worst off, by one reading and at one end of what the plan can mean. Raises UnknownFact.

    ``beside`` are current-carrying conductors of other cables that are taken to lie with it all along.
    """
    kept = wire.survey.shelf(_bearing)
    key = (wire.circuit.id, wire.cable.id if wire.cable else None, wire.size, wire.edition, strict, worst, beside)
    found = kept.get(key)
    if found is None:
        found = kept[key] = _bearing(wire, strict=strict, worst=worst, beside=beside)
    return found


def _bearing(wire: Wire, *, strict: bool, worst: bool, beside: int) -> Bearing:
    edition = wire.edition
    lying = dict.fromkeys(
        (stretch.current_carrying(strict=strict, most=worst), stretch.ambient[worst], stretch.in_insulation[worst])
        for stretch in wire.runs
    )
    alone = use_of(wire, worst=worst)
    least = min(
        usable_ampacity(
            altered(alone, current_carrying=carrying + beside, ambient=ambient, in_thermal_insulation=insulated), edition
        )
        for carrying, ambient, insulated in lying
    )
    several = several_receptacles(wire.circuit, wire.survey)[worst]
    return Bearing(least, largest_overcurrent(least, wire.size, alone.material, edition, several_receptacles=several))


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


# All the wire of a circuit


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


def _circuit_wire(survey: Survey, circuit_id: str, edition: Edition) -> CircuitWire:
    circuit = survey.plan.circuits[circuit_id]
    wires = [wire for wire in wires_of(survey, circuit, edition) if has_ampacity(wire)]
    if not wires:
        unsaid = (circuit.pointer / "conductor" / "size",)
        return CircuitWire(Amperes(0.0), Amperes(0.0), unsaid, known=False, allows_breaker=True)
    needs = tuple(dict.fromkeys(need for wire in wires for need in open_facts(wire)))[:MOST_NAMED]
    worst, best = (min(unadjusted(wire, worst=worst) for wire in wires) for worst in (True, False))
    return CircuitWire(worst, best, needs, known=True, allows_breaker=_allow(circuit, wires))


def _allow(circuit: Circuit, wires: list[Wire]) -> bool:
    if not (circuit.knows("breaker") and circuit.breaker.knows("rating")):
        return True
    return all(bearing(wire, strict=True, worst=False).allows(circuit.breaker.rating) for wire in wires)


# What may change the figures


def several_receptacles(circuit: Circuit, survey: Survey) -> tuple[bool, bool]:
    """Whether 240.4(B)(1) bars the next size up: certainly, and possibly. A duplex is two receptacles."""
    return survey.once(_several_receptacles, circuit.id)


def _several_receptacles(survey: Survey, circuit_id: str) -> tuple[bool, bool]:
    circuit = survey.plan.circuits[circuit_id]
    devices = survey.devices_on_circuit.get(circuit.id, [])
    if not devices and not survey.appliances_on_circuit.get(circuit.id):
        return False, True
    found = [each for each in devices if each.kind is DeviceKind.RECEPTACLE]
    sure = sum(each.contacts if each.knows("contacts") else 1 for each in found)
    possible = sum(each.contacts if each.knows("contacts") else 2 for each in found)
    return sure > 1, possible > 1


def open_facts(wire: Wire) -> Iterator[Pointer]:
    """The facts left out that may change the figure."""
    capped = method_of(wire) in (Method.NM_B, Method.UF_B)
    conductor = wire.circuit.pointer / "conductor"
    if type_of(wire) is None:
        yield wire.cable.where("type") if wire.cable is not None else conductor / "type"
    if not capped and column_of(wire.circuit, "terminations") is None:
        yield conductor / "terminations"
    if method_of(wire) is not Method.NM_B and column_of(wire.circuit, "insulation") is None:
        yield conductor / "insulation"
    for stretch in wire.runs:
        yield from stretch.open
    yield from _open_receptacles(wire.circuit, wire.survey)


def _open_receptacles(circuit: Circuit, survey: Survey) -> Iterator[Pointer]:
    sure, possible = several_receptacles(circuit, survey)
    if sure != possible:
        devices = survey.devices_on_circuit.get(circuit.id, [])
        unknown = [
            each.where("contacts") for each in devices if each.kind is DeviceKind.RECEPTACLE and not each.knows("contacts")
        ]
        yield from unknown or [survey.plan.where("devices")]
