"""Bad bytes and bad plans: each is refused with its kind and its pointer, never with a crash."""

import copy
import json
import time
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from houses import house as whole_house
from nailplate.plan import PlanRefused, Pointer
from nailplate.wire import NotJson, read_json, read_plan, read_plan_value

SMALL: dict[str, Any] = {"plan_format": 1, "name": "small", "basis": {"edition": "2023"}}
LEVEL = {"levels": {"m": {"kind": "storey"}}}


@pytest.mark.parametrize(
    ("source", "code"),
    [
        (b"", "empty"),
        (b"  \n", "empty"),
        (b"[" * 100_000, "too-deep"),
        (b'{"a": NaN}', "not-a-number"),
        (b'{"a": -Infinity}', "not-a-number"),
        (b'{"a": 1e999}', "number-range"),
        (b'{"a": ' + b"9" * 5000 + b"}", "number-range"),
        (b'{"a": 1, "a": 2}', "doubled-key"),
        (b'{"a": "\\ud800"}', "surrogate"),
        (b'{"a": ["\\ud800"]}', "surrogate"),
        (b'{"a": "\\u0000"}', "control-character"),
        (b'{"a": 9007199254740993}', "number-range"),
        (b'{"a": 0.' + b"1" * 50 + b"}", "number-range"),
        (b'{"a\\n": 1}', "control-character"),
        (b'{"a": "\\u009b2J"}', "control-character"),
        (b'{"a": "\\uffff"}', "control-character"),
        ('{"a": 1}'.encode("utf-16"), "encoding"),
        ('{"a": 1}'.encode("utf-16-le"), "encoding"),
        ('{"a": 1}'.encode("utf-32-be"), "encoding"),
        (b'\xef\xbb\xbf{"a": 1}', "encoding"),
        (b'{"a": "\xff"}', "encoding"),
        (b'{"a": 1', "malformed"),
        (b"{'a': 1}", "malformed"),
    ],
)
def test_what_is_not_json_is_told_by_its_kind(source: bytes, code: str) -> None:
    with pytest.raises(NotJson) as caught:
        read_plan(source)
    assert caught.value.code == code


@pytest.mark.parametrize(
    ("source", "pointer"),
    [
        (b'{"boxes": {"a": {"depth": 2, "gangs": 1, "depth": 3}}}', "/boxes/a"),
        (b'{"boxes": {"a": {"depth": [0, 1e999]}}}', "/boxes/a/depth/1"),
        (b'{"name": "\\ud800", "extra": {"a": NaN}}', "/name"),
        (b'{"extra": {"a/b": [[Infinity]]}}', "/extra/a~1b/0/0"),
        (b'{"extra": {"a": 1, "a": 2', ""),
    ],
)
def test_what_is_refused_in_json_is_told_by_its_pointer(source: bytes, pointer: str) -> None:
    with pytest.raises(NotJson) as caught:
        read_json(source)
    assert caught.value.pointer == pointer


def test_whole_numbers_to_two_to_the_53rd_and_line_ends_in_texts_are_taken() -> None:
    assert read_json(b'{"a": -9007199254740992, "b": "x\\ny"}') == {"a": -(2**53), "b": "x\ny"}


def test_depth_is_counted_outside_texts_only() -> None:
    assert read_json(b'["' + b"[" * 1000 + b'\\"[["]') == ["[" * 1000 + '"[[']
    assert read_json(b"[" * 64 + b"]" * 64)
    with pytest.raises(NotJson, match="64 deep"):
        read_json(b"[" * 65 + b"]" * 65)


HOSTILE = {
    "an endless text of escaped quotes": b'{"a": "' + b'\\"' * 900_000,
    "an endless text of backslashes": b'{"a": "' + b"\\" * 1_800_000,
    "nothing but quotes": b'"' * 1_800_000,
    "a doubled key below a very long one": b'{"' + b"k" * 900_000 + b'": {"a": 1, ' + b'"b": 1, ' * 100_000 + b'"a": 2}}',
}


@pytest.mark.long
@pytest.mark.parametrize("source", HOSTILE.values(), ids=HOSTILE)
def test_work_grows_no_faster_than_the_text(source: bytes) -> None:
    """Seconds of processor time; reading any of these twice over for each of its characters would take minutes."""
    begun = time.process_time()
    with pytest.raises(NotJson):
        read_json(source)
    assert time.process_time() - begun < 10


