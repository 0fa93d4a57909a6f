"""Openings on a plan: doors with the swing that the plan states, windows, sliders, overhead doors."""

import math
from collections.abc import Iterator
from typing import Final

from nailplate.calc import geometry
from nailplate.plan import Opening, Wall
from nailplate.plan.words import Hinge, OpeningKind, Side
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.drawing.svg import Markup, Point, figure, group, line, path, polygon, title
from nailplate.survey.index import Survey

_GLAZED: Final = (OpeningKind.WINDOW, OpeningKind.FIXED_GLASS)
_PANE: Final = 0.22
"""Of a wall's thickness: how far the outer lines of a window stand from its middle."""


def gaps_in(survey: Survey, wall: Wall, length: float) -> list[tuple[float, float]]:
    """The stretches of a wall that openings take, from its ``from`` end on, in order."""
    openings = survey.openings_in_wall.get(wall.id, [])
    return sorted((max(0.0, each.along), min(length, each.along + each.width)) for each in openings)


def draw_openings(draft: Draft, survey: Survey, wall: Wall, half: float) -> None:
    """The openings of a wall."""
    for opening in survey.openings_in_wall.get(wall.id, []):
        name = name_of(opening)
        shape = _Frame(draft, wall, opening, half)
        draft.draw("openings", group(title(name), *_parts(shape, opening)))


class _Frame:
    """An opening's own axes: ``along`` the wall from its nearer edge, ``off`` its middle to the left."""

    def __init__(self, draft: Draft, wall: Wall, opening: Opening, half: float) -> None:
        self.view, self.half, self.width = draft.view, half, opening.width
        self.start = opening.along
        self.middle = (wall.start, wall.end)
        self.normal = geometry.left_normal(self.middle)

    def at(self, along: float, off: float) -> Point:
        """A place of the opening on the sheet."""
        x, y = geometry.point_along(self.middle, self.start + along)
        return self.view((x + self.normal[0] * off, y + self.normal[1] * off))

    def across(self, off: float, class_: str = "np-opening") -> Markup:
        """A line along the opening."""
        return line(self.at(0, off), self.at(self.width, off), class_)


def _parts(frame: _Frame, opening: Opening) -> Iterator[Markup]:
    width, half = frame.width, frame.half
    yield polygon([frame.at(0, half), frame.at(width, half), frame.at(width, -half), frame.at(0, -half)], "np-gap")
    match opening.kind:
        case OpeningKind.WINDOW | OpeningKind.FIXED_GLASS:
            yield from _window(frame, opening)
        case OpeningKind.DOOR | OpeningKind.FRENCH_DOOR:
            yield from _door(frame, opening)
        case OpeningKind.SLIDING_DOOR:
            yield line(frame.at(0, half * _PANE), frame.at(width * 0.55, half * _PANE), "np-opening")
            yield line(frame.at(width * 0.45, -half * _PANE), frame.at(width, -half * _PANE), "np-opening")
        case OpeningKind.POCKET_DOOR:
            yield line(frame.at(0, 0), frame.at(width * 0.5, 0), "np-opening")
            yield line(frame.at(-width, 0), frame.at(0, 0), "np-unsaid")
        case OpeningKind.VEHICLE_DOOR:
            yield frame.across(0.0)
            yield frame.across(half * 0.6, "np-unsaid")
        case OpeningKind.CASED:
            yield frame.across(half, "np-unsaid")
            yield frame.across(-half, "np-unsaid")


def _window(frame: _Frame, opening: Opening) -> Iterator[Markup]:
    pane = frame.half * 2 * _PANE
    for off in (frame.half, -frame.half):
        yield frame.across(off)
    for off in (pane, -pane) if opening.kind is OpeningKind.WINDOW else (0.0,):
        yield frame.across(off, "np-swing")


def _door(frame: _Frame, opening: Opening) -> Iterator[Markup]:
    """One leaf or two at right angles to the wall, with the quarter circle that it sweeps; dashed where the swing is not stated."""
    if not opening.knows("swing"):
        yield frame.across(0.0, "np-unsaid")
        return
    side = 1 if opening.swing is Side.LEFT else -1
    if opening.kind is OpeningKind.FRENCH_DOOR:
        yield from _leaf(frame, 0.0, 1, side, frame.width / 2)
        yield from _leaf(frame, frame.width, -1, side, frame.width / 2)
    elif opening.knows("hinge"):
        at, way = (0.0, 1) if opening.hinge is Hinge.FROM else (frame.width, -1)
        yield from _leaf(frame, at, way, side, frame.width)
    else:
        yield frame.across(frame.half * side, "np-unsaid")


def _leaf(frame: _Frame, hinge: float, way: int, side: int, width: float) -> Iterator[Markup]:
    face = frame.half * side
    pivot, open_end = frame.at(hinge, face), frame.at(hinge, face + side * width)
    shut_end = frame.at(hinge + way * width, face)
    yield line(pivot, open_end, "np-opening")
    radius = math.dist(pivot, open_end)
    turn = (shut_end[0] - pivot[0]) * (open_end[1] - pivot[1]) - (shut_end[1] - pivot[1]) * (open_end[0] - pivot[0])
    sweep = 1 if turn > 0 else 0
    start, end, size = (" ".join(figure(each) for each in point) for point in (shut_end, open_end, (radius, radius)))
    yield path(f"M{start}A{size} 0 0 {sweep} {end}", "np-swing")
