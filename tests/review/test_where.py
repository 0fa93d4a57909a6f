"""A finding says where: every one of something that is drawn has a point in its level, and stretches of wall and counter their ends."""

import json
from importlib.resources import files
from itertools import pairwise
from typing import Any

import jsonpatch
import pytest

from houses import whole
from nailplate.calc import geometry
from nailplate.catalog import catalog
from nailplate.review import Options, Report
from nailplate.wire import report_on

PLACED = {"walls", "openings", "rooms", "stairs", "counters", "fixtures", "boxes", "devices", "panels", "cables"}


def faulty(name: str) -> Any:
    house, faults = (
        json.loads(files("nailplate").joinpath("examples", f"{name}{end}.json").read_text(encoding="utf-8"))
        for end in ("", ".faults")
    )
    for fault in faults["faults"]:
        house = jsonpatch.apply_patch(house, fault["patch"])
    return whole(house)


@pytest.fixture(scope="module")
def house() -> tuple[Any, Report]:
    value = faulty("tamarack-wren")
    return value, report_on(value, catalog(), Options())


def test_every_finding_of_a_drawn_part_has_a_point_in_its_level(house: tuple[Any, Report]) -> None:
    value, report = house
    seen = set()
    for finding in report.findings:
        members = finding.where.pointer.members
        if len(members) > 1 and members[0] in PLACED:
            seen.add(members[0])
            assert finding.where.point is not None, finding.where
            assert finding.where.level in value["levels"]
    assert {"rooms", "boxes", "devices", "counters", "cables"} <= seen


def test_a_device_on_a_wall_names_the_wall(house: tuple[Any, Report]) -> None:
    value, report = house
    on_walls = [each.where for each in report.findings if each.where.wall]
    assert on_walls
    for where in on_walls:
        assert where.wall in value["walls"]


def test_stretches_of_wall_and_counter_carry_their_ends_on_the_floor_line(house: tuple[Any, Report]) -> None:
    value, report = house
    stretches = [each for each in report.findings if each.where.ends]
    assert {"wall-space", "wall-counter"} <= {each.rule for each in stretches}
    outlines = [(room["level"], room["outline"]) for room in value["rooms"].values() if "outline" in room]
    for each in stretches:
        here = [outline for level, outline in outlines if level == each.where.level]
        edges = [(tuple(one), tuple(two)) for outline in here for one, two in pairwise([*outline, outline[0]])]
        assert each.where.ends
        for end in (*each.where.ends, each.where.point):
            assert end
            assert min(geometry.distance_to_segment(end, edge) for edge in edges) < 1.0
