"""Site items of a wall's stud layout: which boxes to set against which studs, and which to check because the plan does not say."""

from collections.abc import Iterator, Mapping
from typing import Final

from nailplate.plan import Box, Wall, WallPlace
from nailplate.plan.words import BoxShape, Placing
from nailplate.sheets.site_items import SiteFigure, SiteItem
from nailplate.survey import Survey
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import has_studs, states_studs
from nailplate.units import Inches, inches

STUD: Final = 1.5
"""Inches: the thickness of a 2x stud (dressed size, PS 20)."""


def stud_items(survey: Survey, wall: Wall) -> Iterator[SiteItem]:
    """One item for the boxes of a wall whose places along it hang on its studs; none for a wall without studs or boxes."""
    boxes = survey.once(_boxes_on).get(wall.id, [])
    if not boxes or not has_studs(wall) or not wall.knows("framing") or not wall.framing.knows("spacing"):
        return
    bay = Inches(max(0.0, wall.framing.spacing - STUD))
    figures = (SiteFigure("studs, on center", inches(wall.framing.spacing)), SiteFigure("clear between studs", inches(bay)))
    where, apart = f"wall {name_of(wall)}", f"{round(wall.framing.spacing, 1):g} in"  # never feet: 16 in on center
    if any(box.is_(placing=Placing.NEAREST_STUD) for box in boxes):
        do = (
            f"Mark the studs on the floor plate, {apart} on center, and set each box at the stud nearest to its place: it may move up to half "
            "a bay. Then measure again what hangs on it: the spacing of receptacles, counters, and the reach of cords."
        )
        yield SiteItem("studs", (wall.pointer,), (where,), do, figures)
    elif not states_studs(wall):
        do = (
            f"Check the boxes against the stud layout, {apart} on center: the plan does not say where it begins, and a box may be drawn over "
            "a stud or out of its bracket's reach of one."
        )
        yield SiteItem("studs", (wall.pointer,), (where,), do, figures)


def _boxes_on(survey: Survey) -> Mapping[str, list[Box]]:
    """The boxes that go between studs, by wall; a pancake box goes on a stud's face."""
    found: dict[str, list[Box]] = {}
    for box in survey.plan.boxes.values():
        if box.knows("at") and isinstance(box.at, WallPlace) and not box.is_(shape=BoxShape.PANCAKE):
            found.setdefault(box.at.wall, []).append(box)
    return found
