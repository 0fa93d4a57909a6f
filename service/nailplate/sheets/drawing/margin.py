"""The margin of a sheet: title block, cautions, legend, circuits, findings and notes, in columns of rows."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from nailplate.sheets.drawing.lettering import HEIGHT, base_line, fitted, text, wrapped
from nailplate.sheets.drawing.room_for import Rectangle
from nailplate.sheets.drawing.svg import Markup, Point, element, group, line, title
from nailplate.sheets.inert import inert

COLUMN: Final = 168.0
"""Points; the width of a column."""
GUTTER: Final = 10.0
SMALL: Final = 6.4
_LEAD: Final = 1.6
"""Points between rows."""


@dataclass(frozen=True, slots=True)
class Row:
    """A row of the margin: how tall it is, and what it draws from its upper left corner within a width."""

    height: float
    draw: Callable[[Point, float], Markup]
    heads: bool = False
    """A heading, which does not stay alone at the foot of a column."""


def heading(said: str) -> Row:
    """A heading over what follows, with a rule under it."""
    size = 7.4

    def draw(at: Point, width: float) -> Markup:
        under = at[1] + size * HEIGHT + 1.6
        rule = line((at[0], under), (at[0] + width, under), "np-rule")
        return group(text((at[0], base_line(at[1], size)), said, size, bold=True), rule)

    return Row(size * HEIGHT + 4.4, draw, heads=True)


def gap(height: float = 6.0) -> Row:
    """Room between two blocks."""
    return Row(height, lambda at, width: Markup(""))


def said(words: str, size: float = SMALL, *, lines: int = 3, bold: bool = False, class_: str | None = None) -> Iterator[Row]:
    """Words wrapped to the column; those of an author that are cut keep their whole in a title."""
    found = wrapped(words, size, COLUMN, lines, bold=bold)
    whole = title(words) if " ".join(found) != inert(words) else Markup("")
    for each in found:
        yield Row(size * HEIGHT + _LEAD / 2, _one_line(each, size, bold, class_, whole))


def _one_line(words: str, size: float, bold: bool, class_: str | None, whole: Markup) -> Callable[[Point, float], Markup]:
    def draw(at: Point, width: float) -> Markup:
        drawn = text((at[0], base_line(at[1], size)), words, size, class_, bold=bold)
        return group(whole, drawn) if whole else drawn

    return draw


def keyed(key: Markup | str, words: str, indent: float = 34.0, lines: int = 2) -> Iterator[Row]:
    """A sign or a tag with what it stands for beside it. A sign is drawn around the origin."""
    found = wrapped(words, SMALL, COLUMN - indent, lines)
    whole = title(words) if " ".join(found) != inert(words) else Markup("")
    for number, each in enumerate(found):
        yield Row(_KEYED if number == 0 else SMALL * HEIGHT, _key_line(key if number == 0 else "", each, indent, whole))


_KEYED: Final = 8.6


def _key_line(key: Markup | str, words: str, indent: float, whole: Markup) -> Callable[[Point, float], Markup]:
    def draw(at: Point, width: float) -> Markup:
        line_at = base_line(at[1] + 1, SMALL)
        tag = text((at[0], line_at), fitted(key, SMALL, indent - 2, bold=True), SMALL, bold=True) if key else Markup("")
        return group(whole, tag, text((at[0] + indent, line_at), words, SMALL))

    return draw


Sign = tuple[str, Markup, str]
"""A sign's name, the sign drawn around the origin, and its meaning."""


def signed(signs: Iterable[Sign], tall: float = 15.6, indent: float = 25.0) -> Iterator[Row]:
    """Signs with their meaning, two to a row; each sign is drawn around the origin."""
    entries = list(signs)
    half = COLUMN / 2
    for number in range(0, len(entries), 2):
        two = entries[number : number + 2]
        yield Row(tall, _signs(two, half, tall, indent))


def _signs(entries: list[Sign], half: float, tall: float, indent: float) -> Callable[[Point, float], Markup]:
    def draw(at: Point, width: float) -> Markup:
        found = []
        for number, (name, sign, words) in enumerate(entries):
            x, y = at[0] + number * half, at[1] + tall / 2
            found.append(element("g", sign, transform=f"translate({x + indent / 2 - 0.5:.2f} {y:.2f})", data_sign=name))
            lines = wrapped(words, 5.8, half - indent - 2, 2)
            top = y - len(lines) * 5.8 * HEIGHT / 2
            found += [
                text((x + indent, base_line(top + index * 5.8 * HEIGHT, 5.8)), each, 5.8) for index, each in enumerate(lines)
            ]
        return group(*found)

    return draw


def flow(rows: Iterable[Row], columns: list[Rectangle]) -> tuple[Markup, list[Rectangle]]:
    """Rows drawn down one column after the other. What finds no room is counted in a last line; gives the columns used."""
    waiting = list(rows)
    drawn: list[Markup] = []
    used: list[Rectangle] = []
    for number, column in enumerate(columns):
        used.append(column)
        last = number == len(columns) - 1
        y = column.top
        while waiting and _fits(waiting, y, column.bottom - (_REST if last and len(waiting) > 1 else 0)):
            row = waiting.pop(0)
            drawn.append(row.draw((column.left, y), column.right - column.left))
            y += row.height
        if not waiting:
            break
        if last:
            words = f"{len(waiting)} more lines: see the report"
            drawn.append(text((column.left, base_line(column.bottom - _REST, SMALL)), words, SMALL, bold=True))
    return Markup("".join(drawn)), used


_REST: Final = 10.0


def _fits(rows: list[Row], y: float, bottom: float) -> bool:
    wanted = rows[0].height + (rows[1].height if rows[0].heads and len(rows) > 1 else 0)
    return y + wanted <= bottom
