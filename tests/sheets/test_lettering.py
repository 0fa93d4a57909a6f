"""The embedded widths against those of a font's own file, and against fonts' habit of being wider where they are unknown."""

import pytest

from nailplate.sheets.drawing.lettering import fitted, width_of, wrapped
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
