"""A sound house that leaves out a subject of its rough-in is not clear, and the rule of that subject says what is missing, once."""

import copy
import json
from collections.abc import Callable
from typing import Any

import pytest

from houses import house
from nailplate.catalog import catalog
from nailplate.review import check
from nailplate.wire import read_plan

HOUSE: Any = house("tamarack-heron")


def without(*names: str) -> Callable[[Any], None]:
    """Takes facts out of every stretch of every route."""

    def take(house: Any) -> None:
        for cable in house["cables"].values():
            for run in cable.get("route", []):
                for name in names:
                    run.pop(name, None)

    return take


def boxes_without(name: str) -> Callable[[Any], None]:
    def take(house: Any) -> None:
        for box in house["boxes"].values():
            box.pop(name, None)

    return take


def ceilings_without(name: str) -> Callable[[Any], None]:
    def take(house: Any) -> None:
        for level in house["levels"].values():
            level.get("ceiling", {}).pop(name, None)

    return take


LEFT_OUT = [
    pytest.param(without("edge_distance", "hole"), "bored-hole-edge", id="holes"),
    pytest.param(without("edge_distance"), "parallel-run-edge", id="edge distances"),
    pytest.param(without("hole"), "bore-strength", id="sizes of holes"),
    pytest.param(without("bend"), "bend-radius", id="bends"),
    pytest.param(without("supports"), "support-interval", id="supports"),
    pytest.param(without("supports"), "first-support", id="first supports"),
    pytest.param(boxes_without("fastened"), "boxes-fastened", id="what boxes are fastened to"),
    pytest.param(boxes_without("free_conductor"), "free-conductor", id="free conductors"),
    pytest.param(boxes_without("sheath_inside"), "sheath-into-box", id="sheaths in boxes"),
    pytest.param(boxes_without("placing"), "box-beside-stud", id="where the studs stand"),
    pytest.param(ceilings_without("decking"), "roof-deck-clearance", id="the roof deck"),
]


@pytest.mark.parametrize(("take", "rule"), LEFT_OUT)
def test_subject_without_facts_is_undetermined_once_and_the_house_not_clear(take: Callable[[Any], None], rule: str) -> None:
    house = copy.deepcopy(HOUSE)
    take(house)
    report = check(read_plan(json.dumps(house).encode()), catalog())
    [finding] = [each for each in report.findings if each.rule == rule]
    assert finding.outcome == "undetermined"
    assert finding.needs
    assert report.verdict == "incomplete"


def test_house_without_any_route_is_told_so_once_a_rule() -> None:
    house = copy.deepcopy(HOUSE)
    for cable in house["cables"].values():
        cable.pop("route", None)
    report = check(read_plan(json.dumps(house).encode()), catalog())
    told = [each for each in report.findings if each.rule in ("bored-hole-edge", "support-interval", "bend-radius")]
    assert [(each.outcome, str(each.where.pointer)) for each in told] == [("undetermined", "/cables")] * 3
    places = next(each for each in report.coverage.rules if each.rule == "cable-place")
    assert places.passed  # along the routes that are worked out, which lie in dry places
    assert report.verdict == "incomplete"
    assert report.site_list is not None
    assert {item.topic for item in report.site_list.items} >= {"holes", "side_by_side", "boxes", "bends", "supports", "slack"}
