"""The one layout of case files, 128 columns wide: ``python -m nailplate.rulekit.case_layout FILE...`` writes them in it.

What fits on a line stands on one. Else its plain members share lines, and a member with parts of its own has its own lines.
"""

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from nailplate.rulekit.cases import FIELDS

WIDTH = 128
_STEP = 2


def case_file(cases: list[dict[str, Any]]) -> str:
    """The text of a case file: cases as they are written, their fields in one order."""
    ordered = [{name: case[name] for name in (*FIELDS, *sorted(case.keys() - set(FIELDS))) if name in case} for case in cases]
    return "\n".join(laid_out(ordered, whole=2)) + "\n"


def laid_out(value: Any, width: int = WIDTH, *, whole: int = 0) -> list[str]:
    """The lines of a JSON value; its ``whole`` outermost levels are opened even where they would fit on a line."""
    return _lines("", value, width, whole)


def _lines(name: str, value: Any, width: int, whole: int) -> list[str]:
    """The lines of a value behind its name, a comma after the last kept room for."""
    line = name + _text(value)
    if not isinstance(value, dict | list) or not value or (whole <= 0 and len(line) < width):
        return [line]
    opening, closing = "{}" if isinstance(value, dict) else "[]"
    return [name + opening, *(" " * _STEP + line for line in _members(value, width - _STEP, whole - 1)), closing]


def _members(value: Any, width: int, whole: int) -> Iterator[str]:
    named = (
        [(f"{_text(name)}: ", each) for name, each in value.items()]
        if isinstance(value, dict)
        else [("", each) for each in value]
    )
    row = ""
    for number, (name, each) in enumerate(named):
        comma = "," if number < len(named) - 1 else ""
        first, *more = _lines(name, each, width, whole)
        together = not more and (not name or _is_plain(each))
        if row and together and len(row) + 1 + len(first + comma) <= width:
            row += f" {first}{comma}"
            continue
        if row:
            yield row
        *before, row = [first, *more]
        yield from before
        row += comma
        if not together:
            yield row
            row = ""
    if row:
        yield row


def _is_plain(value: Any) -> bool:
    """A word, a number, or a list of them."""
    return not isinstance(value, dict) and not (
        isinstance(value, list) and any(isinstance(each, dict | list) for each in value)
    )


def _text(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)


def main(paths: list[str]) -> None:
    """Writes each file anew in the layout."""
    for path in map(Path, paths):
        path.write_text(case_file(json.loads(path.read_text(encoding="utf-8"))), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
