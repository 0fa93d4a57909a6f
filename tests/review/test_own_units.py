"""A plan drawn in mm is answered in mm, with feet and inches beside what may be the code's own."""

import re
from collections.abc import Iterator
from typing import Any

import pytest

import nailplate.units
from nailplate.catalog import catalog
from nailplate.plan.words import LengthUnit
from nailplate.render import html, markdown
from nailplate.review import check, job_for, judged
from nailplate.review.law import law_of
from nailplate.review.own_units import LENGTH, in_own_unit, lengths_in
from nailplate.rulekit import Rule
from nailplate.units import inches
from nailplate.wire import read_plan_value, report_value
from rules.judging import packs

MM = LengthUnit.MM


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("at 7 ft 6 in from", "at 2286 mm (7 ft 6 in) from"),
        ("6 ft.", "1829 mm (6 ft)."),
        ("1-1/4 in, or 3/4 in", "32 mm (1-1/4 in), or 19 mm (3/4 in)"),
        ("3 ft 1/2 in and -2 in", "927 mm (3 ft 1/2 in) and -51 mm (-2 in)"),
        ("20.25 in³ and 240 ft² on 2 in the wall", "20.25 in³ and 240 ft² on 2 in the wall"),
        ("'Box 3 in kitchen' is 1 in deep", "'Box 3 in kitchen' is 25 mm (1 in) deep"),
        ("4 x 2-1/8 square, 14 AWG", "4 x 2-1/8 square, 14 AWG"),
    ],
)
def test_lengths_are_told_in_the_plans_unit(words: str, told: str) -> None:
    assert in_own_unit(words, MM) == told
    assert in_own_unit(words, LengthUnit.FT) == words
    assert in_own_unit(words, None) == words


def test_a_measured_figure_is_told_exactly_and_alone() -> None:
    measured = inches(1001 / 25.4)
    assert in_own_unit("it is 3 ft 3 7/16 in; 6 ft is required", MM, measured) == "it is 1001 mm; 1829 mm (6 ft) is required"
    assert in_own_unit("6 ft", LengthUnit.M) == "1.829 m (6 ft)"
    assert in_own_unit("6 ft", LengthUnit.CM) == "182.9 cm (6 ft)"


PLAN: dict[str, Any] = {
    "plan_format": 1,
    "name": "metric",
    "basis": {"edition": "2023", "regime": "dwelling"},
    "units": {"length": "mm"},
    "levels": {"m": {"kind": "storey"}},
    "walls": {
        name: {"level": "m", "from": one, "to": other, "kind": "exterior", "thickness": 120}
        for name, one, other in (
            ("s", [0, 0], [6000, 0]), ("e", [6000, 0], [6000, 4000]), ("n", [6000, 4000], [0, 4000]), ("w", [0, 4000], [0, 0]),
        )
    },
    "rooms": {"living": {"level": "m", "uses": ["living"], "outline": [[60, 60], [5940, 60], [5940, 3940], [60, 3940]]}},
}  # fmt: skip


def test_a_plan_in_mm_is_answered_in_mm_in_every_form() -> None:
    report = check(read_plan_value(PLAN), catalog())
    finding = next(each for each in report.findings if each.rule == "wall-space" and each.outcome == "violation")
    assert " mm" in finding.message
    assert "610 mm (2 ft) or more" in finding.message
    assert finding.figures_shown == "measured 19520 mm, limit 610 mm (2 ft)"
    assert all(re.search(r"\(\s*$", finding.message[: match.start()]) for match in LENGTH.finditer(finding.message))
    told = next(each for each in report_value(report)["findings"] if each["fingerprint"] == finding.fingerprint)
    assert told["measured"]["unit"] == "in", "figures stay in the canonical unit"
    assert told["figures_shown"] == finding.figures_shown
    for page in (markdown(report), html(report)):
        assert "measured 19520 mm, limit 610 mm (2 ft)" in page


def test_a_length_that_the_plan_states_is_told_as_it_states_it() -> None:
    """4500 mm is shown as 14 ft 9 3/16 in, which is 4500.6 mm."""
    box = {"at": {"wall": "s", "along": 4500, "height": 400, "side": "left"}}
    devices = {"d": {"kind": "receptacle", "box": "b"}}
    report = check(read_plan_value({**PLAN, "boxes": {"b": box}, "devices": devices}), catalog())
    finding = next(each for each in report.findings if each.rule == "wall-space" and each.outcome == "violation")
    assert "4500 mm (14 ft 9 3/16 in)" in finding.message


def test_a_plan_in_inches_is_answered_as_ever() -> None:
    report = check(read_plan_value({**PLAN, "units": {"length": "in"}, "rooms": {}, "walls": {}}), catalog())
    assert not any(" mm" in each.message or each.figures_shown for each in report.findings)


@pytest.mark.parametrize("rule", packs().rules.values(), ids=lambda rule: rule.id)
def test_exactly_the_lengths_of_every_case_are_found(rule: Rule, monkeypatch: pytest.MonkeyPatch) -> None:
    """With each length that a rule writes marked, no mark is missed; what is found beside is a figure followed by its unit."""
    write = nailplate.units._shown_length
    monkeypatch.setattr(nailplate.units, "_shown_length", lambda value: f"\x02{write(value)}\x03")
    for marked in words_of(rule):
        lengths = sorted(lengths_in(re.sub("[\x02\x03]", "", marked)))
        written = re.findall("\x02([^\x03]*)\x03", re.sub(r"(?<!\w)'[^']*'(?!\w)", "''", marked))
        for each in written:
            assert each in lengths
            lengths.remove(each)
        assert all(each in LITERAL for each in lengths), f"{lengths} in {marked!r}"


LITERAL = {
    "1/16 in", "0.054 in", "1-1/2 in", "6 in", "12 in", "18 in", "24 in",
    "3 ft", "5 ft", "5 ft 6 in", "6 ft", "8 ft", "10 ft", "15 ft", "20 ft", "25 ft", "50 ft", "70 ft",
}  # fmt: skip
"""Lengths that rules write in so many words: all are the code's own."""


def words_of(rule: Rule) -> Iterator[str]:
    """All that the cases of a rule are told, under the last edition of each."""
    for case in rule.cases:
        plan = read_plan_value(case.document(case.editions[-1].removeprefix("nec-")))
        for each in judged(rule, job_for(plan, law_of(plan, packs().rules))):
            yield getattr(each.outcome, "message", "")
            yield from (reading.words for reading in getattr(each.outcome, "readings", ()))
            yield from (remedy.words for remedy in getattr(each.outcome, "remedies", ()))
