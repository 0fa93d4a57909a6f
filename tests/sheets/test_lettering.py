"""The embedded widths against those of a font's own file, and against fonts' habit of being wider where they are unknown."""

import importlib
from pathlib import Path
from typing import Any

import pytest

from nailplate.sheets.drawing.lettering import WIDTHS, drawable, fitted, text, width_of, wrapped
from nailplate.sheets.letters import font_file
from sheets.measured_widths import BOLD, REGULAR


@pytest.mark.parametrize("character", sorted(REGULAR))
def test_a_characters_width_is_the_fonts(character: str) -> None:
    assert width_of(character, 1000) == pytest.approx(REGULAR[character] * 1000, abs=0.6)
    assert width_of(character, 1000, bold=True) == pytest.approx(BOLD[character] * 1000, abs=0.6)


@pytest.mark.parametrize("words", ["Living room", "x" * 500, "日本語" * 40, "🧰" * 60, "W" * 90])
def test_what_is_cut_fits(words: str) -> None:
    for most in (20.0, 57.0, 130.0):
        assert width_of(fitted(words, 7, most), 7) <= max(most, width_of("…", 7))


def test_wrapped_lines_hold_every_word() -> None:
    words = "Storage stair to the loft, with drawers under every second tread"
    lines = wrapped(words, 6, 60)
    assert " ".join(lines) == words
    assert all(width_of(each, 6) <= 60 for each in lines)


_CONDENSED = 0.9
"""Of the usual cut's widths: the font that the package carries is the condensed one."""


@pytest.mark.parametrize("bold", [False, True])
def test_a_font_of_three_scripts_draws_no_letter_wider_than_room_is_kept_for(bold: bool) -> None:
    """Latin, Greek and Cyrillic of DejaVu Sans as the package carries it; what is drawn wider stands as a box."""
    with Path(font_file(bold=bold)).open("rb") as file:
        font: Any = importlib.import_module("reportlab.pdfbase.ttfonts").TTFontFile(file)
    widths = {
        chr(code): font.charWidths[code] / 1000 / _CONDENSED
        for code in font.charToGlyph
        if code > 0x17F and code in font.charWidths
    }
    assert len(widths) > 1000
    assert [
        each
        for each, wide in widths.items()
        if each not in WIDTHS and drawable(each) == each and wide > width_of(each, 1, bold=bold)
    ] == []


@pytest.mark.parametrize("words", ["Кухня", "Κουζίνα", "日本語", "مطبخ", "🧰 shop"])
def test_no_lettering_is_stretched(words: str) -> None:
    drawn = text((0, 0), words, 7)
    assert words in drawn
    assert "textLength" not in drawn
    assert "lengthAdjust" not in drawn


def test_a_phrase_in_one_sign_stands_as_a_box() -> None:
    assert "\ufdfd" not in text((0, 0), "\ufdfd kitchen", 7)
    assert "□ kitchen" in text((0, 0), "\ufdfd kitchen", 7)
