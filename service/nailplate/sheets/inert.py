"""An author's words as a sheet or a page shows them: inert, on one line, not longer than anybody reads."""

from typing import Final

from nailplate.plan.inert import inert as written_out

LONGEST: Final = 2000
"""Characters of one text that are kept; a title that holds the whole of a name need not hold a book."""


def inert(text: str) -> str:
    """The text with every character that acts written out, and every stretch of blanks as one blank."""
    if text.isascii() and text.isprintable() and "  " not in text and len(text) <= LONGEST:
        return text.strip()
    return " ".join(written_out(text[:LONGEST]).split())


def cut(text: str, most: int) -> str:
    """The text with at most that many characters, an ellipsis telling where it was cut."""
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"
