"""Texts read at once: no other value than the exact reader's, and nothing that it refuses. The long line is ``fuzz/texts.py``."""

import json
from collections import Counter
from importlib.resources import files

import pytest

from fuzz.texts import differing, outcome, spoiled
from nailplate.wire import read_json
from nailplate.wire.json_at_once import Doubtful, read_at_once
from nailplate.wire.json_text import read_exactly

HOUSES = ("tamarack-wren", "tamarack-heron", "tamarack-osprey")
TEXTS = 6000
KINDS = {
    *(
        "taken at once",
        "taken by the exact reader alone",
        "malformed",
        "control-character",
        "encoding",
        "too-deep",
        "number-range",
    ),
    *("empty", "doubled-key", "surrogate", "not-a-number"),
}


def test_spoiled_texts_are_read_the_same_by_both_readers() -> None:
    texts = [spoiled(seed) for seed in range(1, TEXTS)]
    assert {seed: what for seed, text in enumerate(texts, 1) if (what := differing(text))} == {}
    seen = Counter(map(outcome, texts))
    assert set(seen) == KINDS, seen
    assert seen["taken at once"] > TEXTS / 4


@pytest.mark.parametrize("house", HOUSES)
@pytest.mark.parametrize("layout", [{}, {"indent": 1}, {"separators": (",", ":"), "ensure_ascii": False}])
def test_whole_houses_are_read_at_once_however_they_are_written(house: str, layout: dict[str, object]) -> None:
    value = json.loads(files("nailplate").joinpath("examples", f"{house}.json").read_bytes())
    value["extra"] = {
        "note": "a 7'-6\" wall at 40 °C\nand a backslash \\ with [brackets: } in it",
        "half": "½",
        "sum": 0.1 + 0.2,
    }
    source = json.dumps(value, **layout).encode()  # type: ignore[arg-type]
    assert read_at_once(source) == value == read_exactly(source)


@pytest.mark.parametrize(
    "source",
    [
        b'{"a": "\\ud83d\\ude00"}',  # a whole pair of surrogates
        b'{"a": 9007199254740992}',
        b'{"a": 1e3}',
        b'{"a": 0.1111111111111111111111111}',
        b'{"a": "C:\\\\files", "b": "\\u000a"}',
    ],
)
def test_what_is_sound_and_looks_odd_is_left_to_the_exact_reader(source: bytes) -> None:
    with pytest.raises(Doubtful):
        read_at_once(source)
    assert read_json(source) == json.loads(source)
