"""Where the studs of a wall stand as its framing states them: a layout of the first stud and a spacing, or stud by stud (inches along)."""

import math
from bisect import bisect_left
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import UnknownFact, Wall
from nailplate.plan.trade import FRAMED_WALLS
from nailplate.plan.words import FramingMaterial
from nailplate.survey.rough_in.framed_openings import FLAT

STUDLESS: Final = (FramingMaterial.SIP, FramingMaterial.LOG)
MOST: Final = 400
"""Studs of one wall that are listed; a spacing in the wrong unit makes thousands."""


def has_studs(wall: Wall) -> bool:
    """Whether a wall is framed at all: no railing or glass, no panels or logs."""
    if wall.kind not in FRAMED_WALLS:
        return False
    return not (wall.knows("framing") and wall.framing.is_among(material=STUDLESS))


def states_studs(wall: Wall) -> bool:
    """Whether the plan says where the studs of a wall stand."""
    framing = wall.framing if wall.knows("framing") else None
    return framing is not None and (framing.knows("studs") or framing.knows("first_stud", "spacing"))


def stated_near(wall: Wall, along: float) -> tuple[float, ...]:
    """Centers of the stated studs on both sides of a place. Raises UnknownFact where the plan states none."""
    framing, length = wall.framing, geometry.length_of((wall.start, wall.end))
    if not states_studs(wall):
        raise UnknownFact(framing.where("spacing" if framing.knows("first_stud") else "first_stud"))
    found: list[float] = []
    if framing.knows("first_stud", "spacing"):
        steps = max(0, math.floor((along - framing.first_stud) / framing.spacing))
        found += [framing.first_stud + number * framing.spacing for number in (steps, steps + 1)]
    if framing.knows("studs"):
        row = sorted(framing.studs)
        at = bisect_left(row, along)
        found += row[max(0, at - 1) : at + 1]
    return tuple(sorted(each for each in found if each <= length))


def stud_centers(wall: Wall) -> tuple[float, ...]:
    """Every stud's center: as stated, else from the spacing counted from the ``from`` end; empty where the plan tells neither."""
    framing = wall.framing if wall.knows("framing") and has_studs(wall) else None
    if framing is None or not (framing.knows("spacing") or framing.knows("studs")):
        return ()
    length = geometry.length_of((wall.start, wall.end))
    found: set[float] = set(framing.studs) if framing.knows("studs") else set()
    if framing.knows("spacing") and (framing.knows("first_stud") or not framing.knows("studs")):
        first = framing.first_stud if framing.knows("first_stud") else framing.spacing
        number = min(max(0, math.floor((length - first) / framing.spacing) + 1), MOST)
        found |= {first + step * framing.spacing for step in range(number)}
    return (FLAT / 2, *sorted(each for each in found if FLAT < each < length - FLAT), length - FLAT / 2)
