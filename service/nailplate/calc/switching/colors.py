"""The color of each conductor of a cable, and the white that has to be marked where it is no neutral (200.6, 200.7).

Colors beyond white are no matter of the code but of what cables are made of (common practice).
"""

from collections.abc import Iterator

from nailplate.calc.switching.layout import Cable
from nailplate.calc.switching.wiring import NEUTRAL, SPARE, USUAL_CABLES, Conductor, Net, Role

WHITE = "white"
_COLORS = ("black", "red", "blue", "yellow", "brown", "orange", "purple", "pink")
_DARK_FIRST = (Role.HOT, Role.SWITCHED_HOT, Role.TRAVELER, Role.SECOND_HOT, Role.SIGNAL, Role.SPARE)
_WHITE_FIRST = (Role.SECOND_HOT, Role.HOT, Role.TRAVELER, Role.SIGNAL, Role.SWITCHED_HOT)
"""200.7(C)(1): a white in a switch loop is the supply to the switch, not the return from it to the light."""


def conductors_of(cable: Cable, nets: tuple[Net, ...]) -> tuple[Conductor, ...]:
    """The conductors of ``cable``, as many as it has or as ``nets`` need, each with what it carries."""
    number = max(cable.insulated or 0, len(nets), USUAL_CABLES[0])
    carried = (*nets, *(SPARE,) * (number - len(nets)))
    white = None if cable.raceway and NEUTRAL not in nets else _on_white(cable, carried)
    dark = sorted(_without(carried, white), key=lambda net: _DARK_FIRST.index(net.role))
    found = [] if white is None else [Conductor(cable.id, WHITE, white, reidentified=white not in (NEUTRAL, SPARE))]
    found += [Conductor(cable.id, color, net) for color, net in zip(_colors(len(dark)), dark, strict=True)]
    return tuple(sorted(found, key=lambda each: each.color == WHITE))


def _on_white(cable: Cable, carried: tuple[Net, ...]) -> Net:
    if NEUTRAL in carried:
        return NEUTRAL
    if SPARE in carried and (not cable.white_marked or all(net is SPARE for net in carried)):
        return SPARE
    return min((net for net in carried if net is not SPARE), key=lambda net: _WHITE_FIRST.index(net.role))


def _without(carried: tuple[Net, ...], white: Net | None) -> list[Net]:
    left = list(carried)
    if white is not None:
        left.remove(white)
    return left


def _colors(number: int) -> Iterator[str]:
    yield from _COLORS[:number]
    for extra in range(len(_COLORS), number):
        yield f"{_COLORS[extra % len(_COLORS)]} {extra // len(_COLORS) + 1}"
