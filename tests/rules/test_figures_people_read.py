"""Findings as people read them: the figures of a tape measure or a nameplate, none shown like the limit that it misses, in the trade's words."""

import re
from collections.abc import Iterator
from typing import Any

import pytest

from fuzz.seeds import HOUSES, faulty, packs
from house.test_words_people_read import WORDS
from nailplate.remedies.grounds import SOLD_WITH
from nailplate.review import check
from nailplate.rulekit import Rule, Violation
from nailplate.units import shown, shown_beside
from nailplate.wire import read_plan_value
from rules.judging import answers

RULES = packs().rules.values()
NO_TAPE = (
    (re.compile(r"\d\.\d{3,} ?(A|V|W|VA|kW|in|ft|lb|hp|%|°C|mm|m)\b"), "more than two decimals"),
    (re.compile(r"\d\.\d+ (in|ft)\b"), "a length in decimals"),
    (re.compile(r"\b\d+/(?!(2|4|8|16) )\d+ in\b"), "a fraction that is on no tape"),
    (re.compile(r"\d\.\d+ VA\b"), "a part of a volt-ampere"),
    (re.compile(r"\d[eE][+-]?\d"), "a power of ten"),
    (re.compile(r"\b[Aa] (8|11|18|80)\b|\ba [aei]\w"), "a where an is said"),
)
TRADE_SIZES = re.compile(r"0\.054 in")
"""The tie across a plate that is bored away (IRC R602.6.1) is sold by that thickness."""


def wrong(words: str) -> Iterator[str]:
    told = re.sub(r"'[^']*'", "", TRADE_SIZES.sub("", words))  # what an author named stays as it is
    yield from (f"{what}: {words}" for pattern, what in NO_TAPE if pattern.search(told))
    yield from (f"say {WORDS[each]!r}: {words}" for each in WORDS if re.search(each, told, re.IGNORECASE))


def alike(found: Any) -> Iterator[str]:
    """A violation whose figure reads like the limit that it misses."""
    if found.measured is None or found.limit is None or found.measured.unit is not found.limit.unit:
        return
    text = shown(found.measured)
    if shown_beside(found.measured, found.limit) != text and f"just under {text}" not in found.message:
        yield f"shown like its limit: {found.message}"


def told(outcome: Any) -> Iterator[str]:
    yield getattr(outcome, "message", "")
    yield from (each.words for each in getattr(outcome, "readings", ()))
    yield from (each.words for each in getattr(outcome, "remedies", ()))


@pytest.mark.long
@pytest.mark.parametrize("rule", RULES, ids=[rule.id for rule in RULES])
def test_figures_of_every_case_are_those_of_a_tape_or_nameplate(rule: Rule) -> None:
    hits = []
    for case in rule.cases:
        for _, outcome in answers(rule, read_plan_value(case.document())):
            hits += [hit for words in told(outcome) for hit in wrong(words)]
            hits += alike(outcome) if isinstance(outcome, Violation) else ()
    assert hits == []


@pytest.mark.parametrize("name", HOUSES)
def test_figures_of_the_faulty_houses_are_those_of_a_tape_or_nameplate(name: str) -> None:
    found = check(read_plan_value(faulty(name)), packs()).findings
    assert [hit for each in found for words in told(each) for hit in wrong(words)] == []
    assert [hit for each in found if each.outcome == "violation" for hit in alike(each)] == []


def test_the_list_catches_what_it_is_for() -> None:
    for words in (
        "33.333 A",
        "3.25 in",
        "5/32 in",
        "1439.6 VA",
        "1e-05 in",
        "a 8 AWG ground",
        "a engineered member",
        "a breaker of 25 A",
        "the evse",
    ):
        assert list(wrong(words)) != []
    assert list(wrong("7 ft 6 1/2 in, 20.25 in³, 10.8 A")) == []


def test_no_cable_is_offered_with_a_ground_that_it_is_not_sold_with() -> None:
    rule = packs().rules["grounding-conductor-size"]
    words = [
        remedy.words
        for case in rule.cases
        for _, outcome in answers(rule, read_plan_value(case.document()))
        for remedy in getattr(outcome, "remedies", ())
    ]
    assert "Use 8-3 cable with its 10 AWG ground, if the voltage drop allows it." in words
    offered = [found.groups() for each in words if (found := re.search(r"Use ([0-9]+)-[23] cable.* ([0-9]+) AWG", each))]
    assert {(f"{size} AWG", f"{ground} AWG") for size, ground in offered} <= set(SOLD_WITH.items())
