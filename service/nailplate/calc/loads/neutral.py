"""The neutral's load: the largest net unbalance, always by the standard method."""

from collections.abc import Sequence

from nailplate.calc.loads.items import Line
from nailplate.calc.loads.legs import LINE_VOLTAGE
from nailplate.codes import Edition

_SEVENTY = ("cooking", "other cooking", "dryers")


def neutral_lines(lines: Sequence[Line], edition: Edition, *, reduced: bool) -> list[Line]:
    """What loads the neutral. ``reduced`` is false for two legs of a three-phase system, whose neutral has no relief."""
    table = edition.dwelling_load.neutral
    found = []
    for line in lines:
        if line.to_neutral:
            share = table.share if reduced and line.what in _SEVENTY else 1.0
            note = f"x {share:g}" if share < 1.0 else ""
            found.append(Line(what=f"neutral: {line.what}", load=line.to_neutral * share, citation=table.cite, note=note))
    beyond = sum(line.load for line in found) - table.over * LINE_VOLTAGE
    if reduced and beyond > 0:
        less = beyond * (1.0 - table.share)
        found.append(
            Line(what="neutral: relief", load=-less, citation=table.cite, note=f"x {table.share:g} over {table.over:g} A")
        )
    return found
