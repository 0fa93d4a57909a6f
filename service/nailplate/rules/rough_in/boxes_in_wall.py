"""The box on the other side of a wall that is nearest to one."""

from bisect import bisect_left
from collections.abc import Mapping, Sequence

from nailplate.plan import Box, WallPlace
from nailplate.plan.words import Side
from nailplate.survey import Survey

Row = Sequence[tuple[float, str, Box]]
"""Boxes of one side of a wall by how far along it they are."""


def nearest_opposite(survey: Survey, place: WallPlace) -> tuple[float, Box] | None:
    """How far along the wall it is, and which. Raises UnknownFact where the side of a box in the wall is not said."""
    rows = survey.once(_rows, place.wall)
    [opposite] = [rows.get(side, ()) for side in Side if side is not place.side]
    at = bisect_left(opposite, (place.along, ""))
    beside = opposite[max(0, at - 1) : at + 1]
    return min(((abs(along - place.along), box) for along, _, box in beside), key=lambda each: each[0], default=None)


def _rows(survey: Survey, wall_id: str) -> Mapping[Side, Row]:
    found: dict[Side, list[tuple[float, str, Box]]] = {}
    for place, box in survey.once(_by_wall).get(wall_id, []):
        found.setdefault(place.side, []).append((place.along, box.id, box))
    return {side: sorted(row, key=lambda each: each[:2]) for side, row in found.items()}


def _by_wall(survey: Survey) -> Mapping[str, list[tuple[WallPlace, Box]]]:
    found: dict[str, list[tuple[WallPlace, Box]]] = {}
    for box in survey.plan.boxes.values():
        if box.knows("at") and isinstance(box.at, WallPlace):
            found.setdefault(box.at.wall, []).append((box.at, box))
    return found
