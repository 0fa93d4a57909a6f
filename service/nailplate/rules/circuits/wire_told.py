"""What is said of wire that is too small for its breaker, and what to do about it; taps to cooking units are read two ways."""

from nailplate.plan import PanelEnd, Pointer
from nailplate.plan.trade import COOKING
from nailplate.remedies.changed_breakers import smaller_breaker
from nailplate.remedies.rewired import larger_size, larger_wire
from nailplate.rulekit import Judgement, Outcome, Reading, Violation
from nailplate.survey.names import name_of, names_of
from nailplate.survey.wiring import (
    MOST_NAMED,
    Bearing,
    Wire,
    bundle_name,
    is_bundled_by_closeness,
    lying_with,
    most_crowded,
)
from nailplate.units import Measure, amperes, reaches, shown, within


def shown_limit(bearing: Bearing) -> Measure | None:
    """The largest breaker, as a figure; None where no standard one is small enough."""
    return amperes(bearing.limit.rating) if bearing.limit.rating is not None else None


def too_large(wire: Wire, pair: tuple[Bearing, Bearing]) -> Outcome:
    """A breaker larger than the wire allows, by what is said at best and at worst; a tap to a cooking unit is a question."""
    best, worst = pair
    rating = wire.circuit.breaker.rating
    if _cooking_tap(wire, worst):
        return _tap(wire, worst)
    most = (
        f"a breaker of at most {shown(amperes(best.limit.rating))}" if best.limit.rating is not None else "no standard breaker"
    )
    said = (
        f"The breaker of {name_of(wire.circuit)} is {shown(amperes(rating))}; its {wire.size} wire has an ampacity of "
        f"{shown(amperes(best.ampacity))} here{_beside(wire)} and allows {most} ({best.limit.by})."
    )
    remedies = smaller_breaker(wire, worst.limit.rating)
    remedies += (larger_wire(wire),) if larger_size(wire) else ()
    return Violation(
        said,
        amperes(rating),
        shown_limit(best),
        remedies=remedies,
        facet=wire.facet,
        at=wire.at.pointer,
        related=_related(wire),
    )


def _beside(wire: Wire) -> str:
    """The bundle that takes from its ampacity: its name and the cables that it lies with."""
    if wire.cable is None or all(run.strict[1] <= wire.edition.number("conductors_without_adjustment") for run in wire.runs):
        return ""
    place = most_crowded(wire.survey, wire.cable)
    others = lying_with(wire.survey, place) if place is not None else ()
    named = bundle_name(place) if place is not None else None
    bundle = f" in bundle '{named}'" if named else ""
    return f", where {name_of(wire.cable)} lies{bundle} with {names_of(others, MOST_NAMED)}," if others else ""


def _related(wire: Wire) -> tuple[Pointer, ...]:
    every = (wire.circuit.pointer, wire.cable.pointer if wire.cable is not None else wire.circuit.pointer)
    return tuple(each for each in dict.fromkeys(every) if each != wire.at.pointer)


def two_ways(wire: Wire, strict: Bearing, lenient: Bearing) -> Outcome:
    """A bundle that one reading of the code counts as too much, and another does not."""
    rating = wire.circuit.breaker.rating
    strictly, literally = _counts(wire)
    readings = (
        Reading(f"{strictly}: {shown(amperes(strict.ampacity))}.", "pass" if strict.allows(rating) else "violation"),
        Reading(f"{literally}: {shown(amperes(lenient.ampacity))}.", "pass" if lenient.allows(rating) else "violation"),
    )
    said = f"How the bundle of {wire.size} wire is counted decides whether its breaker is too large."
    return Judgement(said, readings, amperes(rating), shown_limit(strict), facet=wire.facet, at=wire.at.pointer)


def _counts(wire: Wire) -> tuple[str, str]:
    """The two ways to count a bundle, by what makes them differ here."""
    if all(stretch.literal[1] <= wire.edition.number("conductors_without_adjustment") for stretch in wire.runs):
        return (
            "The exception for a short stretch is measured along this one cable, and the bundle is too long for it",
            "It is measured along the circuit as a whole, and the bundle is short",
        )
    if wire.cable is not None and any(is_bundled_by_closeness(wire.survey, each) for each in wire.cable.route):
        return "Cables less than an inch apart lie without spacing", "Cables that do not touch keep their spacing"
    return "Every conductor in the bundle counts", "Of a third conductor that is one of two travelers, one at a time counts"


def _cooking_tap(wire: Wire, bearing: Bearing) -> bool:
    cable, circuit = wire.cable, wire.circuit
    appliances = wire.survey.appliances_on_circuit.get(circuit.id, [])
    if cable is None or wire.at is circuit or not appliances or any(each.kind not in COOKING for each in appliances):
        return False
    at_panel = any(isinstance(end, PanelEnd) for end in cable.ends)
    return (
        not at_panel
        and within(circuit.breaker.rating, wire.edition.amperes("tap_circuit_rating"))
        and reaches(bearing.ampacity, wire.edition.amperes("tap_ampacity"))
    )


def _tap(wire: Wire, bearing: Bearing) -> Judgement:
    readings = (
        Reading("It is a tap to one cooking unit, no longer than serving it takes.", "pass"),
        Reading("It is part of the circuit, or longer than that.", "violation"),
    )
    rating = amperes(wire.circuit.breaker.rating)
    said = f"{wire.size} wire with an ampacity of {shown(amperes(bearing.ampacity))} serves a cooking unit on a {shown(rating)} circuit."
    return Judgement(said, readings, rating, shown_limit(bearing), facet=wire.facet, at=wire.at.pointer, related=_related(wire))
