"""Where the studs of a wall stand: by their layout, one by one, and where nothing but the drawing tells."""

import json
from typing import Any

import pytest

from nailplate.plan import PlanRefused, UnknownFact
from nailplate.plan.words import Side
from nailplate.survey import Survey
from nailplate.survey.rough_in import stated_near, stud_centers
from nailplate.survey.space import Why, framing_shown
from nailplate.wire import read_plan

GYPSUM = [{"material": "gypsum", "thickness": 0.5}]
OTHER = {"level": "m", "kind": "interior", "thickness": 4.5, "finish": {"left": GYPSUM, "right": GYPSUM}}


def surveyed(framing: dict[str, Any], *, to: tuple[float, float] = (144, 0), **more: Any) -> Survey:
    wall = {"level": "m", "kind": "interior", "from": [0, 0], "to": list(to), "thickness": 4.5, "framing": framing}
    plan = {"plan_format": 1, "name": "p", "basis": {"edition": "2023"}, "levels": {"m": {"kind": "storey"}}}
    walls = {"w": wall, **more.pop("walls", {})}
    return Survey(read_plan(json.dumps({**plan, "walls": walls, **more}).encode()))


def test_a_layout_of_16_in_is_the_framers() -> None:
    """Marks at 15-1/4, 31-1/4 and 47-1/4 in from the wall's end, 14-1/2 in clear between 16-3/4 and 31-1/4, and sheets of 48 in that meet on
    a stud: https://www.woodworkingtalk.com/threads/proper-stud-spacing.57437/ (a forum of the trade)."""
    centers = stud_centers(surveyed({"spacing": 16, "first_stud": 16}).plan.walls["w"])
    assert [each - 0.75 for each in centers[1:4]] == [15.25, 31.25, 47.25]
    assert (centers[2] - 0.75) - (centers[1] + 0.75) == 14.5
    assert {48.0, 96.0} <= set(centers)
    assert (centers[0], centers[-1]) == (0.75, 143.25)


@pytest.mark.parametrize(
    ("framing", "along", "near"),
    [
        ({"spacing": 16, "first_stud": 10}, 40, (26, 42)),
        ({"spacing": 16, "first_stud": 10}, 42, (42, 58)),
        ({"spacing": 16, "first_stud": 10}, 3, (10, 26)),
        ({"spacing": 16, "first_stud": 10}, 140, (138,)),
        ({"studs": [12, 31.5, 50]}, 40, (31.5, 50)),
        ({"spacing": 16, "studs": [12, 31.5, 50]}, 60, (50,)),
        ({"studs": [12, 31.5, 50]}, 5, (12,)),
        ({"spacing": 24, "first_stud": 24, "studs": [41]}, 40, (24, 41, 48)),
    ],
)
def test_the_studs_on_both_sides_of_a_place(framing: dict[str, Any], along: float, near: tuple[float, ...]) -> None:
    assert stated_near(surveyed(framing).plan.walls["w"], along) == near


@pytest.mark.parametrize(("framing", "missing"), [({"spacing": 16}, "first_stud"), ({"first_stud": 16}, "spacing")])
def test_half_a_layout_tells_no_stud(framing: dict[str, Any], missing: str) -> None:
    with pytest.raises(UnknownFact) as unknown:
        stated_near(surveyed(framing).plan.walls["w"], 40)
    assert str(unknown.value.pointer) == f"/walls/w/framing/{missing}"


# Panels have no studs, whatever spacing a plan gives its splines (common practice); a wall of which nothing is said shows none.
def test_a_wall_without_studs_shows_none() -> None:
    survey = surveyed({"spacing": 16, "material": "sip"}, walls={"v": {**OTHER, "from": [0, 60], "to": [144, 60]}})
    assert [stud_centers(wall) for wall in survey.plan.walls.values()] == [(), ()]


@pytest.mark.parametrize(("spacing", "refused"), [("1.25 in", False), ("1.2 in", True), ("0.001 in", True)])
def test_studs_that_would_stand_in_one_another_are_refused(spacing: str, refused: bool) -> None:
    if not refused:
        assert len(stud_centers(surveyed({"spacing": spacing}).plan.walls["w"])) > 100
        return
    with pytest.raises(PlanRefused) as told:
        surveyed({"spacing": spacing})
    assert [str(fault.pointer) for fault in told.value.faults] == ["/walls/w/framing/spacing"]


def test_a_stud_beyond_its_wall_is_refused_and_a_layout_that_begins_there_is_not() -> None:
    with pytest.raises(PlanRefused) as refused:
        surveyed({"studs": [12, 150]})
    assert [str(fault.pointer) for fault in refused.value.faults] == ["/walls/w/framing/studs"]
    assert stud_centers(surveyed({"spacing": 16, "first_stud": 16}, to=(12, 0)).plan.walls["w"]) == (0.75, 11.25)


# However the corner is drawn, the same inch beside the other wall's finish is taken: 1-1/2 in of stud less its 1/2 in of gypsum.
@pytest.mark.parametrize("end", [-2.25, 0, 2.25], ids=["far face", "center line", "near face"])
@pytest.mark.parametrize("other", [([0, -2.25], [0, 120]), ([0, 0], [0, 120]), ([0, 2.25], [0, 120]), ([0, 120], [0, 0])])
def test_a_corner_takes_the_same_however_it_is_drawn(end: float, other: tuple[list[float], list[float]]) -> None:
    wall = {**OTHER, "from": [end, 0], "to": [144, 0], "framing": {"spacing": 16}}
    survey = surveyed({}, to=(0, -300), walls={"w": wall, "v": {**OTHER, "from": other[0], "to": other[1]}})
    [corner, far] = framing_shown(survey, survey.plan.walls["w"], Side.LEFT)
    assert (corner.left + end, corner.right + end) == (2.25, 3.25)
    assert (corner.surely, corner.why, far.why) == (False, Why.CORNER, Why.END)


def test_where_a_wall_ends_at_one_that_runs_on_its_last_stud_is_sure_and_the_other_wall_has_backing() -> None:
    survey = surveyed({"spacing": 16}, walls={"v": {**OTHER, "from": [0, -60], "to": [0, 120]}})
    last, _ = framing_shown(survey, survey.plan.walls["w"], Side.LEFT)
    assert (last.left, last.right, last.surely, last.why) == (2.25, 3.25, True, Why.LAST)
    backing = [each for each in framing_shown(survey, survey.plan.walls["v"], Side.RIGHT) if each.why is Why.CORNER]
    assert [(each.left, each.right, each.surely) for each in backing] == [(57.0, 57.75, False), (62.25, 63.0, False)]
    assert not [each for each in framing_shown(survey, survey.plan.walls["v"], Side.LEFT) if each.why is Why.CORNER]
