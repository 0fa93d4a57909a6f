"""The tables of each edition, against published figures and against the laws that the figures obey."""

import math
from importlib.resources import files

import pytest

from nailplate import codes
from nailplate.codes import EDITIONS, BoxShape, CodeTableError, Column, Material, TextStatus
from nailplate.codes.editions import file_types, table_types

EVERY_EDITION = pytest.mark.parametrize("year", EDITIONS)


@EVERY_EDITION
def test_an_edition_knows_its_name_and_order(year: str) -> None:
    edition = codes.edition(year)
    assert (edition.id, edition.year) == (f"nec-{year}", int(year))
    assert [edition.since(int(other)) for other in EDITIONS] == [other <= year for other in EDITIONS]


def test_an_unknown_edition_is_refused_with_the_nearest() -> None:
    with pytest.raises(CodeTableError, match="nearest is '2023'"):
        codes.edition("nec-2023")


@EVERY_EDITION
def test_every_table_tells_its_section_source_and_status(year: str) -> None:
    edition = codes.edition(year)
    for name in table_types():
        table = getattr(edition, name)
        assert table.cite, name
        assert table.source, name
        assert table.text_status in TextStatus, name


def test_no_text_of_2026_is_called_verified() -> None:
    edition = codes.edition("2026")
    assert {getattr(edition, name).text_status for name in table_types()} == {TextStatus.ASSUMED}
    assert edition.spacing.wall.text_status is TextStatus.ASSUMED
    assert codes.edition("2023").spacing.wall.text_status is TextStatus.VERIFIED


def test_each_folder_of_a_later_edition_holds_only_what_changed() -> None:
    root = files("nailplate.codes")
    counts = [sum(each.name.endswith(".toml") for each in (root / f"nec_{year}").iterdir()) for year in EDITIONS]
    assert counts[0] == len(file_types()) + 1
    assert all(count < counts[0] for count in counts[1:])


# Numbers of the sections: the 2017 form of the ampacity table at
# https://www.scribd.com/document/602627451/NEC-Table-310-16-Penghantar; the box table of 2023 at
# https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1471;
# the others from memory.
@pytest.mark.parametrize(
    ("table", "cites"),
    [
        ("ampacity", ("310.15(B)(16)", "310.16", "310.16", "310.16")),
        ("ambient_correction", ("310.15(B)(2)(a)", "310.15(B)(1)", "310.15(B)(1)(1)", "310.15(B)(1)(1)")),
        ("adjustment", ("310.15(B)(3)(a)", "310.15(C)(1)", "310.15(C)(1)", "310.15(C)(1)")),
        ("box_fill", ("314.16(B)", "314.16(B)", "314.16(B)(1)", "314.16(B)(1)")),
        ("small_conductors", ("240.4(D)",) * 4),
    ],
)
def test_a_renumbered_table_is_cited_by_its_number_in_each_edition(table: str, cites: tuple[str, ...]) -> None:
    assert tuple(getattr(codes.edition(year), table).cite for year in EDITIONS) == cites


# https://www.scribd.com/document/602627451/NEC-Table-310-16-Penghantar
AMPACITIES: dict[str, tuple[float | None, ...]] = {
    "14 AWG": (15, 20, 25, None, None, None),
    "12 AWG": (20, 25, 30, 15, 20, 25),
    "10 AWG": (30, 35, 40, 25, 30, 35),
    "8 AWG": (40, 50, 55, 35, 40, 45),
    "6 AWG": (55, 65, 75, 40, 50, 55),
    "4 AWG": (70, 85, 95, 55, 65, 75),
    "1/0 AWG": (125, 150, 170, 100, 120, 135),
    "4/0 AWG": (195, 230, 260, 150, 180, 205),
    "500 kcmil": (320, 380, 430, 260, 310, 350),
}


@EVERY_EDITION
@pytest.mark.parametrize("size", AMPACITIES)
def test_ampacities_are_those_published(year: str, size: str) -> None:
    table = codes.edition(year).ampacity
    found = [table.of(material)[column].get(size) for material in (Material.COPPER, Material.ALUMINUM) for column in Column]
    assert tuple(found) == AMPACITIES[size]


# The table before 2011, still widely copied: https://www.scribd.com/document/768710860/TABLE-310-16NEC-SIZE-CONDUCTORS-CONDUIT
def test_the_table_from_before_2011_is_not_the_one_loaded() -> None:
    sixty = codes.edition("2023").ampacity.copper[Column.C60]
    assert (sixty["14 AWG"], sixty["12 AWG"]) != (20.0, 25.0)
    assert codes.edition("2023").ampacity.copper[Column.C90]["3 AWG"] != 110.0


