"""Which cables lie together as drawn: lengths and spacings at the limit, holes they share, and a wall full of them in no time."""

import json
import time
from typing import Any

import pytest

from nailplate.survey import Survey
from nailplate.survey.rough_in import drawn_bundle, drawn_bundles, in_one_hole, lies_in_insulation
from nailplate.survey.rough_in.side_by_side import beside
from nailplate.wire import read_plan

WALL = {"level": "m", "from": [0, 0], "to": [300, 0], "kind": "exterior", "thickness": 5, "height": 96}


def surveyed(cables: dict[str, list[dict[str, Any]]], **wall: Any) -> Survey:
    plan = {
        "plan_format": 1,
        "name": "p",
        "basis": {"edition": "2023"},
        "levels": {"m": {"kind": "storey"}},
        "walls": {"w": {**WALL, **wall}},
        "panels": {"p": {"kind": "subpanel"}, "q": {"kind": "subpanel"}},
        "cables": {
            name: {"type": "NM-B", "ends": [{"panel": "p"}, {"panel": "q"}], "route": route} for name, route in cables.items()
        },
    }
    return Survey(read_plan(json.dumps(plan).encode()))


def run(start: tuple[float, float], end: tuple[float, float], how: str = "bored", **facts: Any) -> dict[str, Any]:
    points, heights = zip(*(((along, 0), height) for along, height in (start, end)), strict=True)
    return {"level": "m", "wall": "w", "points": points, "heights": heights, "how": how, **facts}


def together(survey: Survey, name: str, *, strict: bool = True) -> list[tuple[str, float]]:
    bundles = drawn_bundles(survey, survey.plan.cables[name], strict=strict)
    return [("+".join(each.id for each in bundle.cables), round(bundle.length, 3)) for bundle in bundles]


@pytest.mark.parametrize(("long", "found"), [(24.0, []), (24.1, [("a+b", 24.1)])])
def test_cables_on_one_line_for_more_than_24_inches_are_a_bundle(long: float, found: list[tuple[str, float]]) -> None:
    survey = surveyed({"a": [run((0, 40), (100, 40))], "b": [run((60, 40), (60 + long, 40))]})
    assert together(survey, "a") == together(survey, "b") == found


@pytest.mark.parametrize(
    ("apart", "strict", "literal"), [(0.0, True, True), (0.49, True, True), (0.5, True, False), (1.0, False, False)]
)
def test_an_inch_from_center_to_center_is_a_spacing_and_half_an_inch_is_none(apart: float, strict: bool, literal: bool) -> None:
    survey = surveyed({"a": [run((0, 40), (100, 40))], "b": [run((0, 40 + apart), (100, 40 + apart))]})
    assert (bool(together(survey, "a")), bool(together(survey, "a", strict=False))) == (strict, literal)


def test_a_bundle_goes_on_around_a_corner() -> None:
    both = [run((50, 90), (50, 70), "along_member"), run((50, 70), (70, 70))]
    assert together(surveyed({"a": both, "b": both}), "a") == [("a+b", 40)]


def test_a_slanted_run_lies_beside_another_as_long_as_it_is_near() -> None:
    survey = surveyed({"a": [run((0, 40), (100, 40))], "b": [run((0, 40), (100, 42))]})
    [(names, length)] = together(survey, "a")
    assert names == "a+b"
    assert length == pytest.approx(50.0, abs=0.1)  # two inches apart at the far end, so one inch halfway


def test_three_that_meet_by_twos_are_no_bundle_of_three() -> None:
    survey = surveyed({"a": [run((0, 40), (200, 40))], "b": [run((0, 40), (60, 40))], "c": [run((50, 40), (120, 40))]})
    assert together(survey, "a") == [("a+b", 60), ("a+c", 70)]


def test_a_stretch_knows_the_largest_bundle_that_it_is_in() -> None:
    survey = surveyed({name: [run((0, 40), (100, 40)), run((100, 40), (100, 45), "along_member")] for name in "abc"})
    bundle = drawn_bundle(survey, survey.plan.cables["b"].route[0], strict=True)
    assert bundle is not None
    assert [cable.id for cable in bundle.cables] == ["a", "b", "c"]


