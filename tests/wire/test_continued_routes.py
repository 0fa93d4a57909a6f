"""A segment that says only where it ends starts where the one before it ends."""

from typing import Any

import pytest

from nailplate.plan import PlanRefused, Segment
from nailplate.wire import read_plan_value

HEAD: dict[str, Any] = {"plan_format": 1, "name": "small", "basis": {"edition": "2023"}, "boxes": {"a": {}, "b": {}}}
LEVELS = {"m": {"kind": "storey"}, "n": {"kind": "loft"}}
START = {"level": "m", "how": "bored", "points": [[0, 0], [0, 10]], "heights": [3, 4]}


def plan(*route: Any) -> dict[str, Any]:
    return {**HEAD, "levels": LEVELS, "cables": {"c": {"ends": [{"box": "a"}, {"box": "b"}], "route": list(route)}}}


def course(segment: Segment) -> list[Any]:
    return [[*segment.points], [*segment.heights]]


def test_course_goes_on_from_the_segment_before() -> None:
    up, on = {"level": "m", "how": "along_member", "to_height": 40}, {"level": "m", "how": "bored", "to": [9, 10]}
    first, second, third = read_plan_value(plan(START, up, on)).cables["c"].route
    assert course(first) == [[(0, 0), (0, 10)], [3, 4]]
    assert course(second) == [[(0, 10), (0, 10)], [4, 40]]
    assert course(third) == [[(0, 10), (9, 10)], [40, 40]]
    assert second.where("heights") == "/cables/c/route/1/to_height"


def test_without_heights_the_course_has_none() -> None:
    start = {key: value for key, value in START.items() if key != "heights"}
    second = read_plan_value(plan(start, {"level": "m", "how": "bored", "to": [9, 10]})).cables["c"].route[1]
    assert [float(each) for point in second.points for each in point] == [0, 10, 9, 10]
    assert not second.knows("heights")


WRONG = [
    ([{"level": "m", "how": "bored", "to": [9, 10]}], "/cables/c/route/0/to", "no segment before"),
    ([{**START, "to": [9, 10]}], "/cables/c/route/0/to", "one way is enough"),
    ([START, {"level": "n", "how": "bored", "to": [9, 10]}], "/cables/c/route/1/to", "another level"),
    (
        [{**START, "heights": [1, 2, 3]}, {"level": "m", "how": "bored", "to_height": 9}],
        "/cables/c/route/1/to_height",
        "no height",
    ),
]


@pytest.mark.parametrize(("route", "pointer", "words"), WRONG, ids=[each[2] for each in WRONG])
def test_what_cannot_go_on_is_a_fault(route: Any, pointer: str, words: str) -> None:
    with pytest.raises(PlanRefused) as refused:
        read_plan_value(plan(*route))
    assert [str(fault.pointer) for fault in refused.value.faults if words in fault.detail] == [pointer]
