"""Local amendments, and the refusal of tables that are wrong."""

import shutil
from importlib.resources import as_file, files
from pathlib import Path

import pytest

from nailplate import codes
from nailplate.codes import CodeTableError, Edition, TableChange, amended
from nailplate.codes.editions import read_edition


def test_an_amendment_changes_its_figure_and_nothing_else() -> None:
    before = codes.edition("2023")
    change = TableChange("spacing", "counter.reach", 18)
    after = amended(before, [change])
    assert (after.spacing.counter.reach, before.spacing.counter.reach) == (18.0, 24.0)
    assert after.spacing.wall.reach == before.spacing.wall.reach
    assert after.box_fill is before.box_fill
    assert (after.id, after.changes, before.changes) == ("nec-2023", (change,), ())


def test_an_amended_edition_can_be_amended_again() -> None:
    once = amended(codes.edition("2020"), [TableChange("box_fill", "per_conductor.14 AWG", 2.25)])
    twice = amended(once, [TableChange("small_conductors", "copper.14 AWG", 10)])
    assert (twice.box_fill.per_conductor["14 AWG"], twice.small_conductors.copper["14 AWG"]) == (2.25, 10.0)
    assert len(twice.changes) == 2


def test_an_amendment_may_state_what_an_older_edition_leaves_out() -> None:
    early = [
        TableChange("box_fill", "grounding_counted_together", 4),
        TableChange("box_fill", "allowance_per_further_grounding", 0.25),
    ]
    after = amended(codes.edition("2017"), early)
    assert after.box_fill.grounding_counted_together == 4
    assert codes.edition("2017").box_fill.grounding_counted_together is None


def test_a_list_is_set_whole() -> None:
    after = amended(codes.edition("2020"), [TableChange("overcurrent", "standard_ratings", [10, 15, 20])])
    assert after.overcurrent.standard_ratings == (10.0, 15.0, 20.0)


@pytest.mark.parametrize(
    ("table", "entry", "value", "message"),
    [
        ("box_fil", "loop_length", 12, "nearest is 'box_fill'"),
        ("box_fill", "loop_lenght", 12, "nearest is 'loop_length'"),
        ("box_fill", "per_conductor.13 AWG", 2.0, "no entry known here"),
        ("box_fill", "per_conductor", 2.0, "no entry known here"),
        ("box_fill", "loop_length", "12 in", "a number is wanted"),
        ("box_fill", "loop_length", True, "a number is wanted"),
        ("box_fill", "allowances_per_gang", 2.5, "a whole number is wanted"),
        ("box_fill", "isolated_grounding.counted_apart", 1, "true or false is wanted"),
        ("box_fill", "loop_length", -1, "not a figure"),
        ("box_fill", "loop_length", float("nan"), "not a figure"),
        ("box_fill", "loop_length", float("inf"), "not a figure"),
        ("box_fill", "per_conductor.14 AWG", 0, "counts for nothing"),
        ("box_fill", "canopy_wires_smaller_than", "4 AWG", "nearest is '6 AWG'"),
        ("spacing", "wall.reach", 0, "the reach is nothing"),
        ("grounding", "copper.15", "13 AWG", "nearest is '1[24] AWG'"),
        ("overcurrent", "standard_ratings", [20, 15], "do not rise"),
        ("overcurrent", "standard_ratings", 15, "a list is wanted"),
        ("overcurrent", "standard_ratings", ["15 A"], "a number is wanted"),
        ("temperature_limits", "terminations.small", "70 C", "no choice here"),
        ("ampacity", "text_status", "certain", "no choice here"),
    ],
)
def test_a_wrong_amendment_is_refused(table: str, entry: str, value: float | str | list[float], message: str) -> None:
    with pytest.raises(CodeTableError, match=message):
        amended(codes.edition("2023"), [TableChange(table, entry, value)])


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the base edition's folder."""
    with as_file(files("nailplate.codes") / "nec_2017") as source:
        shutil.copytree(source, tmp_path / "nec_2017")
    return tmp_path / "nec_2017"


def _read(folder: Path) -> Edition:
    return read_edition(folder, {})


def test_the_copied_folder_is_good(folder: Path) -> None:
    assert _read(folder).id == "nec-2017"


@pytest.mark.parametrize(
    ("name", "old", "new", "message"),
    [
        ("spacing.toml", "reach = 72", "reech = 72", "nearest is 'reach'"),
        ("spacing.toml", "reach = 72\n", "", "'reach' is missing"),
        ("spacing.toml", "reach = 72", 'reach = "72 in"', "a number is wanted"),
        ("spacing.toml", "reach = 72", "reach = = 72", "spacing.toml"),
        ("spacing.toml", 'cite = "210.52"\n', "", "'cite' is missing"),
        ("spacing.toml", 'cite = "210.52"\n', 'cite = ""\n', "the text is empty"),
        ("grounding.toml", '15 = "14 AWG"', '15.5 = "14 AWG"', "no whole number|a text is wanted"),
        ("grounding.toml", '"14 AWG"', '"14AWG"', "nearest is"),
        ("ampacity.toml", '[copper."90 C"]', '[copper."91 C"]', "no choice here"),
        ("edition.toml", "year = 2017", 'year = 2017\nbased_on = "nec-2014"', "no edition known here"),
    ],
)
def test_a_bad_file_stops_the_reading(folder: Path, name: str, old: str, new: str, message: str) -> None:
    text = (folder / name).read_text(encoding="utf-8")
    assert old in text
    (folder / name).write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(CodeTableError, match=message):
        _read(folder)


def test_a_file_that_is_no_table_and_a_table_that_is_no_file_stop_the_reading(folder: Path) -> None:
    (folder / "spacing.toml").rename(folder / "spacin.toml")
    with pytest.raises(CodeTableError, match="nearest is 'spacing'"):
        _read(folder)
    (folder / "spacin.toml").unlink()
    with pytest.raises(CodeTableError, match="'spacing' is missing"):
        _read(folder)


def test_leaving_out_what_is_not_there_stops_the_reading(tmp_path: Path) -> None:
    (tmp_path / "edition.toml").write_text('id = "local"\nyear = 2023\nbased_on = "nec-2023"\n', encoding="utf-8")
    (tmp_path / "small_conductors.toml").write_text(
        'cite = "240.4(D)"\nsource = "local"\ntext_status = "verified"\nwithout = ["copper.13 AWG"]\n', encoding="utf-8"
    )
    with pytest.raises(CodeTableError, match="no entry to leave out"):
        read_edition(tmp_path, {"nec-2023": codes.edition("2023")})
