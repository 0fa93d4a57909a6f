"""The box on the other side of a wall that is nearest to one."""

from collections.abc import Mapping

from nailplate.plan import Box, WallPlace
from nailplate.survey import Survey


def nearest_opposite(survey: Survey, place: WallPlace) -> tuple[float, Box] | None:
    """How far along the wall it is, and which. Raises UnknownFact where a side is not said of two boxes in the wall."""
    others = [(other, box) for other, box in survey.once(_by_wall).get(place.wall, []) if other is not place]
    facing = [(abs(other.along - place.along), box) for other, box in others if other.side is not place.side]
    return min(facing, key=lambda each: each[0], default=None)


def _by_wall(survey: Survey) -> Mapping[str, list[tuple[WallPlace, Box]]]:
    found: dict[str, list[tuple[WallPlace, Box]]] = {}
    for box in survey.plan.boxes.values():
        if box.knows("at") and isinstance(box.at, WallPlace):
            found.setdefault(box.at.wall, []).append((box.at, box))
    return found