@EVERY_EDITION
def test_a_larger_conductor_or_a_hotter_column_never_has_less_ampacity(year: str) -> None:
    edition = codes.edition(year)
    for material in Material:
        columns = edition.ampacity.of(material)
        for row in columns.values():
            rising = [row[size] for size in edition.conductors.rising(row)]
            assert rising == sorted(set(rising))
        for size in columns[Column.C60]:
            assert columns[Column.C60][size] <= columns[Column.C75][size] <= columns[Column.C90][size]


@EVERY_EDITION
@pytest.mark.parametrize("column", Column)
def test_ambient_factors_follow_the_heat_balance_at_the_rows_upper_limit(year: str, column: Column) -> None:
    # The law behind the table, 310.15 in every edition: what may be lost over what is lost at 30 degC, under a root.
    hottest = float(column.removesuffix(" C"))
    factors = codes.edition(year).ambient_correction.factors[column]
    for limit, factor in factors.items():
        assert math.isclose(factor, math.sqrt((hottest - limit) / (hottest - 30)), abs_tol=0.0051), limit
    assert list(factors) == sorted(factors)
    assert max(factors) == hottest - 5


# https://www.buildmyowncabin.com/nec/nec2014_table310.15(b)(3)(a).html
@EVERY_EDITION
def test_adjustment_factors_are_those_published(year: str) -> None:
    assert dict(codes.edition(year).adjustment.from_count) == {
        1: 1.00, 4: 0.80, 7: 0.70, 10: 0.50, 21: 0.45, 31: 0.40, 41: 0.35,
    }  # fmt: skip


# http://www.encorewire.com/wp-content/uploads/wire_size_table.htm
@EVERY_EDITION
def test_small_conductor_limits_are_those_published(year: str) -> None:
    table = codes.edition(year).small_conductors
    assert [table.copper[size] for size in ("14 AWG", "12 AWG", "10 AWG")] == [15.0, 20.0, 30.0]
    for clad in (table.aluminum, table.copper_clad_aluminum):
        assert [clad[size] for size in ("12 AWG", "10 AWG")] == [15.0, 25.0]


# https://expertce.com/courses/electricians-guide-for-nec-2023/lessons/how-does-the-2023-nec-change-standard-circuit-breaker-amp-ratings
def test_ten_amperes_came_in_2023_as_a_rating_and_for_clad_14() -> None:
    ten = {year: 10.0 in codes.edition(year).overcurrent.standard_ratings for year in EDITIONS}
    assert ten == {"2017": False, "2020": False, "2023": True, "2026": True}
    assert codes.edition("2020").small_conductors.copper_clad_aluminum.get("14 AWG") is None
    assert codes.edition("2023").small_conductors.copper_clad_aluminum["14 AWG"] == 10.0


def test_limits_that_were_not_seen_for_2026_are_not_guessed() -> None:
    assert "16 AWG" in codes.edition("2023").small_conductors.copper
    assert not {"16 AWG", "18 AWG"} & set(codes.edition("2026").small_conductors.copper)


# https://builders.theknowledgegardens.com/knowledge/nec-article-240-overcurrent
@EVERY_EDITION
def test_standard_ratings_up_to_600_are_those_published(year: str) -> None:
    ratings = codes.edition(year).overcurrent.standard_ratings
    assert [int(rating) for rating in ratings if 15 <= rating <= 600] == [
        15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500, 600,
    ]  # fmt: skip
    assert codes.edition(year).overcurrent.next_size_up.largest_rating == 800.0


# https://up.codes/s/branch-circuit-requirements-summary; cord loads: https://forums.mikeholt.com/threads/debate-on-language-of-nec.61191
# (30 A row from memory)
@EVERY_EDITION
def test_receptacle_ratings_are_those_published(year: str) -> None:
    table = codes.edition(year).receptacle_ratings
    assert dict(table.by_circuit) == {15.0: (15.0,), 20.0: (15.0, 20.0), 30.0: (30.0,), 40.0: (40.0, 50.0), 50.0: (50.0,)}
    assert dict(table.cord_load.by_receptacle) == {15.0: 12.0, 20.0: 16.0, 30.0: 24.0}
    for rating, load in table.cord_load.by_receptacle.items():
        assert load == 0.8 * rating


# https://brunsengineering.com/nec-table-250-122/
@EVERY_EDITION
@pytest.mark.parametrize(
    ("rating", "copper", "aluminum"),
    [
        (15, "14 AWG", "12 AWG"),
        (20, "12 AWG", "10 AWG"),
        (60, "10 AWG", "8 AWG"),
        (100, "8 AWG", "6 AWG"),
        (200, "6 AWG", "4 AWG"),
        (2000, "250 kcmil", "400 kcmil"),
    ],
)
def test_grounding_conductors_are_those_published(year: str, rating: int, copper: str, aluminum: str) -> None:
    table = codes.edition(year).grounding
    assert (table.copper[rating], table.aluminum[rating]) == (copper, aluminum)
    assert list(table.copper) == sorted(table.copper)


