"""How circuits and controls are called on a drawing: a circuit by its breaker's spaces, a control by a letter."""

from collections.abc import Mapping
from string import ascii_lowercase
from typing import Final

from nailplate.plan import Circuit, Device
from nailplate.plan.words import Protects
from nailplate.survey.index import Survey
from nailplate.units import amperes, shown

_LONGEST_ID: Final = 14


def circuit_tag(survey: Survey, circuit: Circuit) -> str:
    """A circuit's tag: its spaces (``2,4``) with a letter for its panel where several panels have circuits, else its id."""
    return survey.once(_circuit_tags)[circuit.id]


def _circuit_tags(survey: Survey) -> Mapping[str, str]:
    circuits = survey.plan.circuits
    panels = list(dict.fromkeys(each.panel for each in circuits.values() if each.knows("panel")))
    letters = {panel: f"{_letter(number).upper()}-" if len(panels) > 1 else "" for number, panel in enumerate(panels)}
    return {name: _circuit_tag(circuit, letters) for name, circuit in circuits.items()}


def _circuit_tag(circuit: Circuit, letters: Mapping[str, str]) -> str:
    if not circuit.knows("position"):
        return circuit.id[:_LONGEST_ID]
    spaces = ",".join(str(each) for each in circuit.position)
    return f"{letters[circuit.panel] if circuit.knows('panel') else ''}{spaces}"


def breaker_words(circuit: Circuit) -> str:
    """A circuit's breaker in few words: ``20 A 1P GFCI``; nothing where the plan states none."""
    if not circuit.knows("breaker"):
        return "breaker not stated"
    breaker = circuit.breaker
    found = [shown(amperes(breaker.rating))] if breaker.knows("rating") else []
    found += [f"{breaker.poles}P"] if breaker.knows("poles") else []
    found += [_PROTECTS[breaker.protects]] if breaker.knows("protects") and breaker.protects in _PROTECTS else []
    return " ".join(found)


_PROTECTS: Final = {Protects.GFCI: "GFCI", Protects.AFCI: "AFCI", Protects.DUAL: "AFCI/GFCI"}


def control_letters(survey: Survey, device: Device) -> str:
    """The letters of the controls that a device has a part in, as switch or as outlet."""
    letters = survey.once(_control_letters)
    return "".join(letters[each.id] for each in survey.controls_of.get(device.id, [])[:_MOST_LETTERS])


_MOST_LETTERS: Final = 4


def _control_letters(survey: Survey) -> Mapping[str, str]:
    return {name: _letter(number) for number, name in enumerate(survey.plan.controls)}


def _letter(number: int) -> str:
    """a to z, then aa, ab and so on."""
    found = ""
    while True:
        number, last = divmod(number, len(ascii_lowercase))
        found = ascii_lowercase[last] + found
        if not number:
            return found
        number -= 1
