"""The owner's needs answered as lines of text, written once for every form of page."""

from collections.abc import Iterator
from typing import Final

from nailplate.render.loads import Passage
from nailplate.sheets.needs import NeedsAnswered

HEADS: Final = {
    "no_outlet": "No outlet:",
    "served": "Served:",
    "reserved": "Kept for later:",
    "not_decided": "Not decided:",
}


def need_passages(answered: NeedsAnswered) -> Iterator[Passage]:
    """One passage for each kind of answer, then the circuits; words of the plan's author stand in it as they are."""
    for answer, head in HEADS.items():
        lines = [f"{item.what} in {item.room}: {item.words}" for item in answered.items if item.answer == answer]
        if lines:
            yield Passage(head, lines)
    if answered.circuits:
        yield Passage("At once on each circuit:", [each.words + _fit(each.fits) for each in answered.circuits])
    if answered.left_out:
        yield Passage(f"And {answered.left_out} more that are not answered.")


def _fit(fits: bool | None) -> str:
    return {True: "", False: " That is more than the breaker carries.", None: " Not all of it is known."}[fits]
