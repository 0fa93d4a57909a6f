"""Runs of a route: in which wall they lie, how long they are, whether they go up a stud or through studs."""

import json
from typing import Any

import pytest

from nailplate.survey import Survey
from nailplate.survey.rough_in import Run, elevated, runs, runs_in_wall
from nailplate.wire import read_plan

WALLS = {
    "n": {"level": "main", "from": [10, 100], "to": [210, 100], "thickness": 4.5, "kind": "exterior"},
    "e": {"level": "main", "from": [210, 100], "to": [210, 0], "thickness": 4.5, "kind": "exterior"},
}


def survey_of(segment: dict[str, Any], **levels: Any) -> Survey:
    plan = {
        "plan_format": 1,
        "name": "p",
        "basis": {"edition": "2023"},
        "levels": levels or {"main": {"kind": "storey", "ceiling": {"height": 96}}},
        "walls": WALLS,
        "boxes": {"a": {}, "b": {}},
        "cables": {"k": {"ends": [{"box": "a"}, {"box": "b"}], "route": [{"how": "bored", **segment}]}},
    }
    return Survey(read_plan(json.dumps(plan).encode()))


def only_run(segment: dict[str, Any], **levels: Any) -> Run:
    [run] = runs(survey_of(segment, **levels))
    return run


def test_run_without_a_wall_lies_in_the_wall_whose_body_holds_it() -> None:
    run = only_run({"level": "main", "points": [[30, 100], [60, 101]], "heights": [20, 20]})
    assert run.wall is not None
    assert run.wall.id == "n"
    assert run.on_wall == ((20.0, 20.0), (50.0, 20.0))


@pytest.mark.parametrize(
    ("points", "heights"),
    [
        ([[30, 100], [30, 50]], [20, 20]),  # out into the room
        ([[30, 100], [60, 100]], [98, 98]),  # over the ceiling
        ([[210, 100], [210, 100]], [20, 40]),  # at the corner of two walls
    ],
)
def test_run_that_no_one_wall_holds_lies_in_none(points: list[list[float]], heights: list[float]) -> None:
    assert only_run({"level": "main", "points": points, "heights": heights}).wall is None


def test_stated_wall_gives_the_level() -> None:
    run = only_run({"wall": "e", "points": [[210, 80], [210, 80]], "heights": [20, 44]})
    assert (run.level, run.upright, run.length) == ("main", True, 24.0)


def test_run_without_heights_has_no_length_and_no_direction() -> None:
    run = only_run({"wall": "e", "points": [[210, 80], [210, 60]]})
    assert (run.points, run.length, run.upright) == ((), None, None)


def test_upper_level_lifts_its_runs_by_its_floor() -> None:
    levels = {"main": {"kind": "storey"}, "loft": {"kind": "loft", "elevation": 90}}
    survey = survey_of({"level": "loft", "points": [[0, 0], [9, 0]], "heights": [10, 10]}, **levels)
    [run] = runs(survey)
    assert elevated(survey, run) == ((0.0, 0.0, 100.0), (9.0, 0.0, 100.0))


def test_runs_are_found_by_their_wall() -> None:
    survey = survey_of({"wall": "e", "points": [[210, 80], [210, 60]], "heights": [20, 20]})
    assert [run.cable.id for run in runs_in_wall(survey, survey.plan.walls["e"])] == ["k"]
    assert runs_in_wall(survey, survey.plan.walls["n"]) == ()
