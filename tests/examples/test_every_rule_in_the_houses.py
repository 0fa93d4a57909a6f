"""Every rule is passed somewhere in the three houses and has a fault planted there, or here stands why not.

A new rule either comes with a part that passes it and a planted fault (``examples/*.faults.json``), or gets a line below; a line that is no
longer true fails too. What is excused here is shown by the rule's own cases, which hold a pass and an answer that is none.
"""

import json
from functools import cache
from importlib.resources import files

import pytest

from nailplate.catalog import catalog
from nailplate.review import check
from nailplate.wire import read_plan

pytestmark = pytest.mark.long
HOUSES = ("tamarack-wren", "tamarack-heron", "tamarack-osprey")

NOT_DRAWN = {
    "it judges outbuildings": {"building-disconnect"},
    "it judges vehicles, park trailers, manufactured homes or outbuildings, and the houses are dwellings under one regime": {
        "cord-length", "gfci-other-classes", "inlet-place", "manufactured-home-supply", "park-trailer-load", "supply-conductors",
        "supply-fits-circuits",
    },
    "the houses are on the utility's supply": {"off-grid-source"},
    "no entry of the houses is a foyer over 60 square feet": {"foyer-receptacles"},
    "no light of the houses is recessed": {"recessed-airtight", "recessed-luminaire"},
    "no box of the houses is said to lie under a roof deck": {"box-under-roof-deck"},
}  # fmt: skip
"""Neither passed nor with a fault: nothing of the kind is drawn, and a patch would have to draw it first."""

PASSED_BY_NOTHING_DRAWN = {
    "all cables are bored or stapled in wood: a planted fault notches, grooves, exposes or ties one": {
        "cable-as-support", "exposed-run", "notch-plate", "notch-strength", "shallow-groove",
    },
    "the framing is wood: a planted fault makes it steel": {"metal-framing-bushing"},
    "no low-voltage cable is drawn: a planted fault draws one": {"low-voltage-apart"},
    "no yoke has two circuits: a planted fault puts a second on one": {"split-receptacle"},
    "one drawing serves four editions, and there are 10 A circuits from 2023 on only: a planted fault makes one": {"ten-ampere-circuit"},
}  # fmt: skip
"""They have a fault, but the sound houses draw nothing that could pass."""

NO_FAULT_ALONE = {
    "it only asks for what is left out": {"bundles-stated"},
    "a load that is past its limit is past another rule's too: the share of what is fastened or plugged in, or the voltage drop": {
        "permissible-load",
    },
    "what runs three hours in the houses has rules of its own: water heaters, heating, charging": {"continuous-load"},
    "the houses have circuits to spare, and one taken from the general ones is missed in its place first": {"lighting-circuit-count"},
    "it takes two slips: a bundle where cables lie in insulation, and a load near what is left of their ampacity": {"bundled-in-insulation"},
    "no line of holes of the houses has half of the 20 cables that it takes": {"cables-in-hole"},
    "every cable of a wall is told of, where its foam is another": {"foam-and-cable"},
    "under a roof of wood it asks from 2026 on, and under one of metal the nails are the other rule's": {"roof-deck-clearance"},
}  # fmt: skip
"""They are passed; no small slip raises them alone, and their own cases show them."""


def listed(reasons: dict[str, set[str]]) -> set[str]:
    return {rule for rules in reasons.values() for rule in rules}


@cache
def passed() -> set[str]:
    reports = [
        check(read_plan(files("nailplate").joinpath("examples", f"{house}.json").read_bytes()), catalog()) for house in HOUSES
    ]
    return {each.rule for report in reports for each in report.coverage.rules if each.passed}


@cache
def planted() -> set[str]:
    texts = [files("nailplate").joinpath("examples", f"{house}.faults.json").read_text("utf-8") for house in HOUSES]
    finds = [fault["finds"] for text in texts for fault in json.loads(text)["faults"]]
    return {each["rule"] for find in finds for each in (find if isinstance(find, list) else [find])}


def test_every_rule_is_passed_somewhere_or_its_reason_stands_here() -> None:
    assert set(catalog().rules) - passed() == listed(NOT_DRAWN) | listed(PASSED_BY_NOTHING_DRAWN)


def test_every_rule_has_a_planted_fault_or_its_reason_stands_here() -> None:
    assert set(catalog().rules) - planted() == listed(NOT_DRAWN) | listed(NO_FAULT_ALONE)


@pytest.mark.parametrize("rule", sorted(listed(NOT_DRAWN) | listed(PASSED_BY_NOTHING_DRAWN) | listed(NO_FAULT_ALONE)))
def test_what_the_houses_lack_is_in_the_rules_own_cases(rule: str) -> None:
    outcomes = {each["outcome"] for case in catalog().rules[rule].cases for each in case.expect}
    assert "pass" in outcomes
    assert outcomes & {"violation", "judgement", "undetermined"}
