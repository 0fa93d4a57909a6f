"""Judging several places of one part or of the plan: each by itself, so that a fact left out holds up no other place."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import Concatenate, ParamSpec, TypeVar

from nailplate.plan import Part, Pointer, UnknownFact
from nailplate.rulekit.outcomes import NotConcerned, Outcome, Pass, Undetermined

Judged = TypeVar("Judged", bound=Part)
More = ParamSpec("More")


def each_of(
    parts: Iterable[Judged],
    judge: Callable[Concatenate[Judged, More], Outcome | Iterable[Outcome]],
    *args: More.args,
    **kwargs: More.kwargs,
) -> Iterator[Outcome]:
    """What ``judge`` says of each part: told at the part, its id for a facet; undetermined where a fact of it is missing."""
    for part in parts:
        yield from at_place(part.id, part.pointer, judge, part, *args, **kwargs)


def at_place(
    facet: str,
    at: Pointer | None,
    judge: Callable[More, Outcome | Iterable[Outcome]],
    *args: More.args,
    **kwargs: More.kwargs,
) -> Iterator[Outcome]:
    """What ``judge`` says of one place, with the facet and pointer of the place where an outcome states none itself.

    A missing fact is undetermined there. ``at`` is None where the place is told at the part that the rule judges.
    """
    try:
        said = judge(*args, **kwargs)
        outcomes = [said] if isinstance(said, Outcome) else list(said)
    except UnknownFact as unknown:
        outcomes = [Undetermined((unknown.pointer,))]
    yield from (_placed(outcome, facet, at) for outcome in outcomes)


def with_facet(outcome: Outcome, facet: str) -> Outcome:
    """The same outcome with that facet. Most outcomes of a check come by here, so the plain ones are made straight."""
    if isinstance(outcome, NotConcerned):
        return NotConcerned(facet)
    if isinstance(outcome, Pass):
        return Pass(outcome.measured, outcome.limit, facet)
    return replace(outcome, facet=facet)


def _placed(outcome: Outcome, facet: str, at: Pointer | None) -> Outcome:
    if isinstance(outcome, Pass | NotConcerned):
        return outcome if outcome.facet else with_facet(outcome, facet)
    return replace(outcome, facet=outcome.facet or facet, at=outcome.at or at)
