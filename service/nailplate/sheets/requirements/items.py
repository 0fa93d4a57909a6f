"""The part of a report that says what this house needs, room by room and for the house, and which part meets it already."""

from typing import Literal

from nailplate.codes import TextStatus
from nailplate.plan import Pointer
from nailplate.records import record
from nailplate.units import Measure

RequiredTopic = Literal["receptacles", "lights", "controls", "alarms", "circuits", "appliances", "panel", "protection"]
Met = Literal["yes", "no", "unknown"]


@record(frozen=True, slots=True)
class Said:
    """What a rule answered about one place, and where the code in force says so."""

    rule: str
    part: Pointer
    outcome: object
    section: str
    text_status: TextStatus


@record(frozen=True, slots=True)
class RequiredPlace:
    """A place where it may go, or at which it must be reached: the part it is at, in words, and its place as a plan writes it."""

    at: Pointer
    words: str
    position: object = None


@record(frozen=True, slots=True)
class Requirement:
    """One thing that the house needs. ``room`` is left out for what concerns the house as a whole.

    ``met`` is ``unknown`` where facts are missing or the authority having jurisdiction decides; ``by`` names the parts that meet it.
    """

    topic: RequiredTopic
    at: Pointer
    where: str
    what: str
    section: str
    text_status: TextStatus
    met: Met
    room: str | None = None
    rule: str | None = None
    how_many: int | None = None
    to_add: int | None = None
    places: tuple[RequiredPlace, ...] = ()
    by: tuple[Pointer, ...] = ()
    needs: tuple[Pointer, ...] = ()


@record(frozen=True, slots=True)
class LoadMover:
    """Something that is not drawn and would add to the load; ``section`` is where the code says how much, if it does."""

    what: str
    adds: Measure
    section: str | None = None


@record(frozen=True, slots=True)
class LoadRange:
    """The load as far as it can be told: from the least of the methods as drawn, to the most with everything that could come."""

    least: Measure
    most: Measure
    moves: tuple[LoadMover, ...]


@record(frozen=True, slots=True)
class Requirements:
    """What the house needs. ``left_out`` counts items past the most that are listed; ``load`` is none where it is not worked out."""

    items: tuple[Requirement, ...]
    load: LoadRange | None = None
    left_out: int = 0
