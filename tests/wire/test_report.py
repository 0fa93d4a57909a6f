"""Reports as bytes: always the same, without null, and as their published schema says."""

import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from nailplate.catalog import catalog
from nailplate.review import check
from nailplate.wire import read_plan, report_json, report_schema
from nailplate.wire.report_words import WORDS

ROOT = Path(__file__).parents[2]
EXAMPLES = [
    path
    for path in files("nailplate").joinpath("examples").iterdir()
    if path.name.endswith(".json") and "faults" not in path.name and not path.name.startswith("amendments-")
]


def report_of(source: bytes) -> bytes:
    return report_json(check(read_plan(source), catalog()))


def validator() -> Draft202012Validator:
    schema = json.loads((ROOT / "schemas/report-1.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.name)
def test_reports_of_whole_houses_are_the_same_twice_and_fit_their_schema(example: Any) -> None:
    report = report_of(example.read_bytes())
    assert report == report_of(example.read_bytes())
    assert list(validator().iter_errors(json.loads(report))) == []


@pytest.mark.long
def test_reports_of_the_rules_own_cases_fit_their_schema_and_hold_no_null() -> None:
    """The cases that pages show as wrong or open bring every outcome."""
    fits = validator()
    outcomes = set()
    shown = [
        case for rule in catalog().rules.values() for case in rule.cases if case.shown and case.expect[0]["outcome"] != "pass"
    ]
    for case in shown:
        report = json.loads(report_of(json.dumps(case.document()).encode()))
        assert list(fits.iter_errors(report)) == [], case.description
        assert not _holds_null(report), case.description
        outcomes |= {finding["outcome"] for finding in report["findings"]}
    assert outcomes == {"violation", "undetermined", "judgement"}


def _holds_null(value: Any) -> bool:
    if isinstance(value, dict | list):
        return any(_holds_null(each) for each in (value.values() if isinstance(value, dict) else value))
    return value is None


def test_the_load_summary_is_in_every_report_of_a_whole_house() -> None:
    for example in EXAMPLES:
        loads = json.loads(report_of(example.read_bytes()))["loads"]
        assert [each["method"] for each in loads["methods"]] == ["standard", "optional"]
        for method in loads["methods"]:
            assert sum(line["load"]["value"] for line in method["lines"]) == pytest.approx(method["total"]["value"], abs=0.001)
            assert method["area"]["area"]["unit"] == "ft2"
        assert loads["panels"]


def test_a_load_that_is_not_known_is_not_absent_but_says_what_is_missing() -> None:
    loads = json.loads(report_of(b'{"plan_format": 1, "name": "x", "basis": {"edition": "2023"}}'))["loads"]
    assert loads["not_worked_out"]
    assert loads["needs"] == ["/rooms"]


@pytest.mark.parametrize(
    "change",
    [{"loads": {"methods": {}}}, {"loads": []}, {"verdict": "green"}, {"findings": {}}, {"report_format": "1"}, {"plan": {}}],
)
def test_schema_refuses_what_is_no_report(change: dict[str, Any]) -> None:
    report = json.loads(report_of(b'{"plan_format": 1, "name": "x", "basis": {"edition": "2023"}}'))
    assert validator().is_valid(report)
    assert not validator().is_valid({**report, **change})


def test_every_field_of_the_report_is_described_and_no_words_are_left_over() -> None:
    schema = report_schema()
    kinds = {"Report": schema, **schema["$defs"]}
    assert {name: set(kind["properties"]) for name, kind in kinds.items()} == {
        name: set(words) for name, words in WORDS.items()
    }
    assert all(field["description"] for kind in kinds.values() for field in kind["properties"].values())
