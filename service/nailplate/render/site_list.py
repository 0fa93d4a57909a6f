"""The site list of a report as lines of text, by topic, written once for every form of page."""

from collections.abc import Iterator
from typing import Final

from nailplate.render.loads import Passage
from nailplate.sheets import SiteItem, SiteList

MOST_NAMED: Final = 8
"""Places that one line names; the report as JSON names all."""
HEADS: Final = {
    "holes": "Holes in studs",
    "plates": "Nail plates",
    "side_by_side": "Cables along studs and in holes",
    "drill_lines": "Lines of holes",
    "keep_clear": "Where not to drill",
    "studs": "Boxes and the stud layout",
    "foam": "Walls to be foamed",
    "boxes": "At each box",
    "bends": "Bends",
    "supports": "Supports",
    "slack": "At each panel",
}


def site_passages(listed: SiteList) -> Iterator[Passage]:
    """One passage a topic; words of the plan's author stand in it as they are."""
    for topic, head in HEADS.items():
        items = [item for item in listed.items if item.topic == topic]
        if items:
            yield Passage(f"{head}:", [_line(item) for item in items])
    if listed.left_out:
        yield Passage(f"And {listed.left_out} more items that are not listed.")


def _line(item: SiteItem) -> str:
    names = list(dict.fromkeys(item.where))
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return f"{', '.join(names[:MOST_NAMED])}{more}: {item.do} ({item.section or 'common practice'})"
