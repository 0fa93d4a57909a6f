"""What the house needs as lines of text, room by room, written once for every form of page."""

from collections.abc import Iterator
from itertools import groupby
from typing import Final

from nailplate.render.loads import Passage
from nailplate.sheets.requirements import LoadRange, Requirement, Requirements
from nailplate.units import shown

MOST_NAMED: Final = 6
"""Places and parts that one line names; the report as JSON names all."""
TICKS: Final = {"yes": "[met]", "no": "[missing]", "unknown": "[not decided]"}


def required_passages(needed: Requirements) -> Iterator[Passage]:
    """One passage a room, then the house, then the load; words of the plan's author stand in it as they are."""
    for room, items in groupby(needed.items, key=lambda item: item.room):
        held = list(items)
        yield Passage("The house:" if room is None else f"{_name(held, room)}:", [_line(item) for item in held])
    if needed.load is not None:
        yield Passage(_lead(needed.load), list(_moves(needed.load)))
    if needed.left_out:
        yield Passage(f"And {needed.left_out} more that are not listed.")


def _name(items: list[Requirement], room: str) -> str:
    return next((item.where for item in items if item.at.members == ("rooms", room)), room)


def _line(item: Requirement) -> str:
    is_plain = item.where == "the house" or (item.at.members[:1] == ("rooms",) and item.where.startswith("'"))
    where = "" if is_plain else f" ({item.where})"
    places = _some([each.words for each in item.places])
    by = _some([str(each) for each in item.by])
    counted = f"{item.how_many} x " if item.how_many and item.how_many > 1 and item.topic == "circuits" else ""
    return (
        f"{TICKS[item.met]} {counted}{item.what}{where}"
        + (f"; add {item.to_add}" if item.to_add else "")
        + (f": {places}" if places else "")
        + (f"; met by {by}" if by else "")
        + f" ({item.section}, {item.text_status})"
    )


def _some(words: list[str]) -> str:
    more = f" and {len(words) - MOST_NAMED} more" if len(words) > MOST_NAMED else ""
    return "; ".join(words[:MOST_NAMED]) + more


def _lead(load: LoadRange) -> str:
    return f"The load is between {shown(load.least)} and {shown(load.most)}, as far as it can be told:"


def _moves(load: LoadRange) -> Iterator[str]:
    for each in load.moves:
        yield f"{each.what}, not drawn, would add up to {shown(each.adds)} ({each.section or 'common practice'})"
