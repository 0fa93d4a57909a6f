"""The part of a report that says what to do and to look at before cover-up: by wall, box, cable and panel, with figures."""

from typing import Literal

from nailplate.plan import Pointer
from nailplate.records import record
from nailplate.units import Measure

Topic = Literal[
    "holes", "plates", "side_by_side", "drill_lines", "keep_clear", "studs", "boxes", "supports", "bends", "slack", "foam"
]


@record(frozen=True, slots=True)
class SiteFigure:
    """A figure to work to."""

    what: str
    value: Measure


@record(frozen=True, slots=True)
class SiteItem:
    """One thing to do or look at, and where: pointers and, in the same order, what people call the places.

    ``section`` says where the code requires it; an item without one is common practice.
    """

    topic: Topic
    at: tuple[Pointer, ...]
    where: tuple[str, ...]
    do: str
    figures: tuple[SiteFigure, ...] = ()
    section: str | None = None


@record(frozen=True, slots=True)
class SiteList:
    """What follows from walls, boxes and cables as drawn, for the person on site. ``left_out`` counts items past the most listed."""

    items: tuple[SiteItem, ...]
    left_out: int = 0


def many(number: int, what: str) -> str:
    """``1 plate``, ``2 plates``."""
    return f"{number} {what}{'' if number == 1 else 's'}"
