"""Rows of the drilling sheet, read against the walls and routes of the example houses as JSON."""

import itertools
from typing import Any

import pytest

from sheets.houses import HOUSES, house
from sheets.tables_read import of_house


@pytest.mark.parametrize("name", HOUSES)
def test_a_tape_starts_at_a_wall_that_stands_across_and_not_at_one_in_the_same_line(name: str) -> None:
    """Osprey's back wall goes on as the garage's: that one shows no face at the house's end, the wall between them does."""
    walls = house(name)["walls"]
    by_label = {each["label"]: each for each in walls.values()}
    told = 0
    for section in of_house(name, "drilling")["sections"]:
        for note in section.get("notes", ()):
            words = note.get("whole") or note["text"]
            if " behind the face of " in words and words.startswith("Along the wall"):
                this = walls[section["pointer"].rsplit("/", 1)[1]]
                other = by_label[words.split(" behind the face of ")[1].removesuffix(".")]
                assert _turn(this, other) > 0.5, words
                told += 1
    assert told


def test_holes_of_home_runs_over_the_panel_stand_in_two_rows() -> None:
    """Osprey draws them 5/8 in apart along the plate, in turn 3/4 in to either side of its center: told by one row they would overlap."""
    [over] = [
        each for each in of_house("tamarack-osprey", "drilling")["sections"] if each.get("pointer") == "/walls/garage-east"
    ]
    [plates] = [each for each in over["tables"] if each["title"] == "Holes in plates"]
    place = {row[4]["text"]: row[2]["text"] for row in plates["rows"]}
    assert (
        place["Panel to clothes dryer"] == '3/4" off center, toward Garage'
    )  # drawn at x 595.75, the wall's center is x 596.5
    assert place["Panel to the baseboard heater in the front bedroom"] == '3/4" off center, toward the outside'  # x 597.25
    for one, other in itertools.combinations(plates["rows"], 2):
        assert abs(one[1]["value"] - other[1]["value"]) >= 1 or one[2]["text"] != other[2]["text"]


def test_a_line_of_holes_stops_where_no_cable_lies() -> None:
    """At 24 in osprey's west wall has cable for 50 1/2 in at one end and from 224 1/2 in on at the other, and none in between."""
    [west] = [each for each in of_house("tamarack-osprey", "drilling")["sections"] if each.get("pointer") == "/walls/west"]
    [lines] = [each for each in west["tables"] if each["title"] == "Lines of holes"]
    assert [[cell["value"] for cell in row] for row in lines["rows"]] == [[24, 0, 50.5, 4, 1], [24, 224.5, 305, 5, 1]]


def test_a_hole_in_the_center_of_its_plate_is_told_so() -> None:
    [hall] = [
        each for each in of_house("tamarack-osprey", "drilling")["sections"] if each.get("pointer") == "/walls/laundry-west"
    ]
    [plates] = [each for each in hall["tables"] if each["title"] == "Holes in plates"]
    assert {row[2]["text"] for row in plates["rows"]} == {"center"}


def _turn(one: dict[str, Any], other: dict[str, Any]) -> float:
    """The sine of the angle between two walls."""
    (ax, ay), (bx, by) = (_way(each) for each in (one, other))
    return abs(ax * by - ay * bx)


def _way(wall: dict[str, Any]) -> tuple[float, float]:
    (x, y), (u, v) = wall["from"], wall["to"]
    long = float(((u - x) ** 2 + (v - y) ** 2) ** 0.5)
    return (u - x) / long, (v - y) / long
