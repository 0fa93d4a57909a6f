"""The nearest known name to an unknown one, for messages: a wire size by its place in the order, the rest by spelling."""

import difflib
import re
from collections.abc import Iterable

_SIZE = re.compile(r"([1-9][0-9]{0,3})(/0)? (AWG|kcmil)", re.ASCII)
_LONGEST_NAME = 80
_KCMIL_BEYOND_4_0 = 100  # places every kcmil size after 4/0 AWG


def nearest(name: str, known: Iterable[str]) -> str:
    """The one of ``known`` most like ``name``; empty if nothing is known."""
    names = list(known)
    place = _place(name)
    sizes = [(abs(there - place), each) for each in names if place is not None and (there := _place(each)) is not None]
    if sizes:
        return min(sizes)[1]
    found = difflib.get_close_matches(name[:_LONGEST_NAME], names, n=1, cutoff=0.0)
    return found[0] if found else ""


def unknown_name(what: str, name: str, known: Iterable[str]) -> str:
    """The sentence that ``name`` is no such thing, with the nearest that is."""
    near = nearest(name, known)
    return f"{name[:_LONGEST_NAME]!r} is no {what} known here" + (f"; the nearest is {near!r}" if near else "")


def _place(name: str) -> int | None:
    found = _SIZE.fullmatch(name)
    if found is None:
        return None
    number, aught, unit = int(found[1]), found[2], found[3]
    if unit == "kcmil":
        return _KCMIL_BEYOND_4_0 + number
    return number - 1 if aught else -number
