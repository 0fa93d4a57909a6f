"""The legend of a sheet: the symbols, lines and letters that it uses, and no others."""

from collections.abc import Callable, Iterator
from typing import Final

from nailplate.plan import Circuit
from nailplate.sheets.drawing.arrows import arrow_head
from nailplate.sheets.drawing.draft import Draft
from nailplate.sheets.drawing.margin import Row, gap, heading, keyed, said, signed
from nailplate.sheets.drawing.marks import Mark, key_frame
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.drawing.svg import Markup, circle, group, line, path, rectangle
from nailplate.sheets.drawing.symbols import SYMBOLS
from nailplate.sheets.drawing.tags import breaker_words, circuit_tag
from nailplate.sheets.drawing.which_symbol import ABBREVIATIONS
from nailplate.survey.index import Survey


def _stroke(class_: str) -> Callable[[], Markup]:
    return lambda: line((-10, 0), (10, 0), class_)


_SIGNS: Final[dict[str, tuple[str, Callable[[], Markup]]]] = {
    "home-run": ("Home run to panel", lambda: group(path("M-10 0 L8 0", "np-home-run"), arrow_head((-10, 0), (10, 0)))),
    "switch-leg": ("Switch to what it controls", _stroke("np-switch-leg")),
    "cable": ("Cable in framing", _stroke("np-cable")),
    "cable-free": ("Cable outside wall framing", _stroke("np-cable-free")),
    "cable-derived": ("Cable, route worked out from its ends", _stroke("np-cable-derived")),
    "riser": ("Cable straight up or down", lambda: circle((0, 0), 1.5, "np-riser")),
    "proposed": ("Proposed, not in the plan", lambda: circle((0, 0), 4.8, "np-ghost")),
    "stud": ("Stud", lambda: rectangle(-2, -6, 4, 12, "np-stud")),
    "stud-assumed": ("Stud, place assumed", lambda: rectangle(-2, -6, 4, 12, "np-stud")),
    "drill-line": ("Drill line", _stroke("np-drill")),
    "nail-plate": ("Nail plate", lambda: rectangle(-2, -4, 4, 8, "np-steel")),
    "box-front": ("Box on this face", lambda: rectangle(-4, -6, 8, 12, "np-front")),
    "box-back": ("Box on the other face", lambda: rectangle(-4, -6, 8, 12, "np-back")),
    "mark-danger": ("Can hurt someone", lambda: key_frame((-1, 0), "danger")),
    "mark-code": ("Below code minimum", lambda: key_frame((-1, 0), "code")),
    "mark-advice": ("Good practice", lambda: key_frame((-1, 0), "advice")),
    "mark-open": ("Fact missing, or AHJ decides", lambda: key_frame((-1, 0), "code", open_=True)),
}
_KEY: Final = 42.0
"""Points that the key to a frame takes."""
_FEW: Final = 14
"""Findings of a sheet up to which each has two lines."""
_MARKS: Final = tuple(name for name in _SIGNS if name.startswith("mark-"))


def legend_rows(draft: Draft) -> Iterator[Row]:
    """What the sheet's symbols and lines mean."""
    symbols = [(name, SYMBOLS[name].draw((0, 0), (0, -1)), SYMBOLS[name].words) for name in SYMBOLS if name in draft.used]
    lines = [(name, draw(), words) for name, (words, draw) in _SIGNS.items() if name in draft.used and name not in _MARKS]
    if symbols or lines:
        yield gap()
        yield heading("Legend")
        yield from signed([*symbols, *lines])
    letters = [f"{each}: {ABBREVIATIONS[each]}" for each in draft.beside if each in ABBREVIATIONS]
    if draft.circuits:
        letters.insert(0, "Beside a symbol: circuit, then the letter of its switching")
    if letters:
        yield from said(". ".join(letters) + ".", 6.0, lines=4)


def circuit_rows(draft: Draft, survey: Survey) -> Iterator[Row]:
    """The circuits that the sheet names, in the order of their spaces."""
    if not draft.circuits:
        return
    yield gap()
    yield heading("Circuits on this sheet")
    for circuit in sorted((survey.plan.circuits[name] for name in draft.circuits), key=_by_space):
        name = name_of(circuit)
        yield from keyed(circuit_tag(survey, circuit), f"{breaker_words(circuit)}, {name}", lines=1)


def _by_space(circuit: Circuit) -> tuple[str, tuple[int, ...], str]:
    panel = circuit.panel if circuit.knows("panel") else ""
    return panel, circuit.position if circuit.knows("position") else (10_000,), circuit.id


def finding_rows(draft: Draft, marks: list[Mark]) -> Iterator[Row]:
    """The findings marked on the sheet, each in one or two lines, after the key to their frames."""
    if not marks:
        return
    yield gap()
    yield heading("Findings marked on this sheet")
    yield from signed(
        [(name, draw(), words) for name, (words, draw) in _SIGNS.items() if name in _MARKS and name in draft.used],
        tall=15.0,
        indent=_KEY,
    )
    lines = 2 if len(marks) <= _FEW else 1
    for mark in sorted(marks, key=lambda each: each.number):
        severity = f"{mark.severity.capitalize()}{' ?' if mark.open else ''}"
        yield from keyed(f"{mark.number}", f"{severity}: {mark.words}", indent=16.0, lines=lines)


def note_rows(draft: Draft) -> Iterator[Row]:
    """What could not be drawn, and labels for which there was no room."""
    notes = list(dict.fromkeys(draft.notes))
    if draft.unplaced:
        notes.append(f"Drawn on no sheet, since their places are not fully stated: {'; '.join(dict.fromkeys(draft.unplaced))}")
    if draft.unlettered:
        notes.append(f"No room on the sheet to letter: {'; '.join(draft.unlettered)}")
    if notes:
        yield gap()
        yield heading("Notes")
        for each in notes:
            yield from said(each, lines=6)
