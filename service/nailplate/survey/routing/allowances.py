"""What a cable takes beside its route: in boxes, at panels, and left over as slack (common practice unless a section is named)."""

from typing import Final

from nailplate.plan import Cable, Panel, PanelEnd
from nailplate.survey.index import Survey

IN_BOX: Final = 10.0
"""Inches at a box or device: the free conductor of 6 in with the sheath that enters, and some to trim (8 to 10 in)."""
SLACK: Final = 6.0
"""Inches left over at each end, to pull from when a box is set again."""
IN_PANEL: Final = 48.0
"""Inches at a panel whose height the plan does not state."""
PAST_PANEL: Final = 18.0
"""Inches beside a panel's own height: 12 to 24 in."""


def makeup(survey: Survey, cable: Cable) -> float:
    """Inches that boxes, panel and stripping take at both ends, slack left aside."""
    return sum(_at(survey, end) for end in cable.ends)


def slack(cable: Cable) -> float:
    """Inches left over at both ends."""
    return SLACK * sum(not isinstance(end, PanelEnd) for end in cable.ends)


def _at(survey: Survey, end: object) -> float:
    if not isinstance(end, PanelEnd):
        return IN_BOX
    panel: Panel = survey.plan.panels[end.panel]
    known = panel.knows("face") and panel.face.knows("height")
    return panel.face.height + PAST_PANEL if known else IN_PANEL