@pytest.mark.parametrize(
    ("more", "pointer", "code"),
    [
        ({"boxes": None}, "/boxes", "wrong-type"),
        ({"boxes": []}, "/boxes", "wrong-type"),
        ({"boxes": {"a": 1}}, "/boxes/a", "wrong-type"),
        ({"_schema": 1}, "/_schema", "unknown-field"),
        ({"boxes": {"a": {"_schema": 1}}}, "/boxes/a/_schema", "unknown-field"),
        ({"boxes": {"٣": {}}}, "/boxes/٣", "bad-id"),
        ({"boxes": {"a\u00e9": {}}}, "/boxes/a\u00e9", "bad-id"),
        ({"boxes": {"": {}}}, "/boxes/", "bad-id"),
        ({"boxes": {"a/b": {}}}, "/boxes/a~1b", "bad-id"),
        ({"boxes": {"a": {"gangs": 2.0}}}, "/boxes/a/gangs", "wrong-type"),
        ({"boxes": {"a": {"gangs": True}}}, "/boxes/a/gangs", "wrong-type"),
        ({"boxes": {"a": {"depth": 0}}}, "/boxes/a/depth", "bad-value"),
        ({"boxes": {"a": {"depth": -1.7e308}}}, "/boxes/a/depth", "bad-value"),
        ({"units": {"length": "m"}, "boxes": {"a": {"depth": -1.7e308}}}, "/boxes/a/depth", "bad-value"),
        ({"boxes": {"a": {"depth": "0 in"}}}, "/boxes/a/depth", "bad-value"),
        ({"boxes": {"a": {"depth": "2 A"}}}, "/boxes/a/depth", "bad-quantity"),
        ({"boxes": {"a": {"volume": 18}}}, "/boxes/a/volume", "bad-quantity"),
        ({"boxes": {"a": {"support_rating": 35}}}, "/boxes/a/support_rating", "bad-quantity"),
        ({"boxes": {"a": {"trade_size": "4 x 1-1/2 rond"}}}, "/boxes/a/trade_size", "bad-choice"),
        ({"boxes": {"a": {"label": ""}}}, "/boxes/a/label", "bad-value"),
        ({"boxes": {"a": {"label": "x" * 201}}}, "/boxes/a/label", "bad-value"),
        ({"boxes": {"a": {"label": "two\nlines"}}}, "/boxes/a/label", "bad-value"),
        ({"boxes": {"a": {"at": {"height": 4}}}}, "/boxes/a/at", "missing-field"),
        ({"boxes": {"a": {"support_fittings": ["stud"] * 11}}}, "/boxes/a/support_fittings", "bad-value"),
        ({"boxes": {"a": {"support_fittings": ["stud", "nail"]}}}, "/boxes/a/support_fittings/1", "bad-choice"),
        ({"circuits": {"c": {"breaker": {"rating": "20"}}}}, "/circuits/c/breaker/rating", "bad-quantity"),
        ({"circuits": {"c": {"conductor": {"size": "none"}}}}, "/circuits/c/conductor/size", "bad-choice"),
        ({"suppressions": {"s": {"rule": "r", "part": "p", "accepted_by": "x"}}}, "/suppressions/s/reason", "missing-field"),
        (
            {"controls": {"c": {"switches": ["s"], "outlets": ["l"]}}, "devices": {"s": {"kind": "switch"}}},
            "/controls/c/outlets/0",
            "dangling-reference",
        ),
        ({"boxes": {f"b{number}": {} for number in range(25_001)}}, "", "limit-exceeded"),
        ({"boxes": {"a": {"volume": "9**9**9 ft"}}}, "/boxes/a/volume", "bad-quantity"),
        ({"boxes": {"a": {"depth": "7'-12\""}}}, "/boxes/a/depth", "bad-quantity"),
        ({"boxes": {"a": {"depth": "٣ in"}}}, "/boxes/a/depth", "bad-quantity"),
        ({"boxes": {"a": {"depth": "x" * 3_000_000}}}, "/boxes/a/depth", "bad-quantity"),
        ({"boxes": {"a": {"depth": True}}}, "/boxes/a/depth", "wrong-type"),
        ({"boxes": {"a": {"gangs": "2"}}}, "/boxes/a/gangs", "wrong-type"),
        ({"boxes": {"a": {"depth": None}}}, "/boxes/a/depth", "wrong-type"),
        (
            {"rooms": {"r": {"level": "m", "uses": ["den"], "outline": [[0, 0], [9, 9]]}}, **LEVEL},
            "/rooms/r/outline",
            "bad-value",
        ),
        (
            {"rooms": {"r": {"level": "m", "uses": ["den"], "outline": [[0, 0], [9, 9], [9, 0], [0, 9]]}}, **LEVEL},
            "/rooms/r/outline",
            "bad-geometry",
        ),
        ({"boxes": {"a": {"at": {"wall": "none"}}}}, "/boxes/a/at/wall", "dangling-reference"),
        ({"boxes": {"a": {}}, "cables": {"k": {"ends": [{"box": "a"}, {"box": "a"}]}}}, "/cables/k/ends", "contradiction"),
        ({"circuits": {"c": {"panel": "p"}}}, "/circuits/c/panel", "dangling-reference"),
        ({"devices": {"d": {"kind": "switch", "at": {"room": "d"}}}}, "/devices/d/at/room", "dangling-reference"),
        ({"boxes": {"b" * 65: {}}}, "/boxes/" + "b" * 65, "bad-id"),
        ({"boxes": {"a": {"volum": "18 in3"}}}, "/boxes/a/volum", "unknown-field"),
        ({"basis": {"edition": "2021"}}, "/basis/edition", "bad-choice"),
        ({"basis": {"edition": "2023", "permit_date": "2026-02-30"}}, "/basis/permit_date", "bad-value"),
    ],
)
def test_what_is_no_plan_is_told_by_its_pointer(more: dict[str, Any], pointer: str, code: str) -> None:
    with pytest.raises(PlanRefused) as caught:
        read_plan(json.dumps({**SMALL, **more}).encode())
    assert [(str(fault.pointer), fault.code.value) for fault in caught.value.faults] == [(pointer, code)]


