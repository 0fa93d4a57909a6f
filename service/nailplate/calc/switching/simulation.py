"""Throws every switch of a wiring into every position and looks what is live, by contacts and joints alone.

Nothing here knows what a conductor is meant to carry: conductors and terminals that are joined are one point, a closed contact
makes two points one, and an outlet is live where its two terminals lead to the feed's hot and to its way back.
"""

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from nailplate.calc.steps import CalculationError
from nailplate.calc.switching.layout import Layout, Supply, Switch
from nailplate.calc.switching.runs import SWITCHED_TERMINAL
from nailplate.calc.switching.wiring import CableEnd, Terminal, Wiring
from nailplate.plan.words import Ways

MOST_SWITCHES = 10
"""Every further switch doubles the table."""

Contact = tuple[str, str]
_POLES = {Ways.SINGLE_POLE: (("line", "load"),), Ways.DOUBLE_POLE: (("line 1", "load 1"), ("line 2", "load 2"))}
_CROSSED: dict[Ways, tuple[tuple[Contact, ...], tuple[Contact, ...]]] = {
    Ways.THREE_WAY: ((("common", "traveler 1"),), (("common", "traveler 2"),)),
    Ways.FOUR_WAY: ((("in 1", "out 1"), ("in 2", "out 2")), (("in 1", "out 2"), ("in 2", "out 1"))),
}


def contacts(kind: Ways, position: int) -> tuple[Contact, ...]:
    """The terminals that a switch joins in position 0 or 1; a single-pole switch is open at 0."""
    if kind in _CROSSED:
        return _CROSSED[kind][position]
    return _POLES[kind] if position else ()


@dataclass(frozen=True, slots=True)
class Row:
    """One combination of positions, in the layout's order of switches, and what it gives, in its order of outlets."""

    positions: tuple[int, ...]
    live: tuple[bool, ...]
    shorted: bool


def truth_table(wiring: Wiring) -> tuple[Row, ...]:
    """Every combination of positions. Raises CalculationError where there are too many switches."""
    switches = tuple(wiring.layout.switches)
    if len(switches) > MOST_SWITCHES:
        raise CalculationError(f"a table of positions is made for {MOST_SWITCHES} switches at most; there are {len(switches)}")
    still = _Points()
    for one, other in _joined(wiring):
        still.join(one, other)
    return tuple(_row(wiring.layout, switches, positions, still) for positions in product((0, 1), repeat=len(switches)))


def _row(layout: Layout, switches: Sequence[Switch], positions: tuple[int, ...], still: "_Points") -> Row:
    points = still.copy()
    for switch, position in zip(switches, positions, strict=True):
        for one, other in contacts(switch.kind, position):
            points.join(Terminal(switch.id, one), Terminal(switch.id, other))
    return Row(positions, tuple(_live(layout, points)), _shorted(points))


def _live(layout: Layout, points: "_Points") -> Iterator[bool]:
    for control in layout.controls:
        for outlet in control.outlets:
            switched = points.of(Terminal(outlet.id, SWITCHED_TERMINAL, control.id))
            back = points.of(Terminal(outlet.id, outlet.back.value, control.id))
            yield switched == points.of(_feed(control.hot)) and back == points.of(_feed(outlet.back))


def _shorted(points: "_Points") -> bool:
    """A point that was never joined with anything stands alone, so a conductor that is not used is no short."""
    return len({points.of(_feed(supply)) for supply in Supply}) < len(Supply)


def _feed(supply: Supply) -> Terminal:
    return Terminal("", supply.value)


def _joined(wiring: Wiring) -> Iterator[tuple[Hashable, Hashable]]:
    for joint in wiring.joints:
        ends = [(joint.box, end) if isinstance(end, CableEnd) else end for end in joint.ends]
        yield from ((ends[0], other) for other in ends[1:])
    for cable in wiring.layout.cables:
        one, other = cable.ends
        for conductor in wiring.cables[cable.id].conductors:
            end = CableEnd(cable.id, conductor.color)
            yield (one, end), (other, end)


class _Points:
    """Which ends and terminals are one point."""

    def __init__(self) -> None:
        self._above: dict[Hashable, Hashable] = {}

    def copy(self) -> "_Points":
        """The same points, to be joined further."""
        other = _Points()
        other._above = dict(self._above)
        return other

    def of(self, end: Hashable) -> Hashable:
        """What stands for the point of an end or terminal."""
        while (above := self._above.setdefault(end, end)) != end:
            self._above[end] = self._above[above]
            end = above
        return end

    def join(self, one: Hashable, other: Hashable) -> None:
        """Makes two points one."""
        self._above[self.of(one)] = self.of(other)
