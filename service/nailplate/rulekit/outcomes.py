"""What a rule answers about one part: pass, violation, undetermined, judgement or not concerned.

A rule returns one outcome, or several where a part has several places to judge (a room and its wall spaces); each of several
carries a ``facet`` that names its place by ids of the plan, so that a finding keeps its fingerprint when other parts change.
"""

from typing import Literal

from nailplate.plan import Pointer
from nailplate.records import record
from nailplate.remedies import Remedy
from nailplate.units import Measure


@record(frozen=True, slots=True)
class Line:
    """One line of the count behind a figure: what, how many, each, together, and the section that says so."""

    what: str
    how_many: float
    each: Measure
    subtotal: Measure
    section: str


@record(frozen=True, slots=True)
class Pass:
    """The part meets the requirement."""

    measured: Measure | None = None
    limit: Measure | None = None
    facet: str = ""


@record(frozen=True, slots=True)
class NotConcerned:
    """The requirement does not speak of this part."""

    facet: str = ""


@record(frozen=True, slots=True)
class Violation:
    """The part, as drawn, does not meet the requirement.

    ``at`` is the part or fact the finding is about where that is not the judged part itself; ``related`` are further pointers;
    ``stretch`` are points along the wall or counter that it is about, from one end to the other (inches).
    """

    message: str
    measured: Measure | None = None
    limit: Measure | None = None
    remedies: tuple[Remedy, ...] = ()
    lines: tuple[Line, ...] = ()
    facet: str = ""
    at: Pointer | None = None
    related: tuple[Pointer, ...] = ()
    stretch: tuple[tuple[float, float], ...] = ()


@record(frozen=True, slots=True)
class Undetermined:
    """A fact is missing without which nothing can be said; ``needs`` are the pointers where it would stand."""

    needs: tuple[Pointer, ...]
    message: str = ""
    facet: str = ""
    at: Pointer | None = None
    lines: tuple[Line, ...] = ()


@record(frozen=True, slots=True)
class Reading:
    """One way to read the words of the code, and what it would give here."""

    words: str
    gives: Literal["pass", "violation"]


@record(frozen=True, slots=True)
class Judgement:
    """The words of the code can be read two ways here; the authority having jurisdiction decides."""

    message: str
    readings: tuple[Reading, Reading]
    measured: Measure | None = None
    limit: Measure | None = None
    remedies: tuple[Remedy, ...] = ()
    facet: str = ""
    at: Pointer | None = None
    related: tuple[Pointer, ...] = ()
    stretch: tuple[tuple[float, float], ...] = ()
    lines: tuple[Line, ...] = ()


Outcome = Pass | NotConcerned | Violation | Undetermined | Judgement
