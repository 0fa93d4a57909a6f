"""Multiwire branch circuits: pairs of circuits that share a neutral, as circuits say it or as their cables show it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from nailplate.plan import Cable, Circuit, Pointer
from nailplate.plan.words import Tie
from nailplate.survey.index import Survey
from nailplate.survey.wiring.wiring_nodes import is_power_cable

SHARED_NEUTRAL: Final = 3
"""Insulated conductors of a cable in which two circuits can only share one neutral; four make two pairs."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two circuits that share a neutral, in the plan's order. ``shared`` are the cables that are drawn to carry both.

    ``unsaid`` tells what is missing where it is only cables that say so, and they may hold a neutral for each.
    """

    first: Circuit
    second: Circuit
    shared: tuple[Cable, ...]
    unsaid: tuple[Pointer, ...]

    @property
    def halves(self) -> tuple[Circuit, Circuit]:
        """Both circuits."""
        return self.first, self.second

    @property
    def saying(self) -> tuple[Circuit, ...]:
        """The halves that name the other as their partner."""
        return tuple(half for half in self.halves if half.knows("multiwire") and half.multiwire.partner == self.other(half).id)

    def other(self, circuit: Circuit) -> Circuit:
        """The partner of one of them."""
        return self.second if circuit is self.first else self.first


def pairs_begun_by(survey: Survey, circuit: Circuit) -> tuple[Pair, ...]:
    """The multiwire pairs of which a circuit is the first in the document, so that each pair is told of once."""
    return tuple(pair for pair in survey.once(_pairs_by_circuit).get(circuit.id, ()) if pair.first is circuit)


def pairs_of(survey: Survey, circuit: Circuit) -> tuple[Pair, ...]:
    """Every multiwire pair that a circuit is one half of."""
    return survey.once(_pairs_by_circuit).get(circuit.id, ())


def _pairs_by_circuit(survey: Survey) -> Mapping[str, tuple[Pair, ...]]:
    found: dict[str, list[Pair]] = {}
    for pair in _pairs(survey):
        for circuit_id in dict.fromkeys(half.id for half in pair.halves):
            found.setdefault(circuit_id, []).append(pair)
    return {circuit_id: tuple(pairs) for circuit_id, pairs in found.items()}


def _pairs(survey: Survey) -> Iterator[Pair]:
    order = {circuit_id: place for place, circuit_id in enumerate(survey.plan.circuits)}
    named = [(each.id, each.multiwire.partner) for each in survey.plan.circuits.values() if each.knows("multiwire")]
    cables = _cables_for_two(survey, order)
    said = {_in_order(pair, order) for pair in named}
    for pair in dict.fromkeys((*(_in_order(each, order) for each in named), *cables)):
        shared = cables.get(pair, [])
        unsaid = () if pair in said else _unsaid(shared)
        if pair in said or unsaid or any(_shares(cable) for cable in shared):
            yield Pair(survey.plan.circuits[pair[0]], survey.plan.circuits[pair[1]], tuple(shared), unsaid)


def _in_order(pair: tuple[str, str], order: Mapping[str, int]) -> tuple[str, str]:
    one, other = sorted(pair, key=order.__getitem__)
    return one, other


def _cables_for_two(survey: Survey, order: Mapping[str, int]) -> dict[tuple[str, str], list[Cable]]:
    found: dict[tuple[str, str], list[Cable]] = {}
    for cable in survey.plan.cables.values():
        two = is_power_cable(cable) and cable.knows("circuit", "second_circuit") and cable.circuit != cable.second_circuit
        if two:
            found.setdefault(_in_order((cable.circuit, cable.second_circuit), order), []).append(cable)
    return found


def _shares(cable: Cable) -> bool:
    return cable.knows("insulated") and cable.insulated == SHARED_NEUTRAL


def _unsaid(shared: list[Cable]) -> tuple[Pointer, ...]:
    if any(_shares(cable) for cable in shared):
        return ()
    return tuple(cable.where("insulated") for cable in shared if not cable.knows("insulated"))


# What opens together


def ties_of(pair: Pair) -> tuple[Tie, ...]:
    """What both halves say opens them together; one two-pole breaker in the same spaces says it by itself."""
    said = [half.multiwire.tie for half in pair.saying if half.multiwire.knows("tie")]
    return tuple(said) if said or not _one_breaker(pair) else (Tie.COMMON_TRIP,)


def _one_breaker(pair: Pair) -> bool:
    first, second = pair.halves
    two_pole = all(
        half.knows("breaker") and half.breaker.knows("poles") and half.breaker.poles == len(pair.halves) for half in pair.halves
    )
    return two_pole and all(half.knows("position") for half in pair.halves) and set(first.position) == set(second.position)


def opens_together(survey: Survey, circuits: Sequence[Circuit]) -> bool:
    """Whether one handle opens every one of these circuits, or should: that a multiwire pair is tied is a rule by itself."""
    first, *others = circuits
    return all(each.id in survey.once(_opened_with, first.id) for each in others)


def _opened_with(survey: Survey, circuit_id: str) -> frozenset[str]:
    circuit = survey.plan.circuits[circuit_id]
    found = {pair.other(circuit).id for pair in pairs_of(survey, circuit) if not pair.unsaid}
    found |= {each.tied.circuit for each in (circuit,) if _is_tied(each)}
    naming = survey.once(_naming_as_tied).get(circuit_id, ())
    return frozenset(found | set(naming))


def _naming_as_tied(survey: Survey) -> Mapping[str, list[str]]:
    found: dict[str, list[str]] = {}
    for circuit in survey.plan.circuits.values():
        if _is_tied(circuit):
            found.setdefault(circuit.tied.circuit, []).append(circuit.id)
    return found


def _is_tied(circuit: Circuit) -> bool:
    return circuit.knows("tied") and circuit.tied.tie is not Tie.NONE
