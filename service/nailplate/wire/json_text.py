"""A strict JSON reader: UTF-8, no doubled keys, no NaN, no absurd numbers or nesting, no lone surrogates.

Errors: ``NotJson`` and nothing else, whatever the bytes.
"""

import json
import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any, NoReturn

from nailplate.plan import ROOT, Pointer
from nailplate.wire.json_at_once import Doubtful, read_at_once
from nailplate.wire.limits import DEEPEST, LARGEST_WHOLE, MOST_DIGITS

# Texts go into XML, terminals and tables: no control characters but tab and line ends, nothing that XML 1.0 cannot hold (2.2).
_SURROGATE = re.compile("[\ud800-\udfff]")
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ufffe\uffff]")
_CONTROL_IN_KEY = re.compile("[\x00-\x1f\x7f-\x9f\ufffe\uffff]")
_BRACKETS = re.compile(rb'"(?:[^"\\]++|\\.)*+"?|[\[\]{}]', re.DOTALL)
"""Strings whole, so that what they hold is passed over, and brackets. Possessive: nothing is ever read twice."""


class NotJson(ValueError):
    """The bytes are not JSON as this service takes it.

    ``code`` is stable; the message says what was found. ``pointer`` is where, if the text could be read so far.
    """

    def __init__(self, code: str, detail: str, pointer: Pointer = ROOT) -> None:
        super().__init__(detail)
        self.code = code
        self.pointer = pointer


def read_json(source: bytes) -> Any:
    """The value that ``source`` holds. Raises NotJson."""
    try:
        return read_at_once(source)
    except (Doubtful, RecursionError, ValueError):  # a bad encoding and malformed JSON are ValueErrors too
        return read_exactly(source)


def read_exactly(source: bytes) -> Any:
    """The same by the exact reader alone, which finds and words whatever is refused. Raises NotJson."""
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
    except NotJson as refused:
        raise _placed(text, refused) from None
    except json.JSONDecodeError as error:
        raise NotJson("malformed", f"{error.msg}, at line {error.lineno}, column {error.colno}") from None
    except (RecursionError, ValueError) as error:
        raise NotJson("malformed", f"this is not JSON: {type(error).__name__}") from None


def _decoded(source: bytes) -> str:
    if not source.strip():
        raise NotJson("empty", "the body is empty; a JSON object was wanted")
    if source.startswith((b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")):
        raise NotJson("encoding", "the text begins with a byte order mark; plain UTF-8 was wanted")
    if b"\0" in source[:4]:
        raise NotJson("encoding", "the text looks like UTF-16 or UTF-32; plain UTF-8 was wanted")
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
        _clean_key(key)
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


def _clean_key(key: str) -> None:
    _clean(key)
    if _CONTROL_IN_KEY.search(key):
        raise NotJson("control-character", "a key holds a control character")


def _no_constant(name: str) -> NoReturn:
    raise NotJson("not-a-number", f"{name} is no JSON number")


def _finite(text: str) -> float:
    value = float(text) if len(text) <= MOST_DIGITS + 8 else float("inf")
    if value in (float("inf"), float("-inf")):
        raise NotJson("number-range", f"the number {text[:20]} is too large or too long")
    return value


def _whole(text: str) -> int:
    if len(text) > len(str(-LARGEST_WHOLE)) or abs(int(text)) > LARGEST_WHOLE:
        raise NotJson("number-range", f"the number {text[:20]} is too large")
    return int(text)


# Where it stands: the parser does not tell, so a text that was refused is read once more, loosely, and walked.


class _Pairs(list[tuple[str, Any]]):
    """An object with its keys as they stand, doubled or not."""


class _Figure(str):
    """A number as it is written."""

    __slots__ = ()


class _Constant(str):
    """NaN or an infinity."""

    __slots__ = ()


def _placed(text: str, refused: NotJson) -> NotJson:
    """The first refusal in the document's order, with its pointer; ``refused`` itself if the text cannot be read to its end."""
    try:
        loose = json.loads(text, object_pairs_hook=_Pairs, parse_float=_Figure, parse_int=_Figure, parse_constant=_Constant)
    except (RecursionError, ValueError):
        return refused
    path: list[str | int] = []
    first = next(_refusals(loose, path), refused)
    pointer = ROOT
    for token in path:
        pointer /= token
    where = str(pointer) or "the root"
    return NotJson(first.code, f"{first}, at {where[:100]}", pointer)


def _refusals(value: Any, path: list[str | int]) -> Iterator[NotJson]:
    """What is refused in ``value``; while one is looked at, ``path`` leads to it."""
    if isinstance(value, _Pairs):
        seen: set[str] = set()
        for key, inner in value:
            yield from _refused(_clean_key, key)
            if key in seen:
                yield NotJson("doubled-key", f"the key {key[:64]!r} stands twice in one object")
            seen.add(key)
            yield from _within(inner, key, path)
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from _within(inner, index, path)
    elif isinstance(value, str):
        yield from _refused(_CHECKS.get(type(value), _clean), value)


def _within(inner: Any, token: str | int, path: list[str | int]) -> Iterator[NotJson]:
    path.append(token)
    yield from _refusals(inner, path)
    path.pop()


def _refused(check: Callable[[str], object], text: str) -> Iterator[NotJson]:
    try:
        check(text)
    except NotJson as refused:
        yield refused


def _figure(text: str) -> float:
    return _whole(text) if text.lstrip("-").isdigit() else _finite(text)


_CHECKS: Mapping[type, Callable[[str], object]] = {_Figure: _figure, _Constant: _no_constant}
