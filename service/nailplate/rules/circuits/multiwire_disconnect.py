"""The hots of a multiwire circuit disconnect simultaneously at the panel.

Why: with one breaker off, the neutral of a multiwire circuit still carries the other half's current, and whoever opens the splice
takes it.

Fix: a two-pole breaker, or two single-pole breakers side by side with a listed handle tie.

Trap: a handle tie is enough for loads from hot to neutral, and for one 240 V appliance alone. Where both are on it, a two-pole breaker
with a common trip is required. GFCI breakers for it are two-pole; single-pole AFCI breakers may be tied where they are listed for it.

Does not judge: whether a handle tie is identified for its breakers, and breakers of other manufacturers side by side.
"""

from collections.abc import Iterator

from nailplate.plan import Appliance, Circuit, Pointer
from nailplate.plan.trade import TWO_LEGS
from nailplate.plan.words import Tie
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Operation, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.loads import fed_by
from nailplate.survey.names import name_of
from nailplate.survey.wiring import Pair, pairs_begun_by, ties_of
from nailplate.units import reaches


@rule(
    id="multiwire-disconnect",
    over=Circuit,
    severity=Severity.DANGER,
    subjects=(Subject.MULTIWIRE,),
    cites={"nec-2017": Cite("210.4(B), 210.4(C), 240.15(B)", note="trade press on multiwire branch circuits, undated")},
    hazards=(Hazard.SHOCK, Hazard.LOST_NEUTRAL),
)
def multiwire_disconnect(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """One outcome for each pair, told of its first circuit."""
    pairs = pairs_begun_by(job.survey, circuit)
    if not pairs:
        yield NotConcerned()
    for pair in pairs:
        yield _judged(pair, job)


def _judged(pair: Pair, job: Job) -> Outcome:
    facet = pair.second.id
    ties = ties_of(pair)
    if pair.unsaid:
        return Undetermined(pair.unsaid, "Whether its cables hold a neutral for each circuit is not said.", facet=facet)
    if Tie.NONE in ties:
        return _apart(pair, job)
    if ties:
        return Pass(facet=facet) if Tie.COMMON_TRIP in ties else _tied_only(pair, job)
    first, second = (name_of(half) for half in pair.halves)
    by_cable = "" if pair.saying or not pair.shared else f", as both are in {name_of(pair.shared[0])},"
    said = f"Circuits {first} and {second} share a neutral{by_cable} and what opens both together, if anything, is not said."
    return Undetermined(_unsaid(pair), said, facet=facet)


def _tied_only(pair: Pair, job: Job) -> Outcome:
    """210.4(C) and its exceptions: a handle tie, and no common trip."""
    if all(_is_single_pole_gfci(half) for half in pair.halves):
        return _never_holds(pair)
    wide = _between_hots_beside_others(pair, job)
    if wide is None:
        return Pass(facet=pair.second.id)
    first, second = (name_of(half) for half in pair.halves)
    return Violation(
        f"Circuits {first} and {second} share a neutral on a handle tie, and feed {name_of(wide)} between both hots and other outlets: "
        "one half can trip and leave the other live.",
        remedies=(
            Remedy("Use a two-pole breaker with a common trip.", tuple(_with(half, Tie.COMMON_TRIP) for half in pair.saying)),
            Remedy("Or give the 240 V appliance a circuit of its own."),
        ),
        facet=pair.second.id,
        related=(pair.second.pointer, wide.pointer),
    )


def _between_hots_beside_others(pair: Pair, job: Job) -> Appliance | None:
    """A 240 V appliance that is not alone on the pair, for which a handle tie is not enough."""
    fed = [each for half in pair.halves for each in fed_by(job.survey, half).appliances]
    wide = [each for each in fed if each.knows("volts") and reaches(each.volts, TWO_LEGS)]
    others = sum(fed_by(job.survey, half).outlets for half in pair.halves) - len(wide)
    return None if not wide or (len(wide) == 1 and not others) else wide[0]


def _unsaid(pair: Pair) -> tuple[Pointer, ...]:
    """Where the tie would stand: in the half that says it is one of a pair."""
    return tuple(half.multiwire.where("tie") for half in pair.saying) or (pair.first.where("multiwire"),)


def _apart(pair: Pair, job: Job) -> Violation:
    first, second = (name_of(half) for half in pair.halves)
    tie = Tie.HANDLE_TIE if _between_hots_beside_others(pair, job) is None else Tie.COMMON_TRIP
    tied = (
        ()
        if all(map(_is_single_pole_gfci, pair.halves))
        else tuple(_with(half, tie) for half in pair.saying if _says_none(half))
    )
    words = "Use a two-pole breaker, or an identified handle tie on two breakers side by side; GFCI types must be two-pole."
    if tie is Tie.COMMON_TRIP:
        words = "Use a two-pole breaker with a common trip."
    return Violation(
        f"Circuits {first} and {second} share a neutral, and their breakers do not disconnect simultaneously.",
        remedies=(Remedy(words, tied),),
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
    return half.multiwire.is_(tie=Tie.NONE)


def _with(half: Circuit, tie: Tie) -> Operation:
    return state(half.multiwire, "tie", tie.value)
