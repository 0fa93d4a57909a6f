"""How long cables are: as pulled, else along the route as drawn, else along one derived through the framing, else as estimated."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import Final

from nailplate.plan import Cable, Ceiling, Circuit, Level, Segment, UnknownFact
from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, standing
from nailplate.survey.routing import route_of
from nailplate.survey.wiring.circuit_trees import circuit_tree
from nailplate.survey.wiring.wiring_nodes import Node, ends_of, part_at
from nailplate.units import Inches, reaches

MAKEUP: Final = 12.0
"""Inches of cable for makeup at each end of an estimated run (common practice)."""


class LengthFrom(StrEnum):
    """Where a length comes from, the surest first."""

    STATED = "stated"
    ROUTE = "route"
    DERIVED = "derived"
    ESTIMATED = "estimated"


@dataclass(frozen=True, slots=True)
class CableLength:
    """A length of cable, one way.

    A derived one follows a route worked out between the cable's ends; where walls and ceilings do not tell one, an estimated one goes
    at right angles, up to the ceiling and down again.
    """

    inches: Inches
    source: LengthFrom

    def plus(self, other: "CableLength") -> "CableLength":
        """Both one after the other; no surer than the less sure of them."""
        ranks = list(LengthFrom)
        return CableLength(Inches(self.inches + other.inches), max(self.source, other.source, key=ranks.index))


NOTHING: Final = CableLength(Inches(0.0), LengthFrom.STATED)


def cable_length(survey: Survey, cable: Cable) -> CableLength:
    """The length of a cable. Raises UnknownFact where it is not stated and neither route nor places tell it."""
    kept = survey.shelf(_cable_length)
    found = kept.get(cable)
    if found is None:
        found = kept[cable] = _cable_length(survey, cable)
    return found


def _cable_length(survey: Survey, cable: Cable) -> CableLength:
    drawn = _drawn(cable)
    if cable.knows("length") and (drawn is None or reaches(cable.length, drawn)):
        return CableLength(cable.length, LengthFrom.STATED)
    if drawn is not None:
        return CableLength(drawn, LengthFrom.ROUTE)
    length = route_of(survey, cable).length
    return CableLength(length, LengthFrom.DERIVED) if length is not None else _estimated(survey, cable)


def _drawn(cable: Cable) -> Inches | None:
    """Along the whole route, which no cable is shorter than, whatever length is stated; None where it is not drawn."""
    if not cable.knows("route") or not cable.route or not all(each.knows("points") for each in cable.route):
        return None
    return Inches(sum(_segment_length(each) for each in cable.route))


def lengths_from_panel(survey: Survey, circuit: Circuit) -> Mapping[Node, CableLength | UnknownFact]:
    """The length of cable from the panel to every node that a circuit feeds, or the fact without which it is not known."""
    return survey.once(_lengths, circuit.id)


def _lengths(survey: Survey, circuit_id: str) -> Mapping[Node, CableLength | UnknownFact]:
    found: dict[Node, CableLength | UnknownFact] = {}
    for node, step in circuit_tree(survey, survey.plan.circuits[circuit_id]).steps.items():
        before = found[step.upstream] if step.upstream is not None else NOTHING
        found[node] = _longer(survey, before, step.cable)
    return found


def _longer(survey: Survey, before: CableLength | UnknownFact, cable: Cable | None) -> CableLength | UnknownFact:
    if cable is None or isinstance(before, UnknownFact):
        return before
    try:
        return before.plus(cable_length(survey, cable))
    except UnknownFact as unknown:
        return unknown


def _segment_length(segment: Segment) -> float:
    """Along its points; heights count where every point has one."""
    heights = segment.heights if segment.knows("heights") and len(segment.heights) == len(segment.points) else None
    points = [(*point, heights[place] if heights else 0.0) for place, point in enumerate(segment.points)]
    return sum(math.dist(one, other) for one, other in pairwise(points))


# Estimated along framing


def _estimated(survey: Survey, cable: Cable) -> CableLength:
    """At right angles between both ends, over the ceiling where one is drawn, else at the height of the higher end."""
    one, other = (standing(survey, part_at(survey, node)) for node in ends_of(survey, cable))
    across = sum(abs(a - b) for a, b in zip(one.point, other.point, strict=True))
    ends = [_elevation(survey, each) + each.height for each in (one, other)]
    top = max(*ends, *(_ceiling(survey, each) for each in (one, other)))
    return CableLength(Inches(across + sum(top - end for end in ends) + 2 * MAKEUP), LengthFrom.ESTIMATED)


def _elevation(survey: Survey, at: Standing) -> float:
    level = survey.plan.levels[at.level]
    return level.elevation if len(survey.plan.levels) > 1 else 0.0


def _ceiling(survey: Survey, at: Standing) -> float:
    """The height that a run over this place lies at; below the end itself where no ceiling is drawn."""
    level: Level = survey.plan.levels[at.level]
    for part in (at.room, level):
        if part is not None and part.knows("ceiling"):
            return _elevation(survey, at) + _highest(part.ceiling)
    return -math.inf


def _highest(ceiling: Ceiling) -> float:
    if ceiling.knows("height"):
        return ceiling.height
    return max(line.height for line in ceiling.profile)
