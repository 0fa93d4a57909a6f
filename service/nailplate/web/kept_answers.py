"""Answers that a worker keeps in memory, for whoever sends the same bytes again: an editor that saves, a build that runs once more.

Nobody learns anything by it: only who has the whole body, and may call at all, gets its answer. A setting turns it off.
"""

import hashlib
import json
from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from threading import Lock
from typing import Any, Final

from flask import g

from nailplate import __version__
from nailplate.catalog import Catalog
from nailplate.web.held import once, settings
from nailplate.web.traffic import note

_SHARE: Final = 8
"""A single answer takes no more than one part in this many of all that may be kept."""
_BESIDE: Final = 1000
"""Bytes that an answer takes beside its text, about."""


@dataclass(frozen=True, slots=True)
class Answer:
    """The text of an answer, and what the log says of it."""

    text: bytes
    noted: Mapping[str, Any]


class Answers:
    """Answers by key, at most so many bytes of them; those unused the longest go first."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._size = 0
        self._held: OrderedDict[bytes, Answer] = OrderedDict()
        self._lock = Lock()

    @property
    def size(self) -> int:
        """Bytes held now."""
        return self._size

    def find(self, key: bytes) -> Answer | None:
        """The answer of that key, if it is still here."""
        with self._lock:
            found = self._held.get(key)
            if found is not None:
                self._held.move_to_end(key)
            return found

    def keep(self, key: bytes, answer: Answer) -> None:
        """Keeps an answer that is not too large, in place of older ones."""
        size = _size(answer)
        if size * _SHARE > self._most:
            return
        with self._lock:
            if key in self._held:
                return
            self._held[key] = answer
            self._size += size
            while self._size > self._most:
                _, gone = self._held.popitem(last=False)
                self._size -= _size(gone)


def _size(answer: Answer) -> int:
    return len(answer.text) + _BESIDE


def answered(body: bytes, media: str, day: str, packs: Catalog, make: Callable[[], bytes]) -> bytes:
    """What ``make`` answers to ``body`` in a form on a day, or the same bytes as it gave before.

    The body holds plan, edition, amendments and options; packs, version and settings are an application's own and part of the
    key all the same. What raises is not kept, nor an answer in which a rule failed.
    """
    most = settings().kept_answers
    if not most:
        return make()
    held = once("nailplate.kept_answers", lambda: Answers(most))
    key = _key(body, media, day, packs)
    found = held.find(key)
    if found is not None:
        note(**found.noted, kept=True)
        return found.text
    before = {*g.noted}
    text = make()
    noted = {name: said for name, said in g.noted.items() if name not in before}
    if not noted.get("crashed"):
        held.keep(key, Answer(text, noted))
    return text


def _key(body: bytes, media: str, day: str, packs: Catalog) -> bytes:
    chosen = settings()
    judges = [__version__, *((pack.name, pack.version, len(pack.rules)) for pack in packs.packs)]
    beside = json.dumps([judges, chosen.max_findings, chosen.check_budget, media, day])
    return hashlib.sha256(beside.encode() + b"\0" + body).digest()
