"""Cables and conductors of another size, as what to do about wire that is too small."""

from collections.abc import Iterable, Iterator
from dataclasses import replace as altered
from typing import Final

from nailplate.codes import Column, Edition
from nailplate.plan import Cable
from nailplate.plan.supplies import Conductors
from nailplate.remedies.larger_wires_in_boxes import boxes_hold
from nailplate.remedies.patches import Operation, Remedy, remove, state
from nailplate.survey.index import Survey
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
        return Remedy(f"Pull {size} wire instead of this cable.", pulled(wire.survey, wire.cable, size, wire.edition))
    if any(each.trade is Trade.WATER for each in fed_by(wire.survey, wire.circuit).loads):  # the heater may bound its breaker
        return Remedy(f"Pull {size} wire all the way, where the terminals take it.")
    return Remedy(f"Pull {size} wire all the way, where the terminals take it.", _all_resized(wire, size))


def _all_resized(wire: Wire, size: str) -> tuple[Operation, ...]:
    """The circuit's conductors and its cables of the wire's size in another; kept, since each of its cables may ask for it."""
    kept = wire.survey.shelf(_all_resized)
    key = (wire.circuit.id, wire.size, size, wire.edition)
    if key not in kept:
        held = boxes_hold(wire.survey, _alike(wire), size, wire.edition)
        kept[key] = tuple(_each_resized(wire, size)) if held else ()
    return kept[key]


def _each_resized(wire: Wire, size: str) -> Iterator[Operation]:
    yield state(wire.circuit.conductor, "size", size)
    for cable in _alike(wire):
        yield from cable_resized(cable, size, wire.edition)


def _alike(wire: Wire) -> list[Cable]:
    """The power cables of the wire's circuit that are of its size."""
    on_circuit = wire.survey.cables_on_circuit.get(wire.circuit.id, [])
    return [each for each in on_circuit if is_power_cable(each) and each.knows("size") and each.size == wire.size]


def resized(wires: Iterable[Wire], size: str) -> tuple[Operation, ...]:
    """Each wire in that size: the cable, or the circuit's conductors where none is drawn; nothing where a box does not hold it."""
    patch: list[Operation] = []
    for wire in wires:
        if wire.cable is None:
            patch.append(state(wire.circuit.conductor, "size", size))
        elif boxes_hold(wire.survey, (wire.cable,), size, wire.edition):
            patch += cable_resized(wire.cable, size, wire.edition)
        else:
            return ()
    return tuple(patch)


def pulled(survey: Survey, cable: Cable, size: str, edition: Edition) -> tuple[Operation, ...]:
    """A cable of another size, where its boxes hold it."""
    return tuple(cable_resized(cable, size, edition)) if boxes_hold(survey, (cable,), size, edition) else ()


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
