"""Two editions compared give the changes that published accounts tell of, and none where nothing changed."""

import pytest

from nailplate import codes
from nailplate.codes import EDITIONS, TableChange, amended, compare


def found(before: str, after: str) -> dict[tuple[str, str], tuple[object, object]]:
    differences = compare(codes.edition(before), codes.edition(after))
    return {(each.table, each.entry): (each.before, each.after) for each in differences}


@pytest.mark.parametrize("year", EDITIONS)
def test_an_edition_does_not_differ_from_itself(year: str) -> None:
    assert compare(codes.edition(year), codes.edition(year)) == ()


@pytest.mark.parametrize(
    ("before", "after", "entry", "values"),
    [
        # https://forums.mikeholt.com/threads/314-27.2581560
        ("2017", "2020", ("provisions", "fan_box_anywhere.holds"), (False, True)),
        # https://forums.mikeholt.com/threads/egc-fill.2566828
        ("2017", "2020", ("box_fill", "grounding_counted_together"), (None, 4)),
        # https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1844
        ("2023", "2026", ("dwelling_load", "unit_load.service"), (3, 2)),
    ],
)
def test_a_published_change_is_found(before: str, after: str, entry: tuple[str, str], values: tuple[object, object]) -> None:
    assert found(before, after)[entry] == values


def test_a_renumbering_alone_is_no_difference() -> None:
    assert "spacing" not in {table for table, _ in found("2017", "2023")}


def test_a_change_tells_its_section_and_words() -> None:
    (change,) = [each for each in compare(codes.edition("2017"), codes.edition("2020")) if each.kind == "provision"][:1]
    assert change.section == "314.27(C)"
    assert change.note.startswith("Every ceiling box")


def test_a_local_amendment_is_compared_like_an_edition() -> None:
    local = amended(codes.edition("2023"), [TableChange("limits", "fan_heaviest.value", 50)])
    (change,) = compare(codes.edition("2023"), local)
    assert (change.kind, change.entry, change.before, change.after) == ("limit", "fan_heaviest.value", 70, 50)
