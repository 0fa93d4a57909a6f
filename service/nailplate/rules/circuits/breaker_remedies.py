"""What to do about a breaker that is too large for its wire: a smaller one, or larger wire."""

from dataclasses import replace as altered

from nailplate.plan.trade import RESERVED_CIRCUITS
from nailplate.rulekit import Operation, Remedy, state
from nailplate.rules.circuits.rewiring import cable_resized, larger_sizes
from nailplate.survey.loads import fed_by
from nailplate.survey.wiring import Wire, bearing, is_power_cable
from nailplate.units import Amperes, amperes, reaches, shown, within, written

SMALLEST_BREAKER = 15.0
TWENTY = 20.0
WITH_A_QUARTER = 1.25


def smaller_breaker(wire: Wire, rating: Amperes | None) -> tuple[Remedy, ...]:
    """A smaller breaker, unless the circuit must be a 20 A one or would come under 15 A, which few outlets may be on.

    Where its loads, with a quarter more, go past it, pulling larger wire is the way.
    """
    circuit = wire.circuit
    required = circuit.knows("purpose") and circuit.purpose in RESERVED_CIRCUITS
    if rating is None or not reaches(rating, TWENTY if required else SMALLEST_BREAKER):
        return ()
    if not within(sum(each.least for each in fed_by(wire.survey, circuit).loads) * WITH_A_QUARTER, rating):
        return ()
    words = f"Use a breaker of {shown(amperes(rating))}, if the loads allow it; else pull larger wire."
    return (Remedy(words, (state(circuit.breaker, "rating", written(amperes(rating))), *_listed_as(wire))),)


def _listed_as(wire: Wire) -> tuple[Operation, ...]:
    """The circuit's wire listed as the smaller size that one of its cables has: that is what its breaker now suits."""
    circuit = wire.circuit
    if not (circuit.knows("conductor") and circuit.conductor.knows("size")):
        return ()
    thinner = wire.edition.conductors.larger(circuit.conductor.size, wire.size)
    return (state(circuit.conductor, "size", wire.size),) if thinner else ()


def larger_size(wire: Wire, minimum: float = 0.0) -> str | None:
    """The smallest larger size that suits the breaker as it is, or that bears ``minimum`` where the nameplate governs."""
    for size in larger_sizes(wire):
        borne = bearing(altered(wire, size=size), strict=True, worst=True)
        if reaches(borne.ampacity, minimum) if minimum else borne.allows(wire.circuit.breaker.rating):
            return size
    return None


def larger_wire(wire: Wire, minimum: float = 0.0) -> Remedy:
    """Larger wire instead of the cable that the finding is about, or all the way where it is about the circuit."""
    size = larger_size(wire, minimum) or wire.size
    if wire.at is not wire.circuit and wire.cable is not None:
        return Remedy(f"Pull {size} wire instead of this cable.", tuple(cable_resized(wire.cable, size, wire.edition)))
    cables = [each for each in wire.survey.cables_on_circuit.get(wire.circuit.id, []) if is_power_cable(each)]
    patch = [state(wire.circuit.conductor, "size", size)]
    for cable in cables:
        if cable.knows("size") and cable.size == wire.size:
            patch += cable_resized(cable, size, wire.edition)
    return Remedy(f"Pull {size} wire all the way, where the terminals take it.", tuple(patch))
