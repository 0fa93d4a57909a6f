"""The dimensions of a wall's elevation: openings and corners along the floor, its length under them, its height at the left."""

from itertools import pairwise
from typing import Final

from nailplate.sheets.drawing.dimensions import SIZE, across, upward
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.labels import Label, place, size_of
from nailplate.sheets.drawing.measures import BY_TAPE, dimension
from nailplate.sheets.drawing.svg import line
from nailplate.sheets.drawing.wall_face import Face
from nailplate.survey.index import Survey

_BELOW: Final = 16.0
"""Points between the floor and the first dimension line."""
_ROW: Final = 13.0


def draw_dimensions(draft: Draft, survey: Survey, face: Face) -> None:
    """From corner to corner and opening to opening along the floor, the wall's whole length under it, its height at the left."""
    floor = draft.view((0.0, 0.0))[1]
    openings = survey.openings_in_wall.get(face.wall.id, [])
    edges = {0.0, face.length}
    edges |= {end for each in openings for end in (each.along, each.along + each.width) if 0 <= end <= face.length}
    edges |= {end for ends in face.between_corners for end in ends}
    spans = sorted(pairwise(sorted(edges)), key=lambda each: each[0] - each[1])
    for one, other in spans:  # the wide ones first: a narrow one's figure may stand apart
        _chain(draft, one, other, floor + _BELOW)
    left, right = sorted(draft.view((end, 0.0))[0] for end in (0.0, face.length))
    across(draft, (left, floor + _BELOW + _ROW), right, dimension(face.length, draft.unit))
    upward(draft, (left - _BELOW, floor), draft.view((0.0, face.height))[1], dimension(face.height, draft.unit))
    for ends in face.between_corners:
        _corners(draft, face, *ends)
    for stretch in face.stretches:
        middle = draft.view(((stretch.start + stretch.end) / 2, face.height))
        place(draft, Label((stretch.name,), 7.6, (middle[0], middle[1] - 6.0), 1.0, bold=True))


def _chain(draft: Draft, one: float, other: float, y: float) -> None:
    left, right = sorted(draft.view((end, 0.0))[0] for end in (one, other))
    figure = dimension(other - one, draft.unit, BY_TAPE)
    if right - left >= size_of((figure,), SIZE)[0] + _TICKS:
        across(draft, (left, y), right, figure)
    elif other - one > 1 / 16:
        draft.draw("dimensions", line((left, y), (right, y), "np-dimension"))
        place(draft, Label((figure,), 6.0, ((left + right) / 2, y), 2.0, "np-soft"))


_TICKS: Final = 8.0
"""Points that a figure needs beside itself for the ticks of its line."""


def _corners(draft: Draft, face: Face, *ends: float) -> None:
    for end in ends:
        foot, top = draft.view((end, 0.0)), draft.view((end, face.height))
        draft.draw("dimensions", line(foot, top, "np-corner"))
