"""An author's words as they may stand in any page: on one line, without characters that steer a reader, a page or a terminal."""

import unicodedata
from typing import Final

_STEERING: Final = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
"""Control, format (U+202E among them), surrogate, private and unassigned characters, line and paragraph separators."""
_JOINERS: Final = frozenset("\u200d\ufe0f")
"""What holds the parts of one emoji together; harmless where it stands."""
LONGEST: Final = 2000
"""Characters of one text that are kept; a title that holds the whole of a name need not hold a book."""


def inert(text: str) -> str:
    """The text with every steering character shown as U+FFFD and every stretch of blanks as one blank."""
    if text.isascii() and text.isprintable() and "  " not in text and len(text) <= LONGEST:
        return text.strip()
    return "".join(_shown(each) for each in " ".join(text[:LONGEST].split()))


def _shown(character: str) -> str:
    if character in _JOINERS or unicodedata.category(character) not in _STEERING:
        return character
    return "\ufffd"


def cut(text: str, most: int) -> str:
    """The text with at most that many characters, an ellipsis telling where it was cut."""
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"
