"""Works out what the house needs, from what the rules said of it and, where nothing is drawn yet, from its rooms alone."""

import logging
from collections.abc import Iterator, Sequence
from typing import Final, get_args

from nailplate.codes import TextStatus
from nailplate.plan import ROOT
from nailplate.plan.words import Regime
from nailplate.rulekit import Job, Undetermined
from nailplate.sheets.loads import Loads
from nailplate.sheets.requirements.by_place import gathered, requirement_of
from nailplate.sheets.requirements.circuits import least_spaces
from nailplate.sheets.requirements.items import RequiredTopic, Requirement, Requirements, Said
from nailplate.sheets.requirements.load_range import load_range
from nailplate.sheets.requirements.topics import ASKED
from nailplate.sheets.requirements.undrawn import by_rooms
from nailplate.survey import regime_of

log = logging.getLogger("nailplate.sheets")

MOST: Final = 400
"""Requirements listed; a house of a few dozen rooms stays far under it."""
_ORDER = {topic: number for number, topic in enumerate(get_args(RequiredTopic))}


def requirements_of(job: Job, every: Sequence[Said], cited: dict[str, Said], loads: Loads) -> Requirements:
    """What one plan needs. ``every`` is what the rules of ``ASKED`` said, ``cited`` the sections of those in force."""
    try:
        items = sorted(_items(job, every, cited), key=lambda item: (item.room is None, item.room or "", _ORDER[item.topic]))
        return Requirements(tuple(items[:MOST]), load_range(job, loads), max(0, len(items) - MOST))
    except Exception:  # a list that fails must not take the report with it
        log.exception("the requirements failed")
        return Requirements(())


def _items(job: Job, every: Sequence[Said], cited: dict[str, Said]) -> Iterator[Requirement]:
    undrawn = not job.plan.devices and regime_of(job.plan) is not Regime.NOT_A_DWELLING
    for found in gathered(job, every):
        if undrawn and found.at == ROOT and ASKED[found.said.rule].topic in ("alarms", "protection") and _waits(found.outcomes):
            continue
        yield requirement_of(job, found)
    if undrawn:
        yield from by_rooms(job, cited)
    if job.plan.rooms and not job.plan.panels:
        yield from _panel(job)


def _waits(outcomes: Sequence[object]) -> bool:
    return all(isinstance(each, Undetermined) for each in outcomes)


def _panel(job: Job) -> Iterator[Requirement]:
    """The least number of spaces, by the circuits that the rooms require and the appliances that are named."""
    least = least_spaces(job)
    if least is not None:
        what = f"a panel with at least {least} spaces, and some to spare: one for each required circuit, and for each pole of an appliance"
        yield Requirement(
            "panel", ROOT, "the house", what, f"NEC {job.edition.year} 210.11, 408.4", TextStatus.MEMORY, "unknown",
            how_many=least, needs=(job.plan.where("panels"),),
        )  # fmt: skip
