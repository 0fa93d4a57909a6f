"""The smallest larger box or ring, against Table 314.16(A): http://www.synthmind.com/Electrical_Box_Sizing_Guide.htm"""

import json
from typing import Any

import pytest

from nailplate.codes import edition
from nailplate.plan import Box
from nailplate.remedies.larger_boxes import (
    deeper_trade_size,
    larger_marking,
    larger_trade_size,
    ring_marking,
    ring_trade_size,
)
from nailplate.survey import Survey
from nailplate.survey.boxes.box_depths import trade_size_depth
from nailplate.survey.boxes.box_volumes import volume_of
from nailplate.units import CubicInches, Inches
from nailplate.wire import read_plan

TABLES = edition("2023")


def drawn(**box: Any) -> tuple[Survey, Box]:
    plan = {"plan_format": 1, "name": "p", "basis": {"edition": "2023"}, "boxes": {"b": box}}
    survey = Survey(read_plan(json.dumps(plan).encode()))
    return survey, survey.plan.boxes["b"]


@pytest.mark.parametrize(
    ("box", "volume"),
    [
        ({"trade_size": "4 x 1-1/2 square", "gangs": 2}, 21.0),
        ({"trade_size": "3 x 2 x 2-1/2 device", "gangs": 2}, 25.0),
        ({"trade_size": "3 x 2 x 2-1/2 device"}, 12.5),
        ({"trade_size": "4 x 1-1/2 square", "extension": {"trade_size": "4 x 1-1/2 square"}}, 42.0),
        ({"volume": "18 in3", "extension": {"volume": "6.5 in3"}}, 24.5),
        ({"volume": "18 in3", "trade_size": "4 x 1-1/2 square"}, 18.0),
        ({"volume": "18 in3", "extension": {"volume": "6 in3", "trade_size": "4 x 1-1/2 square"}}, 24.0),
    ],
)
def test_volume_is_the_marked_one_or_the_tables_by_the_gang_with_the_ring(box: dict[str, Any], volume: float) -> None:
    survey, part = drawn(**box)
    assert volume_of(survey, part, TABLES) == volume


@pytest.mark.parametrize(
    ("box", "counted", "larger", "ring"),
    [
        ({"trade_size": "4 x 1-1/4 square"}, 20.25, "4 x 1-1/2 square", "4 x 1-1/4 square"),
        ({"trade_size": "4 x 1-1/4 square"}, 30.3, "4 x 2-1/8 square", "4 x 1-1/4 square"),
        ({"trade_size": "4 x 1-1/4 square"}, 30.4, "4-11/16 x 2-1/8 square", "4 x 1-1/4 square"),
        ({"trade_size": "4 x 2-1/8 square"}, 51.0, None, "4 x 1-1/2 square"),
        ({"trade_size": "4-11/16 x 1-1/4 square"}, 51.0, None, "4-11/16 x 1-1/4 square"),
        ({"trade_size": "4 x 1-1/2 round"}, 18.0, "4 x 2-1/8 round", "4 x 1-1/4 round"),
        ({"trade_size": "3 x 2 x 2 device"}, 16.0, "3 x 2 x 3-1/2 device", None),
        ({"trade_size": "3 x 2 x 2 device", "gangs": 2}, 27.0, "3 x 2 x 2-3/4 device", None),
    ],
)
def test_smallest_standard_box_or_ring_of_the_same_face(
    box: dict[str, Any], counted: float, larger: str | None, ring: str | None
) -> None:
    survey, part = drawn(**box)
    assert larger_trade_size(survey, part, CubicInches(counted), TABLES) == larger
    assert ring_trade_size(survey, part, CubicInches(counted), TABLES) == ring


# Usual volumes of nonmetallic boxes: common practice.
@pytest.mark.parametrize(
    ("box", "counted", "larger", "ring"),
    [
        ({"volume": "18 in3", "gangs": 1}, 20.25, 22.5, 2.5),
        ({"volume": "18 in3", "gangs": 1}, 24.1, 24.5, 6.5),
        ({"volume": "32 in3", "gangs": 2}, 33.75, 35.0, 2.0),
        ({"volume": "18 in3", "gangs": 1, "extension": {"volume": "2 in3"}}, 22.0, 20.0, 4.0),
    ],
)
def test_marked_boxes_and_rings_are_rounded_up_never_down(
    box: dict[str, Any], counted: float, larger: float, ring: float
) -> None:
    survey, part = drawn(**box)
    assert larger_marking(part, CubicInches(counted), TABLES) == larger
    assert ring_marking(survey, part, CubicInches(counted), TABLES) == ring


def test_depth_of_a_standard_box_is_the_last_figure_of_its_name() -> None:
    depths = {"4 x 1-1/2 square": 1.5, "4 x 2-1/8 x 1-7/8 device": 1.875, "3-3/4 x 2 x 3-1/2 masonry": 3.5, "FD single": 2.375}
    assert {name: trade_size_depth(name) for name in depths} == depths


def test_every_standard_box_has_a_depth() -> None:
    names = [name for boxes in TABLES.box_volumes.volumes.values() for name in boxes]
    assert all(1.25 <= trade_size_depth(name) <= 3.5 for name in names)


def test_deeper_box_keeps_face_and_volume() -> None:
    _, part = drawn(trade_size="4 x 1-1/4 square")
    assert deeper_trade_size(part, Inches(1.4), TABLES) == "4 x 1-1/2 square"
    assert deeper_trade_size(part, Inches(2.0), TABLES) == "4 x 2-1/8 square"
    assert deeper_trade_size(part, Inches(2.2), TABLES) is None
