"""A hold-out of a hundred rooms by the dice: nothing lies over anything, everything is drawn, marks of findings among it."""

import json
import re

import pytest

from nailplate.plan import Pointer
from nailplate.sheets.drawing import PAPERS, Findings, Mark, Stamp, level_sheet, wall_sheet
from nailplate.survey import Survey
from nailplate.wire import read_plan
from sheets.generated_rooms import room_by_dice
from sheets.reading_svg import anchors, layer, overlaps, parsed, texts


@pytest.mark.parametrize("seed", range(100))
def test_no_lettering_of_a_room_by_the_dice_lies_over_other_lettering(seed: int) -> None:
    value = room_by_dice(seed)
    plan = read_plan(json.dumps(value).encode())
    marks = [
        Mark(number, ("danger", "code", "advice")[number % 3], number % 5 == 0, "words of it", (Pointer("/devices") / name,))
        for number, name in enumerate(list(value["devices"])[:20], 1)
    ]
    survey, stamp, paper = Survey(plan), Stamp(plan.name, "2023"), PAPERS["letter" if seed % 2 else "tabloid"]
    level = level_sheet(survey, plan.levels["main"], paper, stamp, Findings(marks))
    wall = wall_sheet(survey, plan.walls["abcd"[seed % 4]], paper, stamp, marks)
    for svg in (level, wall):
        assert overlaps(svg) == []
    assert anchors(level, "devices").keys() == value["devices"].keys()
    assert anchors(level, "boxes").keys() == value["boxes"].keys()
    findings = layer(level, "findings")
    numbered = [] if findings is None else [each.said for each in texts(findings)]
    unlettered = "".join(each.said for each in texts(parsed(level)) if "finding" in each.said)
    shown = {int(number) for said in (*numbered, unlettered) for number in re.findall(r"\d+", said)}
    more = sum("…" in each for each in numbered)
    assert more or shown >= {mark.number for mark in marks}