@pytest.mark.parametrize("value", [[], 1, "plan", None, True])
def test_what_is_no_object_is_no_plan(value: object) -> None:
    assert faults_of(json.dumps(value).encode()) == [("", "wrong-type")]


def faults_of(source: bytes) -> list[tuple[str, str]]:
    with pytest.raises(PlanRefused) as caught:
        read_plan(source)
    return [(str(fault.pointer), fault.code.value) for fault in caught.value.faults]


def test_both_a_wall_and_a_room_are_a_contradiction() -> None:
    both = {"wall": "w", "room": "r"}
    assert ("/boxes/a/at", "contradiction") in faults_of(json.dumps({**SMALL, "boxes": {"a": {"at": both}}}).encode())


def test_faults_of_every_sort_come_together_in_the_documents_order() -> None:
    document = {
        "devices": {"d": {"kind": "swich", "box": "zz", "box_": 1}},
        "name": 5,
        "walls": {"w": {"level": "m", "from": ["x", 0], "to": [0, True], "kind": "interior"}},
        "cables": {"k": {"ends": [{"box": "a"}, {"box": "a"}]}},
        "boxes": {"a": {}, "b": {"gangs": 0, "at": {"wall": "ww"}}},
        "plan_format": 1,
        **LEVEL,
    }
    assert faults_of(json.dumps(document).encode()) == [
        ("/devices/d/kind", "bad-choice"),
        ("/devices/d/box", "dangling-reference"),
        ("/devices/d/box_", "unknown-field"),
        ("/name", "wrong-type"),
        ("/walls/w/from/0", "bad-quantity"),
        ("/walls/w/to/1", "wrong-type"),
        ("/cables/k/ends", "contradiction"),
        ("/boxes/b/gangs", "bad-value"),
        ("/boxes/b/at/wall", "dangling-reference"),
        ("/basis", "missing-field"),
    ]


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"boxes": {"a": {"volum": "18 in3"}}}, "did you mean 'volume'"),
        ({"devices": {"d": {"kind": "receptcle"}}}, "did you mean 'receptacle'"),
        ({"devices": {"d": {"kind": "receptcle"}}}, "none of receptacle, switch, dimmer"),
        ({"boxes": {"kitchen-2": {}}, "devices": {"d": {"kind": "switch", "box": "kitchen-3"}}}, "did you mean 'kitchen-2'"),
        ({"cables": {"k": {"size": "14AWG", "ends": []}}}, "did you mean '14 AWG'"),
        ({"boxes": {"a": {"depth": None}}}, "leave out"),
        ({"boxes": {"a": {"depth": "9" * 5000}}}, "at most 64 characters"),
    ],
)
def test_a_fault_says_what_was_probably_meant(more: dict[str, Any], words: str) -> None:
    with pytest.raises(PlanRefused) as caught:
        read_plan(json.dumps({**SMALL, **more}).encode())
    assert any(words in fault.detail for fault in caught.value.faults)
    assert all(len(fault.detail) < 1000 for fault in caught.value.faults)


