"""Where a part stands in the text of its plan: line and column of a JSON Pointer, for CI and editors.

The text is read a second time for this, and only when a position is asked for. Columns count characters (Unicode code points).
"""

import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from nailplate.plan import ROOT, Pointer
from nailplate.review.checked import Region

_TOKEN = re.compile(r"[ \t\n\r]*(\"(?:[^\"\\]++|\\.)*+\"|[{}\[\],:]|[^ \t\n\r,:{}\[\]\"]+)", re.DOTALL)
_FIRST = Region(1, 1, 1, 1)


@dataclass
class Positions:
    """The positions of one text. Of a text that is no JSON, only the first character is known."""

    source: bytes

    def region(self, pointer: Pointer) -> Region:
        """Where the part at ``pointer`` stands, its key included; if it is not there, where the nearest thing around it does."""
        members = pointer.members
        for length in range(len(members), -1, -1):
            around = ROOT
            for member in members[:length]:
                around /= member
            if around in self._spans:
                return self._region(*self._spans[around])
        return _FIRST

    @cached_property
    def _text(self) -> str:
        return self.source.decode("utf-8", "replace")

    @cached_property
    def _line_starts(self) -> list[int]:
        return [0, *(match.end() for match in re.finditer("\n", self._text))]

    @cached_property
    def _spans(self) -> dict[str, tuple[int, int]]:
        return dict(_spans(self._text))

    def _region(self, start: int, end: int) -> Region:
        return Region(*self._place(start), *self._place(end))

    def _place(self, offset: int) -> tuple[int, int]:
        line = bisect_right(self._line_starts, offset)
        return line, offset - self._line_starts[line - 1] + 1


@dataclass
class _Holder:
    """An object or a list that is being read."""

    at: str
    start: int
    is_object: bool
    count: int = 0
    key: str | None = None
    key_start: int = 0

    def member(self) -> str:
        mark = (self.key or "") if self.is_object else str(self.count)
        return f"{self.at}/{mark.replace('~', '~0').replace('/', '~1')}"


def _spans(text: str) -> Iterator[tuple[str, tuple[int, int]]]:
    """Every pointer with the start of its key (or value) and the end of its value."""
    holders: list[_Holder] = []
    for match in _TOKEN.finditer(text):
        mark, start, end = match.group(1), match.start(1), match.end(1)
        holder = holders[-1] if holders else None
        if mark in "{[":
            began = holder.key_start if holder and holder.is_object else start
            holders.append(_Holder(holder.member() if holder else "", began, mark == "{"))
        elif mark in "}]":
            if holder is None:
                return
            holders.pop()
            yield holder.at, (holder.start, end)
        elif mark == ",":
            if holder:
                holder.key, holder.count = None, holder.count + 1
        elif mark != ":":
            if holder and holder.is_object and holder.key is None:
                holder.key, holder.key_start = _unquoted(mark), start
            else:
                at = holder.member() if holder else ""
                yield at, (holder.key_start if holder and holder.is_object else start, end)


_ESCAPE = re.compile(r"\\(?:u([0-9a-fA-F]{4})|(.))", re.DOTALL)
_ESCAPED = {"b": "\b", "f": "\f", "n": "\n", "r": "\r", "t": "\t"}


def _unquoted(mark: str) -> str:
    inner = mark[1:-1]
    if "\\" not in inner:
        return inner
    plain = _ESCAPE.sub(lambda each: chr(int(each[1], 16)) if each[1] else _ESCAPED.get(each[2], each[2]), inner)
    return plain.encode("utf-16", "surrogatepass").decode("utf-16", "replace")
