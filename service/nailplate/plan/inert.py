"""Text that does nothing to a terminal, a log or an editor: control and direction characters are shown, not obeyed."""

import re

# Unicode's bidirectional controls (UAX #9) and other invisible format characters, the C0 and C1 control codes, and the two code
# points that are no characters and that XML refuses.
_BEYOND_ASCII = "\x7f-\x9f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\ufffe\uffff\ud800-\udfff"
_ACTIVE = re.compile(f"[\x00-\x1f{_BEYOND_ASCII}]")
_INVISIBLE = re.compile(f"[{_BEYOND_ASCII}]")


def inert(text: str) -> str:
    """One line of text in which nothing acts: a tab or a line end is a space, everything else active is written out."""
    return _ACTIVE.sub(_shown, text)


def inert_json(text: str) -> str:
    """JSON text in which nothing acts, of the same value: what would act in a string is written as its escape."""
    return _INVISIBLE.sub(_shown, text)


def _shown(match: re.Match[str]) -> str:
    character = match.group()
    return " " if character in "\t\n\r" else f"\\u{ord(character):04x}"
