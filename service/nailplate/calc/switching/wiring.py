"""The wiring that a layout needs: what each conductor of each cable carries, and what is joined with what in each box."""

from collections.abc import Mapping
from enum import StrEnum

from nailplate.calc.switching.layout import Layout
from nailplate.calc.switching.tree import Edges
from nailplate.records import record


class Role(StrEnum):
    """What a conductor carries."""

    HOT = "hot"
    SECOND_HOT = "second hot"
    NEUTRAL = "neutral"
    SWITCHED_HOT = "switched hot"
    TRAVELER = "traveler"
    SIGNAL = "signal"
    SPARE = "spare"


@record(frozen=True, slots=True)
class Net:
    """What is one conductor electrically: the neutral, a control's switched hot, one of its travelers, a signal.

    ``of`` names the control or signal. Travelers are numbered along their control: 1 and 2 leave the first switch, 3 and 4 the
    next. A control that opens both hots has the switched hots 1 and 2.
    """

    role: Role
    of: str = ""
    number: int = 0


HOT = Net(Role.HOT)
SECOND_HOT = Net(Role.SECOND_HOT)
NEUTRAL = Net(Role.NEUTRAL)
SPARE = Net(Role.SPARE)


@record(frozen=True, slots=True)
class Conductor:
    """One insulated conductor of a cable. A ``reidentified`` white is marked as ungrounded at both ends, 200.7(C)."""

    cable: str
    color: str
    net: Net
    reidentified: bool = False


@record(frozen=True, slots=True)
class CableWiring:
    """What a cable carries. ``needs`` is the least with which everything works; a neutral carried on beyond that is over it."""

    cable: str
    has: int | None
    needs: int
    conductors: tuple[Conductor, ...]

    @property
    def short(self) -> bool:
        """Whether the cable has too few conductors."""
        return self.has is not None and self.has < self.needs

    @property
    def carried(self) -> tuple[Net, ...]:
        """What it carries, spare conductors left out."""
        return tuple(each.net for each in self.conductors if each.net is not SPARE)

    def carries(self, net: Net) -> bool:
        """Whether one of its conductors is part of ``net``."""
        return net in self.carried


@record(frozen=True, slots=True)
class CableEnd:
    """A conductor's end in a box."""

    cable: str
    color: str


@record(frozen=True, slots=True)
class Terminal:
    """A terminal or lead of a device; of the feed, where ``device`` is empty. ``control`` tells apart those of an outlet under two."""

    device: str
    name: str
    control: str = ""


@record(frozen=True, slots=True)
class Joint:
    """What is joined in a box: a splice, a conductor on a terminal, or a conductor capped for later where it is the only one."""

    box: str
    net: Net
    ends: tuple[CableEnd | Terminal, ...]


@record(frozen=True, slots=True)
class Shortage:
    """A cable with fewer conductors than it needs, and the number of the usual cable that would do; None where there is none."""

    cable: str
    has: int
    needs: int
    usual: int | None


@record(frozen=True, slots=True)
class Wiring:
    """The whole answer. With shortages it is the wiring with the cables that would do."""

    layout: Layout
    cables: Mapping[str, CableWiring]
    joints: tuple[Joint, ...]
    orders: Mapping[str, tuple[str, ...]]
    shortages: tuple[Shortage, ...]

    @property
    def feasible(self) -> bool:
        """Whether every cable has the conductors that it needs, as far as its number is known."""
        return not self.shortages

    def joints_in(self, box: str) -> tuple[Joint, ...]:
        """What is joined in one box."""
        return tuple(joint for joint in self.joints if joint.box == box)


@record(frozen=True, slots=True)
class NotWorkedOut:
    """No answer, and why."""

    reason: str


USUAL_CABLES = (2, 3, 4)
"""Insulated conductors of the cables that are sold for branch circuits (common practice)."""


def usual_cable(needs: int) -> int | None:
    """The insulated conductors of the smallest usual cable that has this many."""
    return next((number for number in USUAL_CABLES if number >= needs), None)


def cable_name(insulated: int, size: str | None = None) -> str:
    """How the trade calls a cable: ``14-3 with ground``."""
    return f"{size.split()[0]}-{insulated} with ground" if size else f"{insulated} insulated conductors with ground"


@record(frozen=True, slots=True)
class Run:
    """A net as it lies in the layout: the cables that it takes, and the terminals that it joins, each with its box."""

    net: Net
    edges: Edges
    terminals: tuple[tuple[str, Terminal], ...]
