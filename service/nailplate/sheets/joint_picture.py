"""A small picture of what joins what in one box: conductors at the left, a dot a joint, terminals at the right. Colors in words too."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from nailplate.sheets.drawing.svg import Markup, element, words
from nailplate.sheets.inert import cut

ROW: Final = 15.0
WIDTH: Final = 700.0
_LEFT: Final = 250.0
_DOT: Final = 340.0
_RIGHT: Final = 430.0
_LETTERS: Final = 44
_IN_FRAME: Final = 34
"""Letters that fit beside a line's end, and within the frame."""
_STROKES: Final = {
    "black": "#111",
    "red": "#b00020",
    "blue": "#1144aa",
    "yellow": "#8a6d00",
    "brown": "#6b3e1e",
    "orange": "#b35900",
}
"""Strokes that stand out on white paper; white is drawn as a grey line and every conductor's color is written beside it."""


@dataclass(frozen=True, slots=True)
class Lead:
    """A conductor that comes into the box, in words, and its color."""

    words: str
    color: str


@dataclass(frozen=True, slots=True)
class JointLines:
    """One joint: what it carries, the conductors, and the terminals in words."""

    carries: str
    leads: tuple[Lead, ...]
    terminals: tuple[str, ...]

    @property
    def rows(self) -> int:
        """Lines of letters that it takes, that of what it carries with them."""
        return max(len(self.leads), len(self.terminals), 1) + 1


def joint_picture(name: str, joints: Sequence[JointLines]) -> Markup:
    """The picture of one box."""
    parts: list[Markup] = []
    top = ROW
    for joint in joints:
        parts += _joint(joint, top)
        top += joint.rows * ROW
    title = element("title", words(f"What joins what in {name}"))
    frame = element(
        "rect", x=_LEFT + 4, y=2.0, width=_RIGHT - _LEFT - 8, height=top, fill="none", stroke="#555", stroke_dasharray="4 3"
    )
    box = f"0 0 {WIDTH:g} {top + 6:g}"
    return element(
        "svg",
        title,
        frame,
        *parts,
        xmlns="http://www.w3.org/2000/svg",
        role="img",
        font_size=10.0,
        font_family="sans-serif",
        viewBox=box,
        width=WIDTH,
        height=top + 6,
    )


def _joint(joint: JointLines, top: float) -> list[Markup]:
    middle = (_DOT, top + (joint.rows - 2) * ROW / 2)
    parts = [_letters(joint.carries, _DOT, top + (joint.rows - 1) * ROW - 2, "middle", _IN_FRAME)]
    for number, lead in enumerate(joint.leads):
        y = top + number * ROW
        stroke = _STROKES.get(lead.color.split(" ")[0], "#888")
        parts += [_letters(lead.words, _LEFT, y + 3, "end"), _line((_LEFT + 4, y), middle, stroke)]
    for number, terminal in enumerate(joint.terminals):
        y = top + number * ROW
        parts += [_letters(terminal, _RIGHT, y + 3, "start"), _line(middle, (_RIGHT - 4, y), "#111")]
    return [*parts, element("circle", cx=middle[0], cy=middle[1], r=3.0, fill="#111")]


def _letters(text: str, x: float, y: float, anchor: str, most: int = _LETTERS) -> Markup:
    short = cut(text, most)
    whole = (element("title", words(text)),) if short != text else ()
    return element("text", words(short), *whole, x=x, y=y, text_anchor=anchor)


def _line(one: tuple[float, float], other: tuple[float, float], stroke: str) -> Markup:
    return element("line", x1=one[0], y1=one[1], x2=other[0], y2=other[1], stroke=stroke, stroke_width=1.6)
