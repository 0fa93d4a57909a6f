"""Model Osprey, a family house with a garage: sound it raises nothing in any edition, and each planted fault is found, and no more.

Figures are worked by hand from the published tables named beside them.
"""

import json
from functools import cache
from importlib.resources import files
from typing import Any

import jsonpatch
import pytest

from nailplate.catalog import catalog
from nailplate.review import Report, check
from nailplate.review.report import Finding
from nailplate.wire import read_plan

pytestmark = pytest.mark.long
EDITIONS = ("2017", "2020", "2023", "2026")
RULES_OF_THE_HOUSE = {
    "conductor-protection",
    "receptacle-rating",
    "small-appliance-circuits",
    "wall-space",
    "bath-receptacle",
    "box-volume",
    "gfci-locations",
    "afci-rooms",
    "tamper-resistant",
}
NOT_YET_A_FAULT = {
    "2017": {
        ("box-volume", "/boxes/entry-switches"),
        ("box-volume", "/boxes/heater-box"),
        ("gfci-locations", "/devices/fridge-receptacle"),
        ("gfci-service-and-crawl", "/devices/hall-receptacle"),
        ("counter-receptacle-place", "/devices/disposer-receptacle"),
    },
    "2020": {("box-volume", "/boxes/heater-box"), ("gfci-locations", "/devices/fridge-receptacle")},
    "2026": set[tuple[str, str]](),
}
"""What older editions allow: grounding conductors past the fourth count for nothing in 2017
(https://forums.mikeholt.com/threads/egc-fill.2566828), face up under a sink is barred from 2020 on
(https://captaincode2020.leviton.com/node/250), receptacles for the service of equipment are protected from 2020 on
(https://captaincode2020.leviton.com/node/243), until 2020 only receptacles that serve the kitchen's counters, or are
within 6 ft of its sink, are protected (https://serveacademy.it/courses/2023-nec-changes-michigan/lectures/48884919), and terminal
blocks count from 2023 on (https://expertce.com/courses/electricians-guide-for-nec-2023/lessons/
how-to-calculate-junction-box-size-with-terminal-blocks-nec-2023)."""


def example(name: str) -> Any:
    return json.loads(files("nailplate").joinpath("examples", f"{name}.json").read_text(encoding="utf-8"))


HOUSE: Any = example("tamarack-osprey")
FAULTS: list[dict[str, Any]] = example("tamarack-osprey.faults")["faults"]


@cache
def clean(edition: str) -> Report:
    return report_on(HOUSE, edition)


@cache
def faulty(edition: str) -> Report:
    return report_on(with_faults(FAULTS), edition)


def with_faults(faults: list[dict[str, Any]]) -> Any:
    return jsonpatch.apply_patch(HOUSE, [operation for fault in faults for operation in fault["patch"]])


def report_on(document: Any, edition: str = "2023") -> Report:
    basis = {**document["basis"], "edition": edition}
    return check(read_plan(json.dumps({**document, "basis": basis}).encode()), catalog())


def found_by(report: Report) -> list[tuple[str, str, str]]:
    return sorted((finding.rule, str(finding.where.pointer), finding.outcome) for finding in report.findings)


def planted(faults: list[dict[str, Any]]) -> list[tuple[str, str, str]]:
    return sorted((each["rule"], each["at"], each["outcome"]) for fault in faults for each in found_in(fault))


def found_in(fault: dict[str, Any]) -> list[dict[str, str]]:
    """What a fault must raise; one that cuts through several parts names each of them."""
    finds: dict[str, str] | list[dict[str, str]] = fault["finds"]
    return finds if isinstance(finds, list) else [finds]


def finding(rule: str, at: str) -> Finding:
    [one] = [each for each in faulty("2023").findings if (each.rule, str(each.where.pointer)) == (rule, at)]
    return one


@pytest.mark.parametrize("edition", EDITIONS)
def test_sound_house_raises_no_finding(edition: str) -> None:
    report = clean(edition)
    assert found_by(report) == []
    assert report.verdict == "clear"
    assert (report.summary.later, report.summary.left_out) == (0, 0)


