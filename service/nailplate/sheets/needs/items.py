"""The part of a report that answers the owner's needs: which outlet serves each, and what runs at once on which circuit."""

from dataclasses import dataclass
from typing import Literal

from nailplate.plan import Pointer
from nailplate.units import Measure

NeedAnswer = Literal["served", "reserved", "no_outlet", "not_decided"]


@dataclass(frozen=True, slots=True)
class NeedServed:
    """One of what will be used. ``reserved``: it comes later, and the outlet is kept for it.

    ``way`` is the way of the cord along the floor; heights are left out, so the cord needs some more. Without an outlet it is the way to the
    nearest receptacle, where one was found.
    """

    at: Pointer
    what: str
    room: str
    answer: NeedAnswer
    cord: Measure
    words: str
    number: int = 1
    outlet: Pointer | None = None
    circuit: Pointer | None = None
    way: Measure | None = None
    power: Measure | None = None
    needs: tuple[Pointer, ...] = ()


@dataclass(frozen=True, slots=True)
class CircuitUse:
    """What would run at once on a circuit: what is drawn on it, the needs it serves, and those that come later, against its breaker."""

    at: Pointer
    name: str
    drawn: Measure
    now: Measure
    later: Measure
    words: str
    breaker: Measure | None = None
    fits: bool | None = None
    needs: tuple[Pointer, ...] = ()


@dataclass(frozen=True, slots=True)
class NeedsAnswered:
    """The owner's needs answered. ``left_out`` counts those past the most that are answered."""

    items: tuple[NeedServed, ...]
    circuits: tuple[CircuitUse, ...]
    left_out: int = 0
