"""JSON as a page shows it: maps and their parts opened where they don't fit on a line, a part that is long run on under itself."""

import json
import textwrap
from collections.abc import Iterator
from typing import Any

_HELD = "\x00"
"""Stands for a space at which no line is broken."""
_SCREEN = 38


def plan_lines(plan: dict[str, Any], width: int) -> tuple[str, ...]:
    """The lines of a plan: a part a line, or, where that would fill a screen, its maps run on."""
    by_part, by_map = (["{", *(f"  {line}" for line in _members(plan, width - 2, opened)), "}"] for opened in (1, 0))
    return tuple(by_part if len(by_part) <= _SCREEN else by_map)


def value_lines(value: Any, width: int) -> tuple[str, ...]:
    """The lines of any value, run on."""
    return tuple(_run_on("", value, width))


def _members(value: dict[str, Any], width: int, opened: int) -> Iterator[str]:
    """A member a line; one that is longer is opened for ``opened`` levels more and run on below them."""
    for number, (name, each) in enumerate(value.items()):
        comma = "," if number < len(value) - 1 else ""
        start = f"{json.dumps(name)}: "
        if opened and isinstance(each, dict) and len(start + _text(each) + comma) > width:
            yield f"{start}{{"
            yield from (f"  {line}" for line in _members(each, width - 2, opened - 1))
            yield f"}}{comma}"
        else:
            *before, last = _run_on(start, each, width - len(comma))
            yield from (*before, last + comma)


def _run_on(start: str, value: Any, width: int) -> list[str]:
    lines = textwrap.wrap(
        _held(start) + _unbroken(value), width, subsequent_indent="   ", break_long_words=False, break_on_hyphens=False
    )
    return [line.replace(_HELD, " ") for line in lines]


def _unbroken(value: Any) -> str:
    """JSON text whose only spaces are those after a comma between members."""
    if isinstance(value, dict):
        return f"{{{', '.join(f'{_held(json.dumps(name))}:{_HELD}{_unbroken(each)}' for name, each in value.items())}}}"
    if isinstance(value, list) and any(isinstance(each, dict | list) for each in value):
        return f"[{', '.join(_unbroken(each) for each in value)}]"
    return _held(_text(value))


def _held(text: str) -> str:
    return text.replace(" ", _HELD)


def _text(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)
