"""The poles of a panel's breakers: two-pole breakers and 240 V circuits are on both legs, one space above the other."""

from collections.abc import Iterator

from nailplate.plan import Circuit, Panel
from nailplate.plan.trade import TWO_LEGS
from nailplate.rulekit import Judgement, Outcome, Reading, Remedy, Violation
from nailplate.survey.names import name_of
from nailplate.units import reaches, shown, volts

_NEXT = 2
"""Spaces are numbered odd on the left and even on the right, and legs take turns downwards (common practice)."""


def poles_of(circuit: Circuit) -> int | None:
    """The poles of a circuit's breaker, by its spaces or by its own word; None where neither is stated."""
    stated = circuit.breaker.poles if circuit.knows("breaker") and circuit.breaker.knows("poles") else None
    return max(len(circuit.position), stated or 0) if circuit.knows("position") else stated


def on_two_legs(panel: Panel, circuits: list[Circuit]) -> Iterator[Outcome]:
    """A circuit of 240 V, or with a two-pole breaker, that is not on both legs, told of the panel."""
    for circuit in circuits:
        wide = circuit.knows("voltage") and reaches(circuit.voltage, TWO_LEGS)
        if wide and circuit.knows("legs") and len(set(circuit.legs)) == 1:
            yield _on_one_leg(circuit, f"shown on leg {circuit.legs[0].value} alone, where it has no voltage between its hots")
        elif wide and poles_of(circuit) == 1:
            yield _on_one_leg(circuit, "on a breaker of one pole, which leaves its other hot on")
        elif poles_of(circuit) == _NEXT and circuit.knows("position"):
            yield from _in_spaces(panel, circuit)


def _on_one_leg(circuit: Circuit, how: str) -> Violation:
    return _wrong(circuit, f"{name_of(circuit)} is for {shown(volts(circuit.voltage))} and {how}.")


def _wrong(circuit: Circuit, said: str) -> Violation:
    remedies = (Remedy("Give it a two-pole breaker on both legs, in two spaces one above the other."),)
    return Violation(said, remedies=remedies, facet=f"legs {circuit.id}", related=(circuit.pointer,))


def _in_spaces(panel: Panel, circuit: Circuit) -> Iterator[Outcome]:
    """In a panel of two spaces both are taken, however they are numbered."""
    if len(circuit.position) == 1:
        yield _wrong(
            circuit, f"{name_of(circuit)} has a two-pole breaker in one space, {circuit.position[0]}: both poles on one leg."
        )
        return
    first, second = sorted(circuit.position)
    if second - first == _NEXT or (panel.knows("spaces") and panel.spaces <= _NEXT):
        return
    said = f"{name_of(circuit)} has a two-pole breaker in spaces {first} and {second}"
    if second - first != 1:
        yield _wrong(circuit, f"{said}, which are not next to each other.")
        return
    readings = (
        Reading(
            "Spaces are numbered odd on the left and even on the right: the two face each other, on the same leg.", "violation"
        ),
        Reading("They are numbered down one side: the two are neighbors on opposite legs.", "pass"),
    )
    yield Judgement(f"{said}.", readings, facet=f"legs {circuit.id}", related=(circuit.pointer,))
