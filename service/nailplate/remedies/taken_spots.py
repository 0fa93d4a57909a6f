"""What already stands in a wall where another box might go: boxes, devices without a box, panels."""

from collections.abc import Iterator
from dataclasses import dataclass

from nailplate.calc import geometry
from nailplate.plan import Box, Device, Panel, WallPlace
from nailplate.plan.words import Side
from nailplate.survey.index import Survey

GANG = 1.8125
"""Inches between the devices of one box (common practice)."""
HALF_BOX = 1.25
"""Half the width of a one-gang box, in inches (common practice)."""
HALF_HEIGHT = 2.25
"""Half the height of a box for devices, in inches (common practice)."""
BETWEEN = 0.5
"""Inches left between two boxes (our own measure)."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A stretch of a wall that something is in; ``height`` is None where the plan does not say it."""

    along: float
    half_width: float
    height: float | None
    half_height: float
    side: Side | None

    def bars(self, height: float, side: Side | None) -> bool:
        """Whether it is in the way of a one-gang box at ``height`` on a side of the wall."""
        if self.side is not None and side is not None and self.side is not side:
            return False
        return self.height is None or abs(self.height - height) < self.half_height + HALF_HEIGHT + BETWEEN


def barred(survey: Survey, wall: str, side: Side | None, height: float) -> tuple[geometry.Interval, ...]:
    """Where along a wall the center of a one-gang box at ``height`` cannot be, for what is there already."""
    keep = HALF_BOX + BETWEEN
    return tuple(
        (each.along - each.half_width - keep, each.along + each.half_width + keep)
        for each in survey.once(_by_wall).get(wall, ())
        if each.bars(height, side)
    )


def _by_wall(survey: Survey) -> dict[str, list[Taken]]:
    found: dict[str, list[Taken]] = {}
    for part in _parts(survey):
        if part.knows("at") and isinstance(part.at, WallPlace) and part.at.knows("along"):
            found.setdefault(part.at.wall, []).append(_taken(part, part.at))
    return found


def _parts(survey: Survey) -> Iterator[Box | Device | Panel]:
    yield from survey.plan.boxes.values()
    yield from (device for device in survey.plan.devices.values() if not device.knows("box"))
    yield from survey.plan.panels.values()


def _taken(part: Box | Device | Panel, place: WallPlace) -> Taken:
    half_width, half_height = HALF_BOX, HALF_HEIGHT
    if isinstance(part, Panel):
        # A load center's enclosure fills a stud bay (common practice), where the plan does not say how large it is.
        half_width, half_height = (part.face.width / 2, part.face.height / 2) if part.knows("face") else (8.0, 20.0)
    elif part.knows("gangs"):
        half_width += (part.gangs - 1) * GANG / 2
    height = place.height if place.knows("height") else None
    return Taken(place.along, half_width, height, half_height, place.side if place.knows("side") else None)
