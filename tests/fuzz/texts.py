"""JSON texts spoiled on purpose, read at once and by the exact reader: none that one takes and the other refuses, no other value.

Run: ``PYTHONPATH=service:tests nice -n 19 python tests/fuzz/texts.py [texts] [first seed]``. A seed is all that it takes to have a
text again: ``spoiled(SEED)``.
"""

import json
import random
import sys
from collections import Counter
from time import process_time
from typing import Any

from fuzz.seeds import cases
from nailplate.wire.json_at_once import Doubtful, read_at_once
from nailplate.wire.json_text import NotJson, read_exactly

ODD = (
    *(b"\\u0000", b"\\u001f", b"\\u0009", b"\\u000a", b"\\u007f", b"\\u007F", b"\\u009f", b"\\ud800", b"\\uDFFF", b"\\ud83d\\ude00"),
    *(b"\\uffff", b"\\uFFFE", b"\\u00b0", b"\\u00e9", b"\\b", b"\\f", b"\\n", b"\\r", b"\\t", b"\\/", b"\\", b"\\\\", b'\\"', b'\\\\"'),
    *(b'"', b'""', b"{", b"}", b"[", b"]", b"[]", b"{}", b":", b",", b" ", b"\n", b"\t", b"\x00", b"\x1f", b"\x7f", b"\x0b", b"\xa0"),
    *("\u0080".encode(), "\u009f".encode(), "\u00b0".encode(), "\ufffe".encode(), "\uffff".encode(), "\ufeff".encode(), b"\xed\xa0\x80"),
    *(b"0", b"-0", b"-", b".", b"e", b"1e5", b"1E999", b"1e-400", b"0.1", b"01", b"1.", b"NaN", b"Infinity", b"-Infinity", b"null"),
    *(b"9007199254740992", b"9007199254740993", b"-9007199254740992", b"999999999999999", b"1" * 20, b"0." + b"1" * 21, b"0." + b"1" * 36),
    *(b"123456789012345." + b"1" * 20, b"123456789012345." + b"1" * 24, b"1." + b"0" * 35,
      b"12345678901234567.5", b'"a": 1, "a": 2', b'{"a": 1, "a": 1}', b'{"a\\n": 1}'),
    *(b"[" * 60, b"]" * 60, b"[" * 66 + b"]" * 66, b'{"a":' * 66 + b"1" + b"}" * 66, b'"[[["', b'"]]]"', b'":"', b"true", b"tru", b"'"),
)  # fmt: skip
LAYOUTS: tuple[dict[str, Any], ...] = ({}, {"indent": 2}, {"separators": (",", ":"), "ensure_ascii": False})
SHORT = 4000
"""Characters of a seed text at the most: many small texts find more than few long ones."""


def spoiled(seed: int) -> bytes:
    """The text that a seed makes: a case's plan, or a piece of it, with up to four odd places."""
    rng = random.Random(seed)
    document = rng.choice(cases())[1]
    while rng.randrange(3) and isinstance(document, dict) and document:
        document = rng.choice(list(document.values()))
    text = bytearray(json.dumps(document, **rng.choice(LAYOUTS)).encode()[:SHORT])
    for _ in range(rng.choice((0, 1, 1, 1, 2, 4))):
        start = rng.randrange(len(text) + 1)
        end = start + rng.choice((0, 0, 0, 1, 1, 2, 9))
        again = bytes(text[start : start + rng.randrange(60)])
        text[start:end] = rng.choice((b"", again + again, rng.choice(ODD), rng.choice(ODD), rng.choice(ODD)))
    return bytes(text)


def differing(source: bytes) -> str | None:
    """How the two readers differ over a text; ``taken`` and ``refused`` are told by ``outcome``."""
    try:
        value = read_at_once(source)
    except (Doubtful, RecursionError, ValueError):
        return None
    try:
        exact = read_exactly(source)
    except NotJson as refused:
        return f"taken at once, refused by the exact reader: {refused}"
    return (
        None if repr(value) == repr(exact) else "read to another value"
    )  # a repr tells 1 from 1.0 and keeps the order of keys


def outcome(source: bytes) -> str:
    """What became of a text, for the count: how many of all kinds the fuzz has seen."""
    try:
        read_exactly(source)
    except NotJson as refused:
        return refused.code
    try:
        read_at_once(source)
    except (Doubtful, RecursionError, ValueError):
        return "taken by the exact reader alone"
    return "taken at once"


def main(arguments: list[str]) -> int:
    numbers = [int(each) for each in arguments]
    texts, first = (numbers + [10_000, 1][len(numbers) :])[:2]
    seen: Counter[str] = Counter()
    wrong, begun = 0, process_time()
    for seed in range(first, first + texts):
        source = spoiled(seed)
        seen[outcome(source)] += 1
        if what := differing(source):
            wrong += 1
            print(f"seed {seed}: {what}", flush=True)
    print(f"{texts} texts from seed {first}: {wrong} read differently, {process_time() - begun:.0f} CPU s")
    for what, number in seen.most_common():
        print(f"{number:8} {what}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
