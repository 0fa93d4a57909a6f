"""Devices that a remedy would add, drawn as ghosts at the place that its patch gives them. They are no part of the plan."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from nailplate.plan import Level, Place, RoomPlace, WallPlace
from nailplate.plan.words import DeviceKind, Side
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.labels import Label, place
from nailplate.sheets.drawing.measures import unit_of
from nailplate.sheets.drawing.spots import Spot, of_standing, standing_at
from nailplate.sheets.drawing.svg import Point, circle, group, title
from nailplate.sheets.drawing.symbol_places import symbol_center
from nailplate.survey.index import Survey
from nailplate.units import SCALES, Dimension, QuantityError, read_quantity

_GHOST: Final = 5.4
_SHORT: Final = {DeviceKind.RECEPTACLE.value: "receptacle", DeviceKind.SMOKE_ALARM.value: "smoke alarm"}


@dataclass(frozen=True, slots=True)
class Proposal:
    """A device that a remedy adds: the number of the finding, and the device as its patch writes it."""

    number: int
    device: Mapping[str, object]


def draw_proposed(draft: Draft, survey: Survey, level: Level, proposals: Iterable[Proposal]) -> None:
    """The ghosts of one level; one place that several findings propose is drawn once."""
    numbers: dict[tuple[Point, str], tuple[list[int], Spot]] = {}
    for each in proposals:
        spot = spot_of_proposal(survey, each)
        if spot is not None and spot.level == level.id:
            kind = _SHORT.get(str(each.device.get("kind")), str(each.device.get("kind")).replace("_", " "))
            numbers.setdefault((spot.point, kind), ([], spot))[0].append(each.number)
    for (_, kind), (found, spot) in numbers.items():
        _ghost(draft, spot, kind, list(dict.fromkeys(found)))


def _ghost(draft: Draft, spot: Spot, kind: str, numbers: list[int]) -> None:
    at = draft.view(spot.point)
    into = (spot.into[0], -spot.into[1]) if spot.into else None
    center = symbol_center(draft, at, into, _GHOST)
    said = ", ".join(str(each) for each in numbers)
    words = title(f"Proposed {kind}, finding {said}; not in the plan")
    anchor = circle(at, 0.9, "np-ghost np-anchor")
    shape = circle(center, _GHOST - 0.6, "np-ghost")
    draft.draw("proposed", group(words, anchor, shape, class_="np-proposed", data_findings=said))
    draft.used["proposed"] = None
    place(draft, Label((f"proposed {kind}, {said}",), 6.0, center, _GHOST, "np-ghost-words"))


def spot_of_proposal(survey: Survey, proposal: Proposal) -> Spot | None:
    """Where a proposed device would stand; None where its patch does not say it."""
    at = proposal.device.get("at")
    place_value = _place(survey, at) if isinstance(at, Mapping) else None
    standing = standing_at(survey, place_value) if place_value is not None else None
    return of_standing(standing) if standing is not None else None


def _place(survey: Survey, at: Mapping[str, object]) -> Place | None:
    """A place as a patch writes it: ids, numbers in the plan's unit, quantities as text."""
    facts: dict[str, object] = {name: at[name] for name in ("wall", "room") if isinstance(at.get(name), str)}
    try:
        facts |= {name: _inches(survey, at[name]) for name in ("along", "height") if name in at}
        point = at.get("point")
        if isinstance(point, list | tuple) and len(point) == len(("x", "y")):
            facts["point"] = tuple(_inches(survey, each) for each in point)
    except (QuantityError, TypeError):
        return None
    if at.get("side") in (Side.LEFT.value, Side.RIGHT.value):
        facts["side"] = Side(str(at["side"]))
    pointer = survey.plan.pointer / "at"
    return WallPlace(pointer, facts) if "wall" in facts else RoomPlace(pointer, facts)


def _inches(survey: Survey, value: object) -> float:
    if isinstance(value, str):
        return read_quantity(value, Dimension.LENGTH)
    if isinstance(value, int | float):
        return float(value) * float(SCALES[unit_of(survey.plan)].factor)
    raise TypeError(value)
