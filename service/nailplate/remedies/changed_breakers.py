"""A circuit on another breaker, with larger wire where that needs it, as what to do about a load or a wire that does not suit."""

from dataclasses import replace as altered

from nailplate.plan import Circuit
from nailplate.plan.trade import RESERVED_CIRCUITS
from nailplate.remedies.patches import Operation, Remedy, state
from nailplate.remedies.rewired import larger_sizes, resized
from nailplate.survey import Survey
from nailplate.survey.loads import Attached, Trade, fed_by
from nailplate.survey.wiring import Wire, bearing, has_ampacity, unadjusted, wires_of
from nailplate.units import Amperes, amperes, reaches, shown, within, written


def on_breaker(circuit: Circuit, rating: Amperes, survey: Survey, load: float = 0.0) -> tuple[Remedy, ...]:
    """The circuit on a breaker of ``rating``, with wire that suits it and carries ``load``."""
    if not (circuit.knows("breaker") and circuit.breaker.knows("rating")):
        return ()
    over = not within(rating, survey.amperes("several_outlets_rating"))
    if over and rating != circuit.breaker.rating and _feeds_several(circuit, survey):
        return (Remedy("Move some of its load to another circuit: several outlets are fed from 15 A or 20 A."),)
    breaker = shown(amperes(rating))
    change = state(circuit.breaker, "rating", written(amperes(rating)))
    wires = [wire for wire in wires_of(survey, circuit, survey.edition) if has_ampacity(wire)]
    thin = [wire for wire in wires if not _suits(wire, rating, load)]
    if wires and not thin:
        smaller = within(rating, circuit.breaker.rating)
        return (Remedy(f"Use a {breaker} breaker{'' if smaller else '; the wire is large enough for it'}.", (change,)),)
    sizes = [_size_for(wire, rating, load) for wire in thin]
    if not wires or None in sizes:
        return (Remedy(f"Use a {breaker} breaker, on wire that suits it."),)
    size = survey.edition.conductors.rising(size for size in sizes if size)[-1]
    wire = resized(thin, size)
    return (Remedy(f"Pull {size} wire all the way and use a {breaker} breaker.", (change, *wire) if wire else ()),)


def _feeds_several(circuit: Circuit, survey: Survey) -> bool:
    """Whether it has several outlets and is not fixed electric heat alone, for which 424.4(B) has ratings of its own."""
    fed = fed_by(survey, circuit)
    return fed.outlets > 1 and (bool(fed.free) or any(each.trade is not Trade.HEAT for each in fed.loads))


def wired_for(circuit: Circuit, load: float, survey: Survey) -> tuple[Remedy, ...]:
    """The breaker as it is, with wire that carries ``load`` too."""
    return on_breaker(circuit, circuit.breaker.rating, survey, load)


def smaller_breaker(wire: Wire, rating: Amperes | None) -> tuple[Remedy, ...]:
    """A smaller breaker, unless the circuit must be a 20 A one or would come under 15 A, which few outlets may be on.

    Where its loads, with a quarter more, go past it, pulling larger wire is the way.
    """
    circuit = wire.circuit
    required = circuit.is_among(purpose=RESERVED_CIRCUITS)
    least = wire.edition.amperes("reserved_circuit_rating" if required else "any_outlet_rating")
    if rating is None or not reaches(rating, least) or not _holds_its_loads(wire, rating):
        return ()
    words = f"Use a {shown(amperes(rating))} breaker, if the loads allow it; else pull larger wire."
    return (Remedy(words, (state(circuit.breaker, "rating", written(amperes(rating))), *_listed_as(wire))),)


def _holds_its_loads(wire: Wire, rating: Amperes) -> bool:
    """Whether the circuit's loads with a quarter more, what is fastened beside other outlets, and its receptacles suit a breaker."""
    fed, more = fed_by(wire.survey, wire.circuit), wire.edition.share("continuous_load_share")
    fastened = sum(each.least for each in fed.attached(Attached.FASTENED)) if fed.free else 0.0
    receptacles = [each for each in fed.receptacles_for_use if each.knows("rating")]
    return (
        within(sum(each.least for each in fed.loads) * more, rating)
        and within(fastened, rating / 2)
        and all(within(each.rating, rating) for each in receptacles)
    )


def _listed_as(wire: Wire) -> tuple[Operation, ...]:
    """The circuit's wire listed as the smaller size that one of its cables has: that is what its breaker now suits."""
    circuit = wire.circuit
    if not (circuit.knows("conductor") and circuit.conductor.knows("size")):
        return ()
    thinner = wire.edition.conductors.larger(circuit.conductor.size, wire.size)
    return (state(circuit.conductor, "size", wire.size),) if thinner else ()


def _suits(wire: Wire, rating: Amperes, load: float) -> bool:
    return bearing(wire, strict=True, worst=True).allows(rating) and reaches(unadjusted(wire, worst=True), load)


def _size_for(wire: Wire, rating: Amperes, load: float) -> str | None:
    return next((size for size in larger_sizes(wire) if _suits(altered(wire, size=size), rating, load)), None)
