"""The hots of a multiwire circuit open together at the panel.

Why: with one breaker off, the neutral of a multiwire circuit still carries the other half's current, and whoever opens the splice
takes it.

Fix: a two-pole breaker, or two single-pole breakers side by side with a listed handle tie.

Trap: a handle tie is enough for loads from hot to neutral only; a load between both hots needs a common trip, and so does GFCI or
AFCI protection of a multiwire circuit.
"""

from collections.abc import Iterator

from nailplate.plan import Circuit, Pointer
from nailplate.plan.words import Tie
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    NotConcerned,
    Operation,
    Outcome,
    Pass,
    Remedy,
    Severity,
    Subject,
    Undetermined,
    Violation,
    rule,
    state,
)
from nailplate.survey.names import name_of
from nailplate.survey.wiring import Pair, pairs_begun_by, ties_of


@rule(
    id="multiwire-disconnect",
    over=Circuit,
    severity=Severity.DANGER,
    subjects=(Subject.MULTIWIRE,),
    cites={"nec-2017": Cite("210.4(B)", note="trade press on multiwire branch circuits, undated")},
    hazards=(Hazard.SHOCK, Hazard.LOST_NEUTRAL),
)
def multiwire_disconnect(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """One outcome for each pair, told of its first circuit."""
    pairs = pairs_begun_by(job.survey, circuit)
    if not pairs:
        yield NotConcerned()
    for pair in pairs:
        yield _judged(pair)


def _judged(pair: Pair) -> Outcome:
    facet = pair.second.id
    ties = ties_of(pair)
    if pair.unsaid:
        return Undetermined(pair.unsaid, "Whether its cables hold a neutral for each circuit is not said.", facet=facet)
    if Tie.NONE in ties:
        return _apart(pair)
    if ties:
        two_breakers = Tie.COMMON_TRIP not in ties and all(_is_single_pole_gfci(half) for half in pair.halves)
        return _never_holds(pair) if two_breakers else Pass(facet=facet)
    first, second = (name_of(half) for half in pair.halves)
    by_cable = "" if pair.saying or not pair.shared else f", as both are in {name_of(pair.shared[0])},"
    said = f"Circuits {first} and {second} share a neutral{by_cable} and what opens both together, if anything, is not said."
    return Undetermined(_unsaid(pair), said, facet=facet)


def _unsaid(pair: Pair) -> tuple[Pointer, ...]:
    """Where the tie would stand: in the half that says it is one of a pair."""
    return tuple(half.multiwire.where("tie") for half in pair.saying) or (pair.first.where("multiwire"),)


def _apart(pair: Pair) -> Violation:
    first, second = (name_of(half) for half in pair.halves)
    words = "Use a two-pole breaker, or a listed handle tie on two breakers side by side; GFCI and AFCI types must be two-pole."
    return Violation(
        f"Circuits {first} and {second} share a neutral, and their breakers open one by one.",
        remedies=(Remedy(words, tuple(_tied(half) for half in pair.saying if _says_none(half))),),
        facet=pair.second.id,
        related=(pair.second.pointer,),
    )


def _is_single_pole_gfci(half: Circuit) -> bool:
    return (
        half.knows("breaker")
        and half.breaker.knows("poles", "protects")
        and half.breaker.poles == 1
        and half.breaker.protects.gfci
    )


def _never_holds(pair: Pair) -> Violation:
    """A GFCI weighs one hot against its neutral, which here brings back the difference of two."""
    first, second = (name_of(half) for half in pair.halves)
    return Violation(
        f"Circuits {first} and {second} share a neutral and are on two single-pole breakers with ground-fault protection, which "
        "trip as soon as the neutral carries current of both.",
        remedies=(
            Remedy("Use one two-pole breaker with ground-fault protection for both."),
            Remedy("Or pull a neutral for each circuit."),
        ),
        facet=pair.second.id,
        related=(pair.second.pointer,),
    )


def _says_none(half: Circuit) -> bool:
    return half.multiwire.knows("tie") and half.multiwire.tie is Tie.NONE


def _tied(half: Circuit) -> Operation:
    return state(half.multiwire, "tie", Tie.HANDLE_TIE.value)
