"""Bad bytes and bad plans: each is refused with its kind and its pointer, never with a crash."""

import json
from typing import Any

import pytest

from nailplate.plan import PlanRefused
from nailplate.wire import NotJson, read_plan

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
        ('{"a": 1}'.encode("utf-16"), "encoding"),
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
    ("more", "pointer", "code"),
    [
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


def test_a_device_id_in_a_rooms_place_is_said_to_be_one() -> None:
    document = {**SMALL, "devices": {"d": {"kind": "switch", "at": {"room": "d"}}}}
    with pytest.raises(PlanRefused, match="is one of the devices"):
        read_plan(json.dumps(document).encode())


def test_all_faults_are_told_at_once() -> None:
    document = {**SMALL, "boxs": {}, "boxes": {"a": {"gangs": 0}, "b": {"volume": "18"}}}
    with pytest.raises(PlanRefused) as caught:
        read_plan(json.dumps(document).encode())
    assert len(caught.value.faults) == 3


@pytest.mark.parametrize(("unit", "bare"), [("in", 72), ("ft", 6), ("mm", 1828.8), ("cm", 182.88), ("m", 1.8288)])
def test_bare_lengths_are_in_the_plans_unit(unit: str, bare: float) -> None:
    document = {**SMALL, "units": {"length": unit}, "boxes": {"a": {"depth": bare}}}
    assert read_plan(json.dumps(document).encode()).boxes["a"].depth == pytest.approx(72.0)
