"""What is known before wiring is worked out: boxes joined by cables, where the feed arrives, what switches what, what is always on.

Names are the caller's. The feed is a box or panel of the layout; hot, second hot and neutral arrive there as far as they are used.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from nailplate.plan.words import Ways


class Supply(StrEnum):
    """What a circuit brings to the feed."""

    HOT = "hot"
    SECOND_HOT = "second hot"
    NEUTRAL = "neutral"


@dataclass(frozen=True, slots=True)
class Cable:
    """A cable between two boxes. ``insulated`` is None where it is not known; ``length`` weighs its copper."""

    id: str
    ends: tuple[str, str]
    insulated: int | None = None
    length: float = 1.0
    white_marked: bool = False
    raceway: bool = False


@dataclass(frozen=True, slots=True)
class Switch:
    """A switch in a box."""

    id: str
    box: str
    kind: Ways = Ways.SINGLE_POLE


@dataclass(frozen=True, slots=True)
class Outlet:
    """What a control makes live; its current goes back by the neutral, or by the second hot of a circuit of two hots."""

    id: str
    box: str
    back: Supply = Supply.NEUTRAL


@dataclass(frozen=True, slots=True)
class Control:
    """Switches that work together on outlets, and the hot that they take."""

    id: str
    switches: tuple[Switch, ...]
    outlets: tuple[Outlet, ...]
    hot: Supply = Supply.HOT


@dataclass(frozen=True, slots=True)
class Load:
    """What is always on: it needs these of the supply's conductors."""

    id: str
    box: str
    needs: tuple[Supply, ...] = (Supply.HOT, Supply.NEUTRAL)


@dataclass(frozen=True, slots=True)
class Signal:
    """A conductor of its own that joins these devices, each given with its box: the interconnection of smoke alarms."""

    id: str
    joins: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """One circuit, or a multiwire pair, as drawn.

    A neutral must reach the boxes ``neutral_at``; one that is used at all should reach ``neutral_wished`` too, where the cables have
    a conductor to spare.
    """

    feed: str
    boxes: tuple[str, ...]
    cables: tuple[Cable, ...] = ()
    controls: tuple[Control, ...] = ()
    loads: tuple[Load, ...] = ()
    signals: tuple[Signal, ...] = ()
    neutral_at: tuple[str, ...] = ()
    neutral_wished: tuple[str, ...] = ()

    @property
    def switches(self) -> Iterator[Switch]:
        """Every switch, control by control."""
        return (switch for control in self.controls for switch in control.switches)
