"""The roof deck over a run: as the ceiling it lies over states it."""

from typing import Final

from nailplate.plan import ROOT, Level, Pointer, UnknownFact
from nailplate.plan.words import Decking, LevelKind
from nailplate.survey.index import Survey
from nailplate.survey.places import room_at
from nailplate.survey.rough_in.runs import Run

LOW: Final = 12.0
"""Inches above a floor up to which a run lies in or on the floor and not under a roof."""
_UNDER_A_HOUSE: Final = (LevelKind.BASEMENT, LevelKind.CRAWL_SPACE)
_OUTDOORS: Final = (LevelKind.GRADE, LevelKind.DECK)


def may_be_under_deck(survey: Survey, run: Run) -> bool:
    """Whether a run outside of walls may lie in a ceiling's framing or an attic. A run in a wall says so by its clearance alone."""
    if run.wall is not None:
        return False
    level = survey.plan.levels.get(run.level) if run.level is not None else None
    if level is not None and (level.kind in _UNDER_A_HOUSE or (level.kind in _OUTDOORS and not level.knows("ceiling"))):
        return False
    return not run.points or max(z for _, _, z in run.points) > LOW


def stated_decking(survey: Survey, run: Run) -> Decking:
    """The decking over a run. Raises UnknownFact where neither its room's ceiling nor its level's states it."""
    level = survey.plan.levels[run.level] if run.level is not None else None
    rooms = {room.id: room for room in (room_at(survey, level.id, point[:2]) for point in run.points) if room} if level else {}
    for part in (*rooms.values(), level):
        if part is not None and part.knows("ceiling") and part.ceiling.knows("decking"):
            return part.ceiling.decking
    raise UnknownFact(_where(level))


def _where(level: Level | None) -> Pointer:
    if level is None:
        return ROOT / "levels"
    return level.ceiling.where("decking") if level.knows("ceiling") else level.where("ceiling")
