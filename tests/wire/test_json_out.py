"""JSON as it is written: the bytes that Python's own encoder gives, with nothing in them that acts."""

import json
from enum import StrEnum
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nailplate.review.inert import inert_json
from nailplate.wire import text_of


def by_the_encoder(value: object) -> bytes:
    return (inert_json(json.dumps(value, ensure_ascii=False, indent=2)) + "\n").encode()


SCALARS = st.none() | st.booleans() | st.integers() | st.floats() | st.text()
VALUES = st.recursive(
    SCALARS,
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner, max_size=4) | st.tuples(inner, inner)
    ),
    max_leaves=20,
)


@settings(deadline=None, max_examples=300)
@given(VALUES)
def test_values_are_written_as_the_encoder_writes_them(value: object) -> None:
    assert text_of(value) == by_the_encoder(value)


class Word(StrEnum):
    A = "a\nb"


ODD: tuple[Any, ...] = (
    *({}, [], (), {"a": {}}, {"a": []}, [[], {}], {"a": [{}, [[]]]}, {1: 2}, {None: 1, True: [1]}, {"a": {1.5: ["x"]}}),
    *({"a b": 1, 'q"': 2, "back\\slash": 3, "é": 4, "\u202e": 5, "": 6}, "\x7f", {"\x7f": "\x7f"}, "\u200b\u2028", "\x1f\n\t"),
    *(
        float("nan"),
        [float("inf")],
        -0.0,
        1e16,
        1e-7,
        2**70,
        True,
        [None, False],
        Word.A,
        {"w": [Word.A]},
        {Word.A: Word.A},
        "\ufffe",
    ),
    {"deep": [{"list": [1, 2.5, {"text": "a\nb\u202ec", "none": None}]}]},
)


@pytest.mark.parametrize("value", ODD, ids=range(len(ODD)))
def test_odd_values_are_too(value: object) -> None:
    assert text_of(value) == by_the_encoder(value)


def test_what_is_no_json_is_refused_as_ever() -> None:
    for value in (object(), {"a": {1, 2}}, [{(1, 2): 3}]):
        with pytest.raises(TypeError):
            text_of(value)
