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


def example(name: str) -> Any:
    return json.loads(files("nailplate").joinpath("examples", f"{name}.json").read_text(encoding="utf-8"))


def faults_of(model: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = example(f"{model}.faults")["faults"]
    return found


def report_on(document: Any) -> Report:
    return check(read_plan(json.dumps(document).encode()), catalog())


@cache
def clean_report(model: str) -> Report:
    return report_on(example(model))


def faulty(model: str, faults: list[dict[str, Any]]) -> Any:
    return jsonpatch.apply_patch(example(model), [operation for fault in faults for operation in fault["patch"]])


def found_by(report: Report) -> list[tuple[str, str, str]]:
    return sorted((finding.rule, str(finding.where.pointer), finding.outcome) for finding in report.findings)


def planted(faults: list[dict[str, Any]]) -> list[tuple[str, str, str]]:
    finds = [fault["finds"] for fault in faults]
    return sorted((each["rule"], each["at"], each["outcome"]) for each in finds)


EACH_FAULT = [
    pytest.param(model, fault, id=f"{model}: {fault['finds']['rule']} at {fault['finds']['at']}")
    for model in MODELS
    for fault in faults_of(model)
]


@pytest.mark.parametrize("model", MODELS)
def test_sound_house_raises_no_finding(model: str) -> None:
    report = clean_report(model)
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


@pytest.mark.parametrize(("model", "fault"), EACH_FAULT)
def test_each_fault_alone_raises_its_finding_alone(model: str, fault: dict[str, Any]) -> None:
    assert found_by(report_on(faulty(model, [fault]))) == planted([fault])


@pytest.mark.parametrize("model", MODELS)
def test_faults_are_spread_over_all_rules_of_the_houses(model: str) -> None:
    faults = faults_of(model)
    assert len(faults) >= 10
    assert {fault["finds"]["rule"] for fault in faults} >= RULES_OF_THE_HOUSES


@pytest.mark.parametrize("model", MODELS)
def test_report_says_what_was_not_checked(model: str) -> None:
    not_checked = report_on(example(model)).coverage.not_checked
    assert "Not checked: smoke and carbon monoxide alarms." in not_checked
    assert "Not checked: the service or feeder and its load." in not_checked


def test_house_on_wheels_is_cautioned_as_one_and_the_cottage_is_not() -> None:
    said = {model: any("stands on wheels" in caution for caution in clean_report(model).cautions) for model in MODELS}
    assert said == {"tamarack-wren": True, "tamarack-heron": False}
