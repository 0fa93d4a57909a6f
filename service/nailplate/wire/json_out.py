"""JSON as the service writes it: two spaces a level, UTF-8, a closing newline; the text that ``json.dumps`` gives, several times sooner.

Python's own encoder has its fast form for JSON on one line only.
"""

import json
from collections.abc import Callable, Mapping
from json.encoder import encode_basestring
from math import isfinite
from typing import Any

from nailplate.review.inert import inert_json

_quoted: Callable[[str], str] = encode_basestring


def text_of(value: object) -> bytes:
    """A JSON value as the service writes it."""
    text = _text(value, "\n")
    return f"{inert_json(text) if _DELETE in text else text}\n".encode()


_DELETE = "\x7f"
"""The one invisible character of ASCII that JSON does not escape; others are looked for in texts beyond ASCII only."""


def _text(value: Any, newline: str) -> str:
    """One value; ``newline`` is the line end with the indentation that it stands at."""
    kind = type(value)
    if kind is str:
        return _quoted(value) if value.isascii() else inert_json(_quoted(value))
    if kind is int:
        return int.__repr__(value)
    if kind is dict:
        return _object(value, newline) if value else "{}"
    if kind is bool or value is None:
        return _NAMED[value]
    if kind is list:
        if not value:
            return "[]"
        inner = newline + "  "
        return f"[{inner}{f',{inner}'.join([_text(each, inner) for each in value])}{newline}]"
    if kind is float and isfinite(value):
        return float.__repr__(value)
    return _rare(value, newline)


_NAMED: Mapping[bool | None, str] = {True: "true", False: "false", None: "null"}


def _object(value: dict[Any, Any], newline: str) -> str:
    if not _STRINGS.issuperset(map(type, value)):
        return _rare(value, newline)
    inner = newline + "  "
    members = [
        f'"{key}": {each if type(each) is int else _text(each, inner)}'
        if key.isidentifier() and key.isascii()
        else f"{_text(key, inner)}: {_text(each, inner)}"
        for key, each in value.items()
    ]
    return f"{{{inner}{f',{inner}'.join(members)}{newline}}}"


_STRINGS = frozenset({str})


def _rare(value: Any, newline: str) -> str:
    """Python's own encoder for all else; in JSON no string holds a line end. It leaves a cycle behind each time."""
    return inert_json(json.dumps(value, ensure_ascii=False, indent=2).replace("\n", newline))