# However a pair is laid in the house it lies together as long: the walk looks through cells of 2 in by 48 in.
@pytest.mark.parametrize("up", [0.0, 0.5, 0.9, 1.4, 1.9])
@pytest.mark.parametrize("rise", [0, 60], ids=["level", "slanted"])
@pytest.mark.parametrize("turned", [False, True], ids=["onward", "backward"])
@pytest.mark.parametrize("across", [False, True], ids=["along x", "along y"])
def test_a_pair_lies_together_wherever_it_is(up: float, rise: float, turned: bool, across: bool) -> None:
    def laid(begin: float, end: float, above: float) -> list[dict[str, Any]]:
        ends = [(along, 10 + up + above + (along - 70) * rise / 60) for along in (begin, end)]
        one = run(*(reversed(ends) if turned else ends))
        return [{**one, "points": [point[::-1] for point in one["points"]]} if across else one]

    wall = {"to": [0, 300]} if across else {}
    survey = surveyed({"a": laid(70, 130, 0), "b": laid(84, 123, 0.4)}, **wall)
    assert [names for names, _ in together(survey, "a")] == [names for names, _ in together(survey, "b")] == ["a+b"]
    [(_, length)] = together(survey, "a")
    assert length == pytest.approx(39 * 2**0.5 if rise else 39, abs=0.01)


def test_a_run_that_crosses_lies_beside_another_about_the_crossing() -> None:
    survey = surveyed({"a": [run((0, 40), (100, 40))], "b": [run((0, 38), (100, 42))]})
    [(names, length)] = together(survey, "a")
    assert names == "a+b"
    assert length == pytest.approx(50.0, abs=0.1)  # within an inch from a quarter of the way to three


@pytest.mark.parametrize(("aside", "found"), [(2.0, [("a+b", 62)]), (2.5, [("a+b", 30)])])
def test_two_inches_aside_as_around_a_stud_part_nothing(aside: float, found: list[tuple[str, float]]) -> None:
    around = [((0, 40), (30, 40)), ((30, 40), (30, 45)), ((30, 45), (30 + aside, 45)), ((30 + aside, 45), (30 + aside, 40))]
    legs = [*around, ((30 + aside, 40), (60 + aside, 40))]
    survey = surveyed({"a": [run((0, 40), (100, 40))], "b": [run(*leg) for leg in legs]})
    assert together(survey, "a") == found


def test_runs_in_one_line_that_do_not_reach_each_other_are_not_beside_each_other() -> None:
    survey = surveyed({"a": [run((0, 40), (40, 40))], "b": [run((42, 40), (80, 40))]})
    assert beside(survey, survey.plan.cables["a"], 1.0) == beside(survey, survey.plan.cables["b"], 1.0) == ()


def test_runs_that_cross_further_off_are_not_beside_each_other() -> None:
    def floor(across: float, low: float, high: float) -> list[dict[str, Any]]:
        return [{"level": "m", "points": [[0, across], [100, across]], "heights": [low, high], "how": "bored"}]

    survey = surveyed({"a": floor(50, 40, 40), "b": floor(51.5, 39, 41), "c": floor(50.8, 39, 41)})
    assert [each.other.id for each in beside(survey, survey.plan.cables["a"], 1.0)] == ["c"]


@pytest.mark.parametrize(("crossing", "sharing"), [(96.5, ["a", "b"]), (95.0, ["a"])])
def test_cables_through_the_top_plate_at_one_place_share_its_hole(crossing: float, sharing: list[str]) -> None:
    survey = surveyed({name: [run((50, 90), (50, crossing), "along_member")] for name in "ab"})
    assert [cable.id for cable in in_one_hole(survey, survey.plan.cables["a"].route[0])] == sharing


@pytest.mark.parametrize(("long", "sharing"), [(16.0, ["a", "b"]), (15.9, ["a"])])
def test_cables_along_a_stud_spacing_share_a_stud(long: float, sharing: list[str]) -> None:
    survey = surveyed({"a": [run((0, 40), (100, 40))], "b": [run((30, 40), (30 + long, 40))]}, framing={"spacing": 16})
    assert [cable.id for cable in in_one_hole(survey, survey.plan.cables["a"].route[0])] == sharing


@pytest.mark.parametrize(
    ("cavity", "typed", "lies"),
    [
        ("batt", None, True),
        ("spray_foam", False, True),
        ("none", True, True),
        ("none", False, False),
        ("none", None, False),
        (None, None, None),
        (None, False, False),
    ],
)
def test_a_typed_word_only_adds_to_what_fills_the_cavity(cavity: str | None, typed: bool | None, lies: bool | None) -> None:
    wall: dict[str, Any] = {} if cavity is None else {"cavity": cavity}
    facts: dict[str, Any] = {} if typed is None else {"insulation_contact": typed}
    survey = surveyed({"a": [run((0, 40), (100, 40), **facts)]}, **wall)
    assert lies_in_insulation(survey, survey.plan.cables["a"].route[0]) is lies


@pytest.mark.parametrize("apart", [0.0, 0.08])
def test_a_thousand_cables_in_one_wall_are_one_walk(apart: float) -> None:
    survey = surveyed({f"c{number}": [run((0, 8 + number * apart), (300, 8 + number * apart))] for number in range(1000)})
    began = time.process_time()
    assert all(drawn_bundles(survey, cable) for cable in survey.plan.cables.values())
    assert time.process_time() - began < 6.0  # a look at all pairs takes minutes