def test_sound_house_is_passed_by_each_rule_and_not_passed_over() -> None:
    passed = {each.rule: each.passed for each in clean("2023").coverage.rules}
    assert {rule for rule in RULES_OF_THE_HOUSE if not passed.get(rule)} == set()
    assert passed["box-volume"] == len(HOUSE["boxes"])


def test_faulty_house_raises_the_planted_findings_and_no_others() -> None:
    assert found_by(faulty("2023")) == planted(FAULTS)


@pytest.mark.parametrize("fault", [pytest.param(fault, id=fault["what"]) for fault in FAULTS])
def test_each_fault_alone_raises_its_finding_alone(fault: dict[str, Any]) -> None:
    assert found_by(report_on(with_faults([fault]))) == planted([fault])


def test_faults_are_spread_over_all_rules_of_the_house() -> None:
    assert {each["rule"] for fault in FAULTS for each in found_in(fault)} >= RULES_OF_THE_HOUSE


@pytest.mark.parametrize("edition", NOT_YET_A_FAULT)
def test_other_editions_find_the_same_faults_but_for_what_they_allow(edition: str) -> None:
    wanted = [each for each in planted(FAULTS) if each[:2] not in NOT_YET_A_FAULT[edition]]
    assert found_by(faulty(edition)) == wanted


@pytest.mark.parametrize(
    ("rule", "at", "measured", "limit"),
    [
        # Table 314.16(B)(1), https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/
        # NEC-Content.php?sectionID=1471: six 12 AWG at 2.25, one grounding allowance, two for the yoke.
        pytest.param("box-volume", "/boxes/kit-mid", 18, 20.25, id="three 12-2 cables and a receptacle"),
        # Thirteen 14 AWG at 2.00, six grounding conductors for one and a half, the clamps for one, two for each of four yokes.
        pytest.param("box-volume", "/boxes/entry-switches", 46, 47, id="five 14-2 and a 14-3 cable and four switches"),
        # As in http://ecmweb.com/nec/code_quiz/electric_quizzes_code_5/: two 14-2 cables, grounding, stud, hickey; and the clamps.
        pytest.param("box-volume", "/boxes/garage-light-1-box", 15.5, 16, id="an octagon box without its ring"),
        # Table 314.16(A), http://www.synthmind.com/Electrical_Box_Sizing_Guide.htm: twice 12.5; seven 14 AWG, grounding, clamps, four.
        pytest.param("box-volume", "/boxes/garage-back-switches", 25, 26, id="two device boxes ganged"),
        # 10 AWG at 2.50: two of the cable, two of the heater, grounding, and the block.
        pytest.param("box-volume", "/boxes/heater-box", 14, 15, id="a terminal block"),
        # Two travelers and the neutral that goes on to the lights.
        pytest.param("switch-works", "/cables/lights-living-k", 2, 3, id="a 14-2 on the way to a third switch"),
        # 125 % of 4.2 A and 12.5 A (424.4): https://forums.mikeholt.com/threads/2089.
        pytest.param("fixed-heat-circuit", "/circuits/bed-1-heat", 20, 20.875, id="two heaters on 20 A"),
        # 60 C column of Table 310.16, https://www.scribd.com/document/602627451/NEC-Table-310-16-Penghantar.
        pytest.param("conductor-protection", "/circuits/water-heater", 40, 30, id="10 AWG bears 30 A"),
        pytest.param("conductor-protection", "/cables/laundry-b", 20, 15, id="14 AWG bears 15 A"),
        # Tape measure on the drawing: 36 1/2 in of front wall and 64 1/2 in of laundry wall.
        pytest.param("wall-space", "/rooms/living", 101, 72, id="from the front door around the corner"),
        # 150 - 3.5 - 68: from the box to the door's edge.
        pytest.param("wall-space", "/rooms/bed-1", 78.5, 72, id="from the closet's side to the bedroom door"),
    ],
)
def test_findings_carry_the_figures_that_a_hand_works_out(rule: str, at: str, measured: float, limit: float) -> None:
    found = finding(rule, at)
    assert found.measured is not None
    assert found.limit is not None
    assert found.measured.value == pytest.approx(measured)
    assert found.limit.value == pytest.approx(limit)