def test_none_is_a_fact_for_a_grounding_conductor() -> None:
    document = {
        **SMALL,
        "boxes": {"a": {}, "b": {}},
        "cables": {"k": {"grounding": "none", "ends": [{"box": "a"}, {"box": "b"}]}},
    }
    assert read_plan(json.dumps(document).encode()).cables["k"].grounding == "none"


def test_parts_and_what_is_in_them_know_their_pointers() -> None:
    document = {**SMALL, "boxes": {"a": {}, "b": {}}, "cables": {"k": {"ends": [{"box": "a"}, {"box": "b"}]}}}
    cable = read_plan(json.dumps(document).encode()).cables["k"]
    assert str(cable.ends[1].pointer) == "/cables/k/ends/1"
    assert str(cable.where("size")) == "/cables/k/size"
    assert not cable.knows("size")


def test_data_of_the_callers_own_is_kept_and_not_looked_at() -> None:
    own = {"boxes": None, "a": [1, {"b": "9**9 ft"}]}
    plan = read_plan(json.dumps({**SMALL, "extra": own, "boxes": {"a": {"extra": own}}}).encode())
    assert plan.extra == own
    assert plan.boxes["a"].extra == own


MANY = 20_000
CROWDED: dict[str, dict[str, Any]] = {
    "fields unknown": {"boxes": {"a": {f"boxx{number}": 1 for number in range(100_000)}}},
    "choices wrong": {"devices": {f"d{number}": {"kind": "receptcle"} for number in range(MANY)}},
    "references lost": {
        "devices": {f"d{number}": {"kind": "switch", "box": "ab" * 30} for number in range(MANY)},
        "boxes": {f"{'ba' * 28}{number:05}": {} for number in range(1500)},
    },
}


@pytest.mark.long
@pytest.mark.parametrize("more", CROWDED.values(), ids=CROWDED)
def test_very_many_faults_are_all_counted_in_reasonable_time(more: dict[str, Any]) -> None:
    """Looking for what was meant in each of them would take minutes of processor time."""
    begun = time.process_time()
    assert len(faults_of(json.dumps({**SMALL, **more}).encode())) >= MANY
    assert time.process_time() - begun < 20


PLAN = whole_house("tamarack-wren")
SPARE = {
    name: dict(list(part.items())[:2]) if name not in ("basis", "units") and isinstance(part, dict) else part
    for name, part in PLAN.items()
}
"""The first parts of every map: small, and with references to nothing."""
ODD = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(2**53), 2**53),
    st.floats(),
    st.text(max_size=8),
    st.sampled_from(
        ["none", "20 A", "18 in3", "7'-6\"", "_schema", "14 AWG", [[0, 0]] * 3, {"box": "a"}, {"wall": 1, "room": 2}]
    ),
    st.lists(st.integers(), max_size=3),
    st.dictionaries(st.text(max_size=4), st.integers(), max_size=2),
)


def _slots(value: Any) -> list[tuple[Any, Any]]:
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [slot for key, each in inner for slot in ((value, key), *_slots(each))]


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(st.data())
def test_a_plan_changed_anywhere_is_read_or_refused(data: st.DataObject) -> None:
    """Nothing else may come of it, whatever stands where; each fault points at something that the document has or could have."""
    document = copy.deepcopy(SPARE)
    for _ in range(data.draw(st.integers(1, 4))):
        slots = _slots(document)
        holder, key = slots[data.draw(st.integers(0, len(slots) - 1))]
        holder[key] = copy.deepcopy(data.draw(ODD))
    for pointer in _pointers_of_faults(document):
        holder = document
        for token in pointer.members[:-1]:
            holder = holder[int(token)] if isinstance(holder, list) else holder[token]
        assert isinstance(holder, dict | list), pointer


def _pointers_of_faults(document: object) -> list[Pointer]:
    try:
        read_plan_value(document)
    except PlanRefused as refused:
        return [fault.pointer for fault in refused.faults]
    return []
