"""Remedies for a circuit whose breaker or wire does not suit its load: another breaker, and larger wire where that needs it."""

from collections.abc import Iterator
from dataclasses import replace as altered

from nailplate.codes import Column, Edition
from nailplate.plan import Cable, Circuit
from nailplate.rulekit import Job, Operation, Remedy, state
from nailplate.survey.loads import Trade, fed_by
from nailplate.survey.wiring import Wire, bearing, has_ampacity, material_of, unadjusted, wires_of
from nailplate.units import Amperes, amperes, reaches, shown, within, written

ANY_OUTLETS = Amperes(20.0)
"""210.23: circuits of several outlets over it feed one kind of equipment only; of 25 A, 35 A and 45 A there are none (210.18)."""
GROUND_OF_CABLES = "10 AWG"
"""The grounding conductor of nonmetallic-sheathed cables of 10 to 6 AWG (common practice)."""


def on_breaker(circuit: Circuit, rating: Amperes, job: Job, load: float = 0.0) -> tuple[Remedy, ...]:
    """The circuit on a breaker of ``rating``, with wire that suits it and bears ``load``."""
    if not (circuit.knows("breaker") and circuit.breaker.knows("rating")):
        return ()
    if not within(rating, ANY_OUTLETS) and reaches(rating, circuit.breaker.rating) and _feeds_several(circuit, job):
        return (Remedy("Move some of its load to another circuit: several outlets are fed from 15 A or 20 A."),)
    breaker = shown(amperes(rating))
    change = state(circuit.breaker, "rating", written(amperes(rating)))
    wires = [wire for wire in wires_of(job.survey, circuit, job.edition) if has_ampacity(wire)]
    thin = [wire for wire in wires if not _suits(wire, rating, load)]
    if wires and not thin:
        smaller = within(rating, circuit.breaker.rating)
        return (Remedy(f"Use a breaker of {breaker}{'' if smaller else '; the wire is large enough for it'}.", (change,)),)
    sizes = [_size_for(wire, rating, load) for wire in thin]
    if not wires or None in sizes:
        return (Remedy(f"Use a breaker of {breaker}, on wire that suits it."),)
    size = job.edition.conductors.rising(size for size in sizes if size)[-1]
    return (
        Remedy(f"Pull {size} wire all the way and use a breaker of {breaker}.", (change, *_resized(thin, size, job.edition))),
    )


def _feeds_several(circuit: Circuit, job: Job) -> bool:
    """Whether it has several outlets and is not fixed electric heat alone, for which 424.4(B) has ratings of its own."""
    fed = fed_by(job.survey, circuit)
    return fed.outlets > 1 and (bool(fed.free) or any(each.trade is not Trade.HEAT for each in fed.loads))


def larger_wire(circuit: Circuit, load: float, job: Job) -> tuple[Remedy, ...]:
    """The breaker as it is, with wire that bears ``load`` too."""
    return on_breaker(circuit, circuit.breaker.rating, job, load)


def _suits(wire: Wire, rating: Amperes, load: float) -> bool:
    return bearing(wire, strict=True, worst=True).allows(rating) and reaches(unadjusted(wire, worst=True), load)


def _size_for(wire: Wire, rating: Amperes, load: float) -> str | None:
    return next((size for size in larger_sizes(wire) if _suits(altered(wire, size=size), rating, load)), None)


def larger_sizes(wire: Wire) -> list[str]:
    """The sizes over the wire's own that have an ampacity, in rising order."""
    edition = wire.edition
    sizes = edition.ampacity.of(material_of(wire))[Column.C60]
    return edition.conductors.rising(size for size in sizes if edition.conductors.larger(size, wire.size))


def _resized(wires: list[Wire], size: str, edition: Edition) -> Iterator[Operation]:
    for wire in wires:
        if wire.cable is None:
            yield state(wire.circuit.conductor, "size", size)
        else:
            yield from cable_resized(wire.cable, size, edition)


def cable_resized(cable: Cable, size: str, edition: Edition) -> Iterator[Operation]:
    """A cable of another size, with the grounding conductor that such cables bring."""
    yield state(cable, "size", size)
    ground = GROUND_OF_CABLES if edition.conductors.larger(size, GROUND_OF_CABLES) else size
    stated = cable.grounding if cable.knows("grounding") else "none"
    if stated in edition.conductors.area and edition.conductors.larger(ground, stated):
        yield state(cable, "grounding", ground)
