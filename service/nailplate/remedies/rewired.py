"""Cables and conductors of another size, as what to do about wire that is too small."""

from collections.abc import Iterable, Iterator
from dataclasses import replace as altered
from typing import Final

from nailplate.codes import Column, Edition
from nailplate.plan import Cable
from nailplate.plan.supplies import Conductors
from nailplate.remedies.patches import Operation, Remedy, remove, state
from nailplate.survey.loads import Trade, fed_by
from nailplate.survey.wiring import Wire, bearing, is_power_cable, material_of
from nailplate.units import reaches

GROUND_OF_CABLES: Final = "10 AWG"
"""The grounding conductor of nonmetallic-sheathed cables of 10 to 6 AWG (common practice)."""


def larger_sizes(wire: Wire) -> list[str]:
    """The sizes over the wire's own that have an ampacity, in rising order."""
    edition = wire.edition
    sizes = edition.ampacity.of(material_of(wire))[Column.C60]
    return edition.conductors.rising(size for size in sizes if edition.conductors.larger(size, wire.size))


def larger_size(wire: Wire, minimum: float = 0.0) -> str | None:
    """The smallest larger size that suits the breaker as it is, or that has an ampacity of ``minimum`` where the nameplate governs."""
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
    if any(each.trade is Trade.WATER for each in fed_by(wire.survey, wire.circuit).loads):  # the heater may bound its breaker
        return Remedy(f"Pull {size} wire all the way, where the terminals take it.")
    return Remedy(f"Pull {size} wire all the way, where the terminals take it.", _all_resized(wire, size))


def _all_resized(wire: Wire, size: str) -> tuple[Operation, ...]:
    """The circuit's conductors and its cables of the wire's size in another; kept, since each of its cables may ask for it."""
    kept = wire.survey.shelf(_all_resized)
    key = (wire.circuit.id, wire.size, size, wire.edition)
    if key not in kept:
        kept[key] = tuple(_each_resized(wire, size))
    return kept[key]


def _each_resized(wire: Wire, size: str) -> Iterator[Operation]:
    cables = [each for each in wire.survey.cables_on_circuit.get(wire.circuit.id, []) if is_power_cable(each)]
    yield state(wire.circuit.conductor, "size", size)
    for cable in cables:
        if cable.knows("size") and cable.size == wire.size:
            yield from cable_resized(cable, size, wire.edition)


def resized(wires: Iterable[Wire], size: str) -> Iterator[Operation]:
    """Each wire in that size: the cable, or the circuit's conductors where none is drawn."""
    for wire in wires:
        if wire.cable is None:
            yield state(wire.circuit.conductor, "size", size)
        else:
            yield from cable_resized(wire.cable, size, wire.edition)


def cable_resized(cable: Cable, size: str, edition: Edition) -> Iterator[Operation]:
    """A cable of another size, with the grounding conductor that such cables bring.

    How the old one was bent, and how wide it was, says nothing of the new one.
    """
    yield state(cable, "size", size)
    bent = [each for each in (cable.route if cable.knows("route") else ()) if each.knows("bend")]
    yield from (remove(each.where("bend")) for each in bent)
    yield from (remove(cable.where(name)) for name in ("width", "thickness") if cable.knows(name))
    yield from _grounded(cable, size, edition)


def conductors_resized(conductors: Conductors, size: str, edition: Edition) -> Iterator[Operation]:
    """Wire of a circuit in another size, with the grounding conductor that comes with it."""
    yield state(conductors, "size", size)
    yield from _grounded(conductors, size, edition)


def _grounded(wire: Cable | Conductors, size: str, edition: Edition) -> Iterator[Operation]:
    ground = GROUND_OF_CABLES if edition.conductors.larger(size, GROUND_OF_CABLES) else size
    stated = wire.grounding if wire.knows("grounding") else "none"
    if stated in edition.conductors.area and edition.conductors.larger(ground, stated):
        yield state(wire, "grounding", ground)
