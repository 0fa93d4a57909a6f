"""Limits and provisions by name: inherited from edition to edition, asked for by unit, amended as a table's entry is."""

import pytest

from nailplate import codes
from nailplate.codes import EDITIONS, CodeTableError, Limit, Provision, TableChange, TextStatus, amended

OLD, NEW = codes.edition("2017"), codes.edition("2020")


def test_an_edition_inherits_what_it_does_not_state() -> None:
    # 314.27(C): https://forums.mikeholt.com/threads/314-27.2581560
    assert [codes.edition(year).holds("fan_box_anywhere") for year in EDITIONS] == [False, True, True, True]
    assert {codes.edition(year).pounds("fan_heaviest") for year in EDITIONS} == {70.0}
    assert codes.edition("2026").limits.entries["fan_heaviest"].text_status is TextStatus.ASSUMED


def test_an_amendment_sets_a_limit_and_switches_a_provision() -> None:
    local = amended(
        OLD, [TableChange("limits", "fan_heaviest.value", 50), TableChange("provisions", "fan_box_anywhere.holds", value=True)]
    )
    assert local.limit("fan_heaviest") == 50
    assert local.holds("fan_box_anywhere")
    assert not OLD.holds("fan_box_anywhere")


@pytest.mark.parametrize("ask", [lambda: NEW.holds("fan_box_anywere"), lambda: NEW.limit("fan_heavyest")])
def test_an_unknown_name_is_refused_with_the_nearest(ask: object) -> None:
    with pytest.raises(CodeTableError, match="the nearest is"):
        ask()  # type: ignore[operator]  # pytest hands the lambda on as an object


def test_an_amendment_of_no_entry_is_refused() -> None:
    with pytest.raises(CodeTableError, match=r"nearest is 'fan_heaviest\.value'"):
        amended(OLD, [TableChange("limits", "fan_heavyest.value", 50)])


def test_a_figure_of_another_kind_is_refused() -> None:
    with pytest.raises(CodeTableError, match="no wire size"):
        NEW.size("fan_heaviest")


def test_every_entry_tells_its_section_and_how_well_it_is_known() -> None:
    for year in EDITIONS:
        edition = codes.edition(year)
        entries: list[Limit | Provision] = [*edition.limits.entries.values(), *edition.provisions.entries.values()]
        for entry in entries:
            assert entry.section
            assert entry.text_status is not TextStatus.VERIFIED or entry.source, entry.what
