"""How messages say what conductors carry."""

from collections import Counter
from collections.abc import Iterable

from nailplate.calc.switching import CableWiring, Net, Role, cable_name, usual_cable
from nailplate.plan import Cable
from nailplate.survey.index import Survey
from nailplate.survey.names import name_of

_NUMBERS = {1: "a", 2: "two", 3: "three", 4: "four", 5: "five", 6: "six"}
_OF_CONTROL = (Role.SWITCHED_HOT, Role.TRAVELER)


def carried_words(survey: Survey, nets: Iterable[Net]) -> str:
    """``a hot, a neutral, two travelers of 'Stair light'``."""
    counted = Counter((net.role, net.of) for net in nets)
    return ", ".join(_words(survey, role, of, number) for (role, of), number in counted.items())


def _words(survey: Survey, role: Role, of: str, number: int) -> str:
    said = f"{_NUMBERS.get(number, str(number))} {role.value}{'s' if number > 1 else ''}"
    return f"{said} of {name_of(survey.plan.controls[of])}" if role in _OF_CONTROL else said


def needed_nets(wiring: CableWiring) -> tuple[Net, ...]:
    """What a cable has to carry, a neutral that is only carried on for later left out."""
    spared = len(wiring.carried) - wiring.needs
    return tuple(net for net in wiring.carried if not (spared and net.role is Role.NEUTRAL))


def would_do(cable: Cable, needs: int) -> str:
    """The usual cable with that many insulated conductors; empty where there is none."""
    usual = usual_cable(needs)
    return "" if usual is None else cable_name(usual, cable.size if cable.knows("size") else None)