@EVERY_EDITION
def test_resistance_times_area_is_nearly_the_same_for_every_size(year: str) -> None:
    # rho = R A: about 12.9 ohm-cmil/ft for copper at 75 degC, https://www.voltexam.com/questions/electrician/voltage-drop
    # and 21.2 for aluminum (same page)
    table = codes.edition(year).conductors
    for resistance, published in ((table.copper, 12.9), (table.aluminum, 21.2)):
        for size, ohms in resistance.stranded.items():
            assert math.isclose(ohms * table.area[size] / 1000, published, rel_tol=0.012), size
        for size, ohms in resistance.solid.items():
            assert 1.01 < resistance.stranded[size] / ohms < 1.035, size


# The columns of counts, trade size: 18, 16, 14, 12, 10, 8, 6 AWG. http://www.synthmind.com/Electrical_Box_Sizing_Guide.htm
# up to the 3 x 2 x 2-1/4 row, the rest as the 2023 code text has them (from a public copy).
COUNTS = """
4 x 1-1/4 round,8,7,6,5,5,4,2
4 x 1-1/2 round,10,8,7,6,6,5,3
4 x 2-1/8 round,14,12,10,9,8,7,4
4 x 1-1/4 square,12,10,9,8,7,6,3
4 x 1-1/2 square,14,12,10,9,8,7,4
4 x 2-1/8 square,20,17,15,13,12,10,6
4-11/16 x 1-1/4 square,17,14,12,11,10,8,5
4-11/16 x 1-1/2 square,19,16,14,13,11,9,5
4-11/16 x 2-1/8 square,28,24,21,18,16,14,8
3 x 2 x 1-1/2 device,5,4,3,3,3,2,1
3 x 2 x 2 device,6,5,5,4,4,3,2
3 x 2 x 2-1/4 device,7,6,5,4,4,3,2
3 x 2 x 2-1/2 device,8,7,6,5,5,4,2
3 x 2 x 2-3/4 device,9,8,7,6,5,4,2
3 x 2 x 3-1/2 device,12,10,9,8,7,6,3
4 x 2-1/8 x 1-1/2 device,6,5,5,4,4,3,2
4 x 2-1/8 x 1-7/8 device,8,7,6,5,5,4,2
4 x 2-1/8 x 2-1/8 device,9,8,7,6,5,4,2
3-3/4 x 2 x 2-1/2 masonry,9,8,7,6,5,4,2
3-3/4 x 2 x 3-1/2 masonry,14,12,10,9,8,7,4
FS single,9,7,6,6,5,4,2
FD single,12,10,9,8,7,6,3
FS multiple,12,10,9,8,7,6,3
FD multiple,16,13,12,10,9,8,4
"""


@EVERY_EDITION
def test_published_counts_are_the_volumes_over_the_allowances_rounded_down(year: str) -> None:
    edition = codes.edition(year)
    published = {name: [int(each) for each in rest] for name, *rest in (line.split(",") for line in COUNTS.split("\n") if line)}
    volumes = {name: volume for boxes in edition.box_volumes.volumes.values() for name, volume in boxes.items()}
    assert set(volumes) == set(published)
    assert set(edition.box_volumes.volumes) == set(BoxShape)
    for name, counts in published.items():
        assert [math.floor(volumes[name] / each) for each in edition.box_fill.per_conductor.values()] == counts, name


# https://coconote.app/notes/56e1c20d-d2f5-4ea9-bc75-546d8840e2e8 (rules to 2017)
# https://forums.mikeholt.com/threads/egc-fill.2566828 has the quarter of 2020, and terminal blocks, 2023, are at
# https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1471
def test_box_fill_rules_changed_when_published() -> None:
    tables = [codes.edition(year).box_fill for year in EDITIONS]
    assert [table.grounding_counted_together for table in tables] == [None, 4, 4, 4]
    assert [table.allowance_per_further_grounding for table in tables] == [0, 0.25, 0.25, 0.25]
    assert [table.allowances_per_terminal_block for table in tables] == [0, 0, 1, 1]
    assert [table.allowances_per_gang for table in tables] == [2, 2, 2, 2]
    assert [table.loop_length for table in tables] == [12.0, 12.0, 12.0, 12.0]
    assert [table.isolated_grounding.counted_apart for table in tables] == [True, False, False, False]


# https://forums.mikeholt.com/threads/2587744 and http://www.electrical-contractor.net/forums/ubbthreads.php/posts/88869.html
@EVERY_EDITION
def test_spacing_is_six_feet_and_two_feet(year: str) -> None:
    spacing = codes.edition(year).spacing
    assert (spacing.wall.reach, spacing.wall.minimum) == (72.0, 24.0)
    assert (spacing.counter.reach, spacing.counter.minimum) == (24.0, 12.0)


def test_tables_cannot_be_changed_in_place() -> None:
    fill = codes.edition("2023").box_fill
    with pytest.raises(TypeError):
        fill.per_conductor["14 AWG"] = 1.0  # type: ignore[index]  # the very thing that must fail
