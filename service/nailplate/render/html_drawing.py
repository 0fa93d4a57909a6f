"""The drawing on a report's page: a figure for each level on which anything is drawn, and the style that ties marks to findings."""

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape

from nailplate.plan import Level, Plan
from nailplate.sheets.drawing import Findings, holds_wiring, level_figure, levels_drawn, name_of, spot_of_mark, spot_of_proposal
from nailplate.sheets.inert import inert
from nailplate.survey import Survey

_MOST_TIED = 400
"""Findings up to which pointing at one lights its mark and back; beyond them following the link does."""
_LAYERS = (("cables", "Cable routes", ""), ("legs", "Switch legs", " checked"), ("homes", "Home runs", " checked"))


@dataclass(frozen=True, slots=True)
class Drawing:
    """A plan's drawing with a report's findings: the levels that are drawn, and the numbers of the findings marked on them."""

    survey: Survey
    findings: Findings
    levels: tuple[Level, ...]
    placed: frozenset[int]


def drawing_of(plan: Plan, findings: Findings) -> Drawing:
    """The drawing of a plan."""
    survey = Survey(plan)
    levels = tuple(levels_drawn(survey))
    ids = {each.id for each in levels}
    spots = ((mark.number, spot_of_mark(survey, mark)) for mark in findings.marks)
    placed = frozenset(number for number, spot in spots if spot is not None and spot.level in ids)
    return Drawing(survey, findings, levels, placed)


def figures(drawing: Drawing, page: str) -> Iterator[str]:
    """The figures, and boxes to choose layers of lines on a screen. Paper always shows them all."""
    yield '<fieldset class="layers"><legend>Show on the drawings</legend>'
    for layer, words, checked in _LAYERS:
        box = f'<input type="checkbox" class="show-{layer}" id="{page}{layer}"{checked}>'
        yield f'<label for="{page}{layer}">{box}{words}</label>'
    yield "</fieldset>"
    bare = [each for each in drawing.levels if not _holds_anything(drawing, each)]
    for level in drawing.levels:
        if level not in bare:
            yield from _figure(drawing, level, page)
    if bare:
        names = ", ".join(escape(inert(name_of(each))) for each in bare)
        yield f"<details><summary>Levels without wiring or findings: {names}</summary>"
        for level in bare:
            yield from _figure(drawing, level, page)
        yield "</details>"


def _holds_anything(drawing: Drawing, level: Level) -> bool:
    """Whether wiring, a finding or a proposal is on a level."""
    if holds_wiring(drawing.survey, level):
        return True
    spots = [
        *(spot_of_mark(drawing.survey, mark) for mark in drawing.findings.marks),
        *(spot_of_proposal(drawing.survey, each) for each in drawing.findings.proposals),
    ]
    return any(spot is not None and spot.level == level.id for spot in spots)


def _figure(drawing: Drawing, level: Level, page: str) -> Iterator[str]:
    number = drawing.levels.index(level)
    name = escape(inert(name_of(level)))
    yield f'<figure><figcaption id="{page}level-{number}">{name}</figcaption>'
    yield f'<div class="board" role="group" tabindex="0" aria-labelledby="{page}level-{number}">'
    yield level_figure(drawing.survey, level, drawing.findings, f"{page}drawing-{number}")
    yield "</div></figure>"


def ties(drawing: Drawing, firsts: dict[int, int], page: str) -> str:
    """Style that lights a finding's mark while one points at the finding, and the finding while one points at its mark.

    ``firsts`` maps the number of a finding to that of the group it is told in, whose article carries it.
    """
    pairs = [(firsts[number], number) for number in sorted(drawing.placed) if number in firsts][:_MOST_TIED]
    if not pairs:
        return ""
    over = [
        f".report:has(#{page}f{first}:hover,#{page}f{first}:focus-within) #{page}m{number} .np-mark" for first, number in pairs
    ]
    back = [f".report:has(#{page}m{number} a:hover,#{page}m{number} a:focus) #{page}f{first}" for first, number in pairs]
    lit = f"{','.join(f'{each} path' for each in over)}{{fill:var(--lit);stroke:var(--ink);stroke-width:3}}"
    dark = f"{','.join(f'{each} text' for each in over)}{{fill:var(--ink)}}"
    return f"{lit}{dark}{','.join(back)}{{box-shadow:0 0 0 .3rem var(--lit)}}"
