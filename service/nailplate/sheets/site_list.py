"""Works out the site list: from walls and framing alone, and from boxes and cables as far as they are drawn."""

import logging
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from nailplate.rulekit import Job
from nailplate.sheets.site_boxes import box_items, panel_items
from nailplate.sheets.site_cables import cable_items
from nailplate.sheets.site_items import SiteItem, SiteList
from nailplate.sheets.site_walls import wall_items

log = logging.getLogger("nailplate.sheets")

MOST: Final = 400
"""Items listed; a house of a few dozen walls and boxes stays far under it."""


def site_list_of(job: Job) -> SiteList:
    """The site list of one plan; empty where neither framing nor boxes nor cables are drawn."""
    try:
        items = tuple(_merged(_items(job)))
    except Exception:  # a list that fails must not take the report with it
        log.exception("the site list failed")
        return SiteList(())
    return SiteList(items[:MOST], max(0, len(items) - MOST))


def _items(job: Job) -> Iterator[SiteItem]:
    yield from wall_items(job)
    yield from box_items(job)
    yield from cable_items(job)
    yield from panel_items(job)


def _merged(items: Iterator[SiteItem]) -> Iterator[SiteItem]:
    """Items that say the same of several places are one, where the first of them stood."""
    alike: dict[tuple[object, ...], list[SiteItem]] = {}
    for item in items:
        alike.setdefault((item.topic, item.do, item.figures, item.section), []).append(item)
    for same in alike.values():
        at = tuple(pointer for item in same for pointer in item.at)
        where = tuple(name for item in same for name in item.where)
        yield replace(same[0], at=at, where=where)
