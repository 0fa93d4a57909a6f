"""Marks of findings: the report's number and the severity in a word, in a frame whose shape says the severity too.

A danger stands in a frame with cut corners, what is below the code in a square one, advice in a round one. A broken outline says
that the finding is open: a fact is missing, or the authority having jurisdiction decides.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from nailplate.plan import Level, Pointer
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.labels import free_box
from nailplate.sheets.drawing.lettering import base_line, fitted, text, width_of
from nailplate.sheets.drawing.room_for import Rectangle, around
from nailplate.sheets.drawing.spots import Spot, part_of, spot_of
from nailplate.sheets.drawing.svg import Markup, Point, element, figure, group, line, path, title
from nailplate.survey.index import Survey

SIZE: Final = 6.8
_TALL: Final = 11.0
_SIDE: Final = 4.0
_CUT: Final = 3.2
_CLEAR: Final = 7.0
_MOST_NUMBERS: Final = 3
SEVERITIES: Final = ("danger", "code", "advice")


@dataclass(frozen=True, slots=True)
class Mark:
    """A finding as a drawing shows it. On a page that tells of it ``target`` is where (``#f3``), ``anchor`` the mark's own id."""

    number: int
    severity: str
    open: bool
    words: str
    pointers: tuple[Pointer, ...]
    target: str | None = None
    anchor: str | None = None


@dataclass(frozen=True, slots=True)
class _Place:
    spot: Spot
    severity: str
    open: bool


def draw_marks(draft: Draft, survey: Survey, level: Level, marks: Iterable[Mark]) -> list[Mark]:
    """Draws the marks of one level, those of one place and severity as one; gives those that lie on it."""
    places: dict[_Place, list[Mark]] = {}
    for mark in marks:
        spot = spot_of_mark(survey, mark)
        if spot is not None and spot.level == level.id:
            places.setdefault(_Place(spot, mark.severity, mark.open), []).append(mark)
    for place, together in sorted(places.items(), key=lambda each: SEVERITIES.index(each[0].severity)):
        _draw(draft, _anchor(draft, place, together), together)
    return [mark for together in places.values() for mark in together]


def draw_marks_at(draft: Draft, marks: Iterable[Mark]) -> list[Mark]:
    """Draws the marks of parts that stand on the sheet already, and of no others; gives them."""
    places: dict[tuple[Point, str, bool], list[Mark]] = {}
    for mark in marks:
        at = next((draft.centers[each] for each in mark.pointers if each in draft.centers), None)
        if at is not None:
            places.setdefault((at, mark.severity, mark.open), []).append(mark)
    for (at, _, _), together in places.items():
        _draw(draft, at, together)
    return [mark for together in places.values() for mark in together]


def spot_of_mark(survey: Survey, mark: Mark) -> Spot | None:
    """The place of the first part that a finding names and that has one."""
    return survey.once(_spot_of_pointers, mark.pointers)


def _spot_of_pointers(survey: Survey, pointers: tuple[Pointer, ...]) -> Spot | None:
    parts = (part_of(survey.plan, pointer) for pointer in pointers)
    return next((spot for part in parts if part is not None and (spot := spot_of(survey, part)) is not None), None)


def _draw(draft: Draft, at: Point, together: list[Mark]) -> None:
    first = together[0]
    said = f"{_numbers(together)} {first.severity.capitalize()}{' ?' if first.open else ''}"
    box = free_box(draft, at, _CLEAR, width_of(said, SIZE, bold=True) + 2 * _SIDE, _TALL)
    if box is None:
        draft.unlettered.append(f"finding {said}")
        return
    draft.taken.take(box)
    draft.used[f"mark-{first.severity}"] = None
    if first.open:
        draft.used["mark-open"] = None
    near = (min(max(at[0], box.left), box.right), min(max(at[1], box.top), box.bottom))
    draft.draw("findings", line(at, near, "np-pointer"), linked(together, said, frame(box, said, first.severity)))


def _anchor(draft: Draft, place: _Place, together: list[Mark]) -> Point:
    """The symbol of the part where it has one, else its place."""
    drawn = (draft.centers[pointer] for mark in together for pointer in mark.pointers if pointer in draft.centers)
    return next(drawn, draft.view(place.spot.point))


def _numbers(marks: list[Mark]) -> str:
    numbers = list(dict.fromkeys(each.number for each in marks))
    more = "…" if len(numbers) > _MOST_NUMBERS else ""
    return ", ".join(str(each) for each in numbers[:_MOST_NUMBERS]) + more


def linked(together: list[Mark], said: str, shape: Markup) -> Markup:
    """The shape of the marks of one place, as a link to the first finding where there is a page that tells of it."""
    mark = together[0]
    words = "; ".join(
        f"finding {each.number}, {each.severity}{', open' if each.open else ''}: {each.words}" for each in together
    )
    class_ = f"np-mark np-mark-{mark.severity}{' np-mark-open' if mark.open else ''}"
    numbers = " ".join(str(each.number) for each in together)
    inner = group(title(fitted(words, 1.0, _LONGEST)), shape, class_=class_, data_findings=numbers)
    if mark.target is None:
        return inner
    label = fitted(f"{said}: go to {words}", 1.0, _LONGEST)
    link = element("a", inner, href=mark.target, aria_label=label)
    for anchor in dict.fromkeys(each.anchor for each in together):
        link = group(link, id=anchor)  # one to aim at for every finding of the place
    return link


_LONGEST: Final = 260.0
"""Ems of words in a mark's title."""


def frame(box: Rectangle, said: str, severity: str) -> Markup:
    """The frame of a severity around its words."""
    left, top, right, bottom = box
    middle = ((left + right) / 2, base_line(top + (bottom - top - SIZE * 1.15) / 2, SIZE))
    return group(path(_OUTLINES[severity](left, top, right, bottom)), text(middle, said, SIZE, anchor="middle", bold=True))


def _octagon(left: float, top: float, right: float, bottom: float) -> str:
    cut = _CUT
    corners = [
        (left + cut, top), (right - cut, top), (right, top + cut), (right, bottom - cut),
        (right - cut, bottom), (left + cut, bottom), (left, bottom - cut), (left, top + cut),
    ]  # fmt: skip
    return "M" + " L".join(f"{figure(x)} {figure(y)}" for x, y in corners) + "Z"


def _square(left: float, top: float, right: float, bottom: float) -> str:
    return f"M{figure(left)} {figure(top)}H{figure(right)}V{figure(bottom)}H{figure(left)}Z"


def _round(left: float, top: float, right: float, bottom: float) -> str:
    radius = (bottom - top) / 2
    turn = f"A{figure(radius)} {figure(radius)} 0 0 1"
    one, other = figure(left + radius), figure(right - radius)
    return f"M{one} {figure(top)}H{other}{turn} {other} {figure(bottom)}H{one}{turn} {one} {figure(top)}Z"


_OUTLINES: Final[Mapping[str, Callable[[float, float, float, float], str]]] = {
    "danger": _octagon,
    "code": _square,
    "advice": _round,
}


def key_frame(at: Point, severity: str, *, open_: bool = False) -> Markup:
    """A frame for the legend."""
    said = f"{severity.capitalize()}{' ?' if open_ else ''}"
    box = around(at, width_of(said, SIZE, bold=True) + 2 * _SIDE, _TALL)
    class_ = f"np-mark np-mark-{severity}{' np-mark-open' if open_ else ''}"
    return group(frame(box, said, severity), class_=class_)
