"""Site items of boxes and panels: staples, free conductor, sheath, depth behind the finish, and slack."""

from collections.abc import Iterator
from typing import Final

from nailplate.plan import Box, UnknownFact
from nailplate.plan.cables import BoxEnd
from nailplate.rulekit import Job
from nailplate.sheets.site_items import SiteFigure, SiteItem, many
from nailplate.survey import standing
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import is_clampless
from nailplate.units import Inches, count, inches, shown

SLACK_AT_BOX: Final = Inches(9.0)
SLACK_AT_PANEL: Final = Inches(24.0)
"""Cable left out of a box, and beyond the panel's far corner (common practice)."""
HOME_RUNS: Final = 20
"""Home runs in one hole at the most (common practice)."""


def box_items(job: Job) -> Iterator[SiteItem]:
    """One item for the boxes of a wall or room that are alike."""
    groups: dict[tuple[str, bool | None], list[Box]] = {}
    for box in job.plan.boxes.values():
        if job.survey.cables_at_box.get(box.id):
            groups.setdefault((_place(job, box), _clampless(job, box)), []).append(box)
    for (place, clampless), boxes in groups.items():
        yield _of_boxes(job, place, boxes, clampless=clampless)


def _place(job: Job, box: Box) -> str:
    try:
        at = standing(job.survey, box)
    except UnknownFact:  # unknown: the box is listed all the same
        return "places not said"
    if at.wall is not None:
        return f"wall {name_of(at.wall)}"
    return f"ceiling or floor of {name_of(at.room)}" if at.room is not None else "places not said"


def _clampless(job: Job, box: Box) -> bool | None:
    """Whether the 8 in of a box without clamps count; None where the box does not say enough."""
    cable = job.survey.cables_at_box[box.id][0]
    end = next(end for end in cable.ends if isinstance(end, BoxEnd) and end.box == box.id)
    try:
        return is_clampless(job.survey, end)
    except UnknownFact:  # unknown: the item says that clamps are not said, and takes the shorter distance
        return None


def _of_boxes(job: Job, place: str, boxes: list[Box], *, clampless: bool | None) -> SiteItem:
    first = job.measure("first_support_distance" if clampless is False else "first_support_without_clamps")
    sheath = job.measure("sheath_inside_box")
    free, out = job.measure("free_conductor_length"), job.measure("conductor_out_of_opening")
    why = {True: "no clamps", False: "clamped", None: "clamps not said, so the shorter"}[clampless]
    number = sum(len(job.survey.cables_at_box[box.id]) for box in boxes)
    do = (
        f"In {place}, {many(number, 'cable end')}: staple each within {shown(first)} of its box ({why}), bring "
        f"{shown(sheath)} of sheath in, and leave {shown(inches(SLACK_AT_BOX))} of cable out of the box: {shown(free)} of free "
        f"conductor, {shown(out)} of it outside."
    )
    figures = (
        SiteFigure("cable ends", count(number)),
        SiteFigure("to the first staple, at most", first),
        SiteFigure("sheath inside, at least", sheath),
        SiteFigure("free conductor, at least", free),
    )
    at = tuple(box.pointer for box in boxes)
    return SiteItem("boxes", at, tuple(name_of(box) for box in boxes), do, figures, "NEC 334.30, 314.17, 300.14")


def panel_items(job: Job) -> Iterator[SiteItem]:
    """Slack and home runs at each panel."""
    for panel in job.plan.panels.values():
        cables = len(job.survey.cables_at_panel.get(panel.id, []))
        if not cables:
            continue
        holes = -(-cables // HOME_RUNS)
        do = (
            f"Leave {shown(inches(SLACK_AT_PANEL))} of cable beyond the panel for each of {many(cables, 'cable')}, marked with its "
            f"circuit, in {many(holes, 'line')} or more of holes: no more than {HOME_RUNS} in one, and far fewer where it is sealed "
            "or in insulation."
        )
        figures = (SiteFigure("cables at the panel", count(cables)), SiteFigure("lines of holes, at least", count(holes)))
        yield SiteItem("slack", (panel.pointer,), (f"panel {name_of(panel)}",), do, figures)
