"""A strict JSON reader: UTF-8, no doubled keys, no NaN, no absurd numbers or nesting, no lone surrogates.

Errors: ``NotJson`` and nothing else, whatever the bytes.
"""

import json
import re
from typing import Any, NoReturn

DEEPEST = 64
MOST_DIGITS = 30
"""Digits of a number, point and exponent left out; no measure of a house needs more."""

_SURROGATE = re.compile("[\ud800-\udfff]")
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")
_BRACKETS = re.compile(rb'"(?:[^"\\]|\\.)*"|[\[\]{}]', re.DOTALL)


class NotJson(ValueError):
    """The bytes are not JSON as this service takes it. ``code`` is stable; the message says what was found."""

    def __init__(self, code: str, detail: str) -> None:
        super().__init__(detail)
        self.code = code


def read_json(source: bytes) -> Any:
    """The value that ``source`` holds. Raises NotJson."""
    text = _decoded(source)
    _check_depth(source)
    try:
        value = json.loads(
            text,
            object_pairs_hook=_single_keys,
            parse_constant=_no_constant,
            parse_float=_finite,
            parse_int=_whole,
        )
        _clean_items([value])  # texts outside every object, which the hook does not see
        return value
    except NotJson:
        raise
    except json.JSONDecodeError as error:
        raise NotJson("malformed", f"{error.msg}, at line {error.lineno}, column {error.colno}") from None
    except (RecursionError, ValueError) as error:
        raise NotJson("malformed", f"this is not JSON: {type(error).__name__}") from None


def _decoded(source: bytes) -> str:
    if not source.strip():
        raise NotJson("empty", "the body is empty; a JSON object was wanted")
    if source.startswith((b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")):
        raise NotJson("encoding", "the text begins with a byte order mark; plain UTF-8 was wanted")
    try:
        return source.decode("utf-8")
    except UnicodeDecodeError as error:
        raise NotJson("encoding", f"byte {error.start} is not UTF-8") from None


def _check_depth(source: bytes) -> None:
    """Counts brackets outside strings before the parser, which recurses, sees them."""
    depth = 0
    for match in _BRACKETS.finditer(source):
        mark = match.group()[:1]
        if mark in b"[{":
            depth += 1
            if depth > DEEPEST:
                raise NotJson("too-deep", f"the text is nested more than {DEEPEST} deep at byte {match.start()}")
        elif mark in b"]}":
            depth -= 1


def _single_keys(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        _clean(key)
        if key in found:
            raise NotJson("doubled-key", f"the key {key[:64]!r} stands twice in one object")
        if type(value) is str:
            _clean(value)
        elif type(value) is list:
            _clean_items(value)
        found[key] = value
    return found


def _clean_items(items: list[Any]) -> None:
    for item in items:
        if type(item) is str:
            _clean(item)
        elif type(item) is list:
            _clean_items(item)


def _clean(text: str) -> None:
    if not text.isascii() and _SURROGATE.search(text):
        raise NotJson("surrogate", "a text holds half of a surrogate pair")
    if _CONTROL.search(text):
        raise NotJson("control-character", "a text holds a control character")


def _no_constant(name: str) -> NoReturn:
    raise NotJson("not-a-number", f"{name} is no JSON number")


def _finite(text: str) -> float:
    value = float(text) if len(text) <= MOST_DIGITS + 8 else float("inf")
    if value in (float("inf"), float("-inf")):
        raise NotJson("number-range", f"the number {text[:20]} is too large or too long")
    return value


def _whole(text: str) -> int:
    if len(text) > 16:
        raise NotJson("number-range", f"the number {text[:20]} is too large")
    return int(text)
