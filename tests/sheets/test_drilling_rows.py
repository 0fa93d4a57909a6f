"""Rows of the drilling sheet, read against the walls and routes of the example houses as JSON."""

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


def _turn(one: dict[str, Any], other: dict[str, Any]) -> float:
    """The sine of the angle between two walls."""
    (ax, ay), (bx, by) = (_way(each) for each in (one, other))
    return abs(ax * by - ay * bx)


def _way(wall: dict[str, Any]) -> tuple[float, float]:
    (x, y), (u, v) = wall["from"], wall["to"]
    long = float(((u - x) ** 2 + (v - y) ** 2) ** 0.5)
    return (u - x) / long, (v - y) / long
