"""How messages call a part."""

from collections.abc import Sequence
from typing import Final

from nailplate.plan import Part

_SAID_OTHERWISE: Final = {
    "evse": "EVSE",
    "mini_split": "mini-split",
    "co_alarm": "CO alarm",
    "usb_outlet": "USB outlet",
    "blank_gfci": "blank-face GFCI device",
    "storey": "story",
}
"""Kinds that people say otherwise than the plan writes them."""


def name_of(part: Part) -> str:
    """A part by its label, or else by its id; in quotes, since both are its author's words and not the trade's."""
    return f"'{part.label}'" if part.knows("label") else f"'{part.id}'"


def names_of(parts: Sequence[Part], most: int) -> str:
    """The first ``most`` parts by name, and how many more there are."""
    names = ", ".join(name_of(each) for each in parts[:most])
    return names if len(parts) <= most else f"{names} and {len(parts) - most} more"


def kind_words(kind: str) -> str:
    """A kind, use or other word of the plan as people say it: ``baseboard heater``, ``EVSE``."""
    return _SAID_OTHERWISE.get(str(kind), str(kind).replace("_", " "))


def sentence(words: str) -> str:
    """Words as the start of a sentence; what an author named stays as it is written."""
    return words[:1].upper() + words[1:]
