"""JSON that is surely as this service takes it, told by a few tests at the speed of C. What is in doubt is left to the exact reader.

Nothing is refused here and no fault is worded: a text that these tests do not clear may still be sound, and is read once more.
"""

import json
import re
from typing import Any, Final

from nailplate.wire.limits import DEEPEST

_ODD_ESCAPE = re.compile(rb"\\u(?:00[0189]|007[fF]|[dD][89a-fA-F]|[fF]{3}[eEfF])")
"""Escapes of control characters, halves of surrogate pairs and the two code points that are no characters."""
_C1 = re.compile(rb"\xc2[\x80-\x9f]")
_NO_CHARACTER = re.compile(rb"\xef\xbf[\xbe\xbf]")
_BRACKETS: Final = bytes.maketrans(b"{}", b"[]")
_ALL_BUT_BRACKETS: Final = bytes(set(range(256)) - set(b"[]{}"))
_FIGURES: Final = bytes(0x30 if byte in b"0123456789" else byte if byte in b".eENI" else 0x20 for byte in range(256))
"""Every digit a zero, so that long and odd numbers can be found as plain texts; ``N`` and ``I`` begin NaN and the infinities."""
_ODD_FIGURES: Final = (b" 0000000000000000", b"." + b"0" * 21, b"0e", b"0E", b"N", b"I")
"""A whole part of 16 digits may pass 2^53; with a shorter one and 20 more no number has too many; exponents may pass every bound."""


class Doubtful(Exception):
    """The tests do not tell whether the service takes this text."""


def read_at_once(source: bytes) -> Any:
    """The value of a text that is surely taken. Raises Doubtful, UnicodeDecodeError, ValueError or RecursionError for any other."""
    escaped = b"\\" in source
    unpaired = source.replace(b"\\\\", b"") if escaped else source  # what follows a backslash now is escaped by it
    _check_characters(unpaired, escaped=escaped)
    structure = _outside_texts(unpaired.replace(b'\\"', b"") if escaped else unpaired)
    _check_depth(structure)
    _check_figures(structure)
    members = 0

    def counted(found: dict[str, Any]) -> dict[str, Any]:
        nonlocal members
        members += len(found)
        if escaped and not "".join(found).isprintable():
            raise Doubtful
        return found

    value = json.loads(source.decode("utf-8"), object_hook=counted)
    if members != structure.count(b":"):  # a doubled key is one member, and stands there twice
        raise Doubtful
    return value


def _check_characters(source: bytes, *, escaped: bool) -> None:
    """Control characters; the parser itself refuses the raw ones of ASCII but DEL."""
    if b"\x7f" in source or (not source.isascii() and (_C1.search(source) or _NO_CHARACTER.search(source))):
        raise Doubtful
    if escaped and (b"\\b" in source or b"\\f" in source or _ODD_ESCAPE.search(source)):
        raise Doubtful


def _outside_texts(source: bytes) -> bytes:
    """What stands between the strings of a text without escaped quotes; what they hold themselves may look like anything."""
    return b"".join(source.split(b'"')[::2])


def _check_depth(structure: bytes) -> None:
    """Takes the innermost pairs of brackets away until none is left."""
    brackets = structure.translate(_BRACKETS, _ALL_BUT_BRACKETS)
    for _ in range(DEEPEST):
        if not brackets:
            return
        brackets = brackets.replace(b"[]", b"")
    if brackets:
        raise Doubtful


def _check_figures(structure: bytes) -> None:
    figures = b" " + structure.translate(_FIGURES)
    if any(odd in figures for odd in _ODD_FIGURES):
        raise Doubtful
