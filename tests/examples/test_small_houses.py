"""The small builder's two models: drawn sound they raise nothing, and each planted fault is found, and nothing beside it."""

import json
from functools import cache
from importlib.resources import files
from typing import Any

import jsonpatch
import pytest

from nailplate.catalog import catalog
from nailplate.review import Report, check
from nailplate.wire import read_plan

pytestmark = pytest.mark.long
MODELS = ("tamarack-wren", "tamarack-heron")
RULES_OF_THE_HOUSES = {
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

EDITIONS = ("2017", "2020", "2023", "2026")
Found = tuple[str, str, str]
OTHERWISE: dict[tuple[str, str], tuple[set[Found], set[Found]]] = {
    ("tamarack-wren", "2017"): (
        {
            ("gfci-appliances", "/appliances/cooktop", "violation"),
            ("surge-protection", "/supplies/pedestal", "judgement"),
            ("ten-ampere-circuit", "/appliances/hood", "violation"),
        },
        {("permissible-load", "/circuits/lights-a", "violation")},
    ),
    ("tamarack-wren", "2020"): (
        {
            ("gfci-appliances", "/appliances/cooktop", "violation"),
            ("surge-protection", "/supplies/pedestal", "judgement"),
            ("ten-ampere-circuit", "/appliances/hood", "violation"),
        },
        {("permissible-load", "/circuits/lights-a", "violation")},
    ),
    ("tamarack-wren", "2026"): (
        {("roof-deck-nails", "/cables/alarms-b/route/2", "violation")},
        {("roof-deck-clearance", "/cables/alarms-b/route/2", "violation")},
    ),
    ("tamarack-heron", "2017"): (
        {
            ("gfci-outdoor-outlets", "/appliances/heat-pump", "violation"),
            ("fan-box", "/boxes/living-ceiling", "judgement"),
            ("tub-receptacle", "/devices/toilet-wall-receptacle", "judgement"),
            ("emergency-disconnect", "/supplies/utility", "violation"),
        },
        set(),
    ),
    ("tamarack-heron", "2020"): (
        {("tub-receptacle", "/devices/toilet-wall-receptacle", "judgement")},
        {("tub-receptacle", "/devices/toilet-wall-receptacle", "violation")},
    ),
    ("tamarack-heron", "2026"): ({("emergency-disconnect", "/supplies/utility", "violation")}, set()),
}
"""What is not found in an edition, and what is found in its place.

- Wren: cooktops are protected, and 10 A circuits allowed, from 2023 on (http://eaton.rs/us/en-us/markets/residential/
  nec-2023-updates/210-8d-appliances-gfci-requirements.html; https://serveacademy.it/courses/2023-nec-changes-michigan/lectures/
  48886415); the 10 kA of a surge-protective device are of 2023 (https://captaincode2023.leviton.com/node/318).
  From 2026 on the 1-1/2 in under a roof deck are required under every deck (https://ieci.org/
  national-electrical-code-2026-changes-to-chapter-three/); before, under a wood deck they are advice.
- Heron: outdoor outlets are protected, ceiling boxes are ready for fans, receptacles keep 3 ft from a shower, and a house has an
  emergency disconnect outdoors, all from 2020 on (http://www.digitrip.com/us/en-us/markets/residential/nec-2023-updates/
  gfci-210-8f-outdoor-outlets.html; https://forums.mikeholt.com/threads/314-27.2581560; https://captaincode2020.leviton.com/node/251;
  https://www.ecmag.com/magazine/articles/article-detail/codes-standards-making-code-home). That the 3 ft end at a fixed barrier such
  as the shower's glass came in 2023. In 2026 the service disconnect itself is outdoors, and the mark of 230.85 is gone
  (https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1878).
"""


def example(name: str) -> Any:
    return json.loads(files("nailplate").joinpath("examples", f"{name}.json").read_text(encoding="utf-8"))


def faults_of(model: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = example(f"{model}.faults")["faults"]
    return found


def report_on(document: Any, edition: str = "2023") -> Report:
    basis = {**document["basis"], "edition": edition}
    return check(read_plan(json.dumps({**document, "basis": basis}).encode()), catalog())


@cache
def clean_report(model: str, edition: str = "2023") -> Report:
    return report_on(example(model), edition)


def faulty(model: str, faults: list[dict[str, Any]]) -> Any:
    return jsonpatch.apply_patch(example(model), [operation for fault in faults for operation in fault["patch"]])


def found_by(report: Report) -> list[tuple[str, str, str]]:
    return sorted((finding.rule, str(finding.where.pointer), finding.outcome) for finding in report.findings)


def found_in(fault: dict[str, Any]) -> list[dict[str, str]]:
    """What a fault must raise; one that cuts through several parts names each of them."""
    finds: dict[str, str] | list[dict[str, str]] = fault["finds"]
    return finds if isinstance(finds, list) else [finds]


def planted(faults: list[dict[str, Any]]) -> list[tuple[str, str, str]]:
    finds = [each for fault in faults for each in found_in(fault)]
    return sorted((each["rule"], each["at"], each["outcome"]) for each in finds)


EACH_FAULT = [
    pytest.param(model, fault, id=f"{model}: {found_in(fault)[0]['rule']} at {found_in(fault)[0]['at']}")
    for model in MODELS
    for fault in faults_of(model)
]


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("model", MODELS)
def test_sound_house_raises_no_finding(model: str, edition: str) -> None:
    report = clean_report(model, edition)
    assert found_by(report) == []
    assert report.verdict == "clear"
    assert (report.summary.later, report.summary.left_out) == (0, 0)


@pytest.mark.parametrize("model", MODELS)
def test_sound_house_is_passed_by_each_rule_and_not_passed_over(model: str) -> None:
    passed = {each.rule: each.passed for each in clean_report(model).coverage.rules}
    assert {rule for rule in RULES_OF_THE_HOUSES if not passed.get(rule)} == set()


@pytest.mark.parametrize("model", MODELS)
def test_faulty_house_raises_the_planted_findings_and_no_others(model: str) -> None:
    faults = faults_of(model)
    assert found_by(report_on(faulty(model, faults))) == planted(faults)


@pytest.mark.parametrize(("model", "edition"), OTHERWISE)
def test_other_editions_find_the_same_faults_but_for_what_they_change(model: str, edition: str) -> None:
    faults = faults_of(model)
    fewer, more = OTHERWISE[model, edition]
    assert found_by(report_on(faulty(model, faults), edition)) == sorted((set(planted(faults)) - fewer) | more)


@pytest.mark.parametrize(("model", "fault"), EACH_FAULT)
def test_each_fault_alone_raises_its_finding_alone(model: str, fault: dict[str, Any]) -> None:
    assert found_by(report_on(faulty(model, [fault]))) == planted([fault])


@pytest.mark.parametrize("model", MODELS)
def test_faults_are_spread_over_all_rules_of_the_houses(model: str) -> None:
    faults = faults_of(model)
    assert len(faults) >= 10
    assert {each["rule"] for fault in faults for each in found_in(fault)} >= RULES_OF_THE_HOUSES


@pytest.mark.parametrize("model", MODELS)
def test_every_subject_of_a_sound_house_was_checked(model: str) -> None:
    assert [line for line in clean_report(model).coverage.not_checked if line.startswith("Not checked")] == []


def test_house_on_wheels_is_cautioned_as_one_and_the_cottage_is_not() -> None:
    said = {model: any("stands on wheels" in caution for caution in clean_report(model).cautions) for model in MODELS}
    assert said == {"tamarack-wren": True, "tamarack-heron": False}
