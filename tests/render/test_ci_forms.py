"""The forms for CI hold what the report says, fit their standards, and are safe whatever a plan's author wrote."""

import csv as reader
import io
import json
import re
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import jsonpatch
import pytest
import xmlschema
from jsonschema import Draft202012Validator

from nailplate.catalog import catalog
from nailplate.plan import PlanRefused, Pointer
from nailplate.render import annotations, code_quality, csv, inert, junit, lines, sarif, several_html, summary, table, text
from nailplate.review import Options
from nailplate.review.checked import Checked
from nailplate.review.threshold import Threshold
from nailplate.rulekit import Severity
from nailplate.wire import Positions, read_baseline, read_json, report_on, report_value
from render.sarif_schema import SARIF

EXAMPLES = Path(__file__).parents[2] / "service/nailplate/examples"
EVIL = '=1+1 <b> | `x` ::error:: \u202e %0A "q"'
PLAINLY = Options()


@cache
def faulty(name: str = "tamarack-wren") -> bytes:
    house = json.loads((EXAMPLES / f"{name}.json").read_bytes())
    for fault in json.loads((EXAMPLES / f"{name}.faults.json").read_bytes())["faults"]:
        house = jsonpatch.apply_patch(house, fault["patch"])
    return json.dumps(house, indent=2).encode()


def checked(source: bytes, name: str, options: Options = PLAINLY) -> Checked:
    locate = Positions(source).region
    try:
        return Checked(name, report_on(read_json(source), catalog(), options), locate=locate)
    except PlanRefused as refused:
        return Checked(name, None, refused.faults, locate)


@cache
def several() -> tuple[Checked, ...]:
    sound = (EXAMPLES / "tamarack-wren.json").read_bytes()
    evil = {
        "plan_format": 1,
        "name": EVIL,
        "basis": {"edition": "2023"},
        "circuits": {"c": {"label": EVIL, "breaker": {"rating": 30}, "conductor": {"size": "14 AWG", "type": "NM-B"}}},
    }
    return (
        checked(faulty(), "models/wren, new.json"),
        checked(sound, "models/sound.json"),
        checked(json.dumps(evil).encode(), "models/evil.json"),
        checked(b'{"plan_format": 1,\n "name": "x",\n "boxs": {}}', "models/broken.json"),
    )


def violations(of: Checked) -> int:
    assert of.report
    return of.report.summary.violations


def run_of(several: Any) -> Any:
    log = json.loads(sarif(several, catalog().rules))
    assert [f"{each.json_path}: {each.message}" for each in Draft202012Validator(SARIF).iter_errors(log)] == []
    return log["runs"][0]


def test_sarif_fits_the_standard_and_says_what_the_report_says() -> None:
    run = run_of(several())
    reports = [each.report for each in several() if each.report]
    assert len(run["results"]) == sum(len(each.findings) + len(each.accepted) for each in reports)
    kinds = Counter(result["kind"] for result in run["results"] if not result["suppressions"])
    assert kinds["fail"] == sum(each.summary.violations for each in reports)
    assert kinds["open"] == sum(each.summary.undetermined for each in reports)
    assert kinds["review"] == sum(each.summary.judgements for each in reports)
    assert {result["level"] for result in run["results"] if result["kind"] == "fail"} == {"error", "note"}
    rules = run["tool"]["driver"]["rules"]
    assert all(rules[result["ruleIndex"]]["id"] == result["ruleId"] for result in run["results"])
    assert run["invocations"][0]["executionSuccessful"] is False
    [told] = [each for each in run["invocations"][0]["toolExecutionNotifications"] if "boxs" in each["message"]["text"]]
    assert told["locations"][0]["physicalLocation"]["region"]["startLine"] == 3


def test_sarif_places_are_pointers_and_lines_that_hold_the_part() -> None:
    text_lines = faulty().decode().splitlines()
    results = [each for each in run_of(several()[:1])["results"] if each["kind"] == "fail"]
    assert results
    for result in results:
        [place] = result["locations"]
        assert place["physicalLocation"]["artifactLocation"]["uri"] == "models/wren%2C%20new.json"
        region, pointer = place["physicalLocation"]["region"], Pointer(place["logicalLocations"][0]["fullyQualifiedName"])
        last = pointer.members[-1]
        key = "{" if last.isdecimal() else json.dumps(last, ensure_ascii=False)  # a stretch of a route is an item of a list
        assert text_lines[region["startLine"] - 1][region["startColumn"] - 1 :].startswith(key)


def test_sarif_taxa_suppressions_and_baseline() -> None:
    earlier = report_value(report_on(read_json(faulty()), catalog(), Options()))
    kept = {
        **earlier,
        "findings": [*earlier["findings"][1:], {"fingerprint": "np1-gone", "rule": "box-volume", "pointer": "/boxes/x"}],
    }
    now = checked(faulty(), "wren.json", Options(baseline=read_baseline(kept)))
    run = run_of([now])
    states = Counter(result.get("baselineState") for result in run["results"] if not result["suppressions"])
    assert states == {"new": 1, "unchanged": len(earlier["findings"]) - 1, "absent": 1}
    accepted = [result["suppressions"][0] for result in run["results"] if result["suppressions"]]
    assert [each["justification"] for each in accepted] == [each["accepted"]["reason"] for each in earlier["accepted"]]
    assert accepted
    taxonomies = run["taxonomies"]
    for result in run["results"]:
        for taxon in result.get("taxa", []):
            there = taxonomies[taxon["toolComponent"]["index"]]
            assert (there["name"], there["taxa"][taxon["index"]]["id"]) == (taxon["toolComponent"]["name"], taxon["id"])
    assert "NEC 2023" in {each["name"] for each in taxonomies}


def test_the_sarif_schema_refuses_a_level_beside_another_kind_than_fail() -> None:
    log = json.loads(sarif(several(), catalog().rules))
    result = next(each for each in log["runs"][0]["results"] if each["kind"] == "review")
    result["level"] = "error"
    assert not Draft202012Validator(SARIF).is_valid(log)


def test_junit_fits_its_schema_and_no_undecided_rule_passes() -> None:
    schema = xmlschema.XMLSchema(str(Path(__file__).with_name("junit.xsd")))
    document = junit(several(), Threshold(Severity.CODE))
    schema.validate(document)
    value: Any = schema.to_dict(document)
    wren, sound, _, broken = value["testsuite"]
    assert (sound["@failures"], sound["@errors"], broken["@errors"]) == (0, 0, 1)
    report = several()[0].report
    assert report
    failing = {each.rule for each in report.findings if each.outcome == "violation" and each.severity is not Severity.ADVICE}
    assert {each["@name"] for each in wren["testcase"] if "failure" in each} == failing
    open_only = {each.rule for each in report.findings if each.outcome != "violation"} - failing
    assert {each["@name"] for each in wren["testcase"] if "skipped" in each} == open_only
    assert value["@tests"] == sum(each["@tests"] for each in value["testsuite"])
    with pytest.raises(xmlschema.XMLSchemaValidationError):
        schema.validate(document.replace('tests="', 'test="'))


def test_junit_fails_what_is_undecided_where_that_is_asked() -> None:
    document = junit(several()[:1], Threshold(Severity.ADVICE, Severity.ADVICE))
    assert "<skipped" not in document
    assert '<testcase classname="models/wren, new.json" name="surge-protection"' in document


def test_annotations_are_most_severe_first_capped_and_say_what_was_cut() -> None:
    told = annotations(several()).splitlines()
    commands = [line for line in told if line.startswith("::")]
    kinds = Counter(re.match(r"::([a-z]+) ", line)[1] for line in commands)  # type: ignore[index]
    assert max(kinds.values()) <= 10
    assert commands[0].startswith("::error file=models/broken.json,line=3,")
    first = commands[len(several()[3].faults)]
    assert first.startswith("::error file=models/wren%2C new.json,line=")
    assert "title=danger%3A " in first
    cut = [line for line in told if not line.startswith("::")]
    assert commands[-1] == f"::notice title=nailplate::{len(cut)} further findings are in the log of this step"
    reports = [each.report for each in several() if each.report]
    assert len(told) == sum(len(each.findings) for each in reports) + len(several()[3].faults) + 1


def test_code_quality_issues_have_what_a_merge_request_reads() -> None:
    issues = json.loads(code_quality(several()))
    assert len({each["fingerprint"] for each in issues}) == len(issues)
    for each in issues:
        assert each["severity"] in ("info", "minor", "major", "critical", "blocker")
        assert each["description"]
        assert each["check_name"]
        assert each["location"]["lines"]["begin"] >= 1
    assert {each["location"]["path"] for each in issues} == {each.name for each in several()} - {"models/sound.json"}


def test_csv_has_a_row_a_finding_and_no_formula() -> None:
    rows = list(reader.DictReader(io.StringIO(csv(several()))))
    reports = [each.report for each in several() if each.report]
    assert len(rows) == sum(len(each.findings) + len(each.accepted) for each in reports) + len(several()[3].faults)
    assert not any(
        str(cell).startswith(("=", "+", "-", "@")) for row in rows for cell in row.values() if not _number(str(cell))
    )
    wire = next(row for row in rows if row["file"] == "models/evil.json" and row["rule"] == "conductor-protection")
    assert (wire["measured"], wire["limit"], wire["unit"]) == ("30", "15", "A")
    assert wire["plan"].startswith("'=1+1")


def _number(cell: str) -> bool:
    return bool(re.fullmatch(r"-?[0-9.]+", cell))


def test_one_line_a_finding_with_its_place() -> None:
    told = lines(several()).splitlines()
    reports = [each.report for each in several() if each.report]
    assert len(told) == sum(len(each.findings) for each in reports) + len(several()[3].faults)
    assert re.match(r"models/wren, new\.json:\d+:\d+: danger violation [a-z-]+: .* \[[A-Z]+ \d{4} .*\] /", told[0])


@pytest.mark.parametrize("write", [lines, annotations, code_quality, summary, table, csv])
def test_nothing_in_any_form_acts_on_a_terminal_or_turns_a_line(write: Any) -> None:
    page = write([*several(), Checked("\x1b[31m\u202egnp.json", None, several()[3].faults)])
    assert not re.search("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]", page)
    assert "\u202e" not in page


def test_text_is_inert_and_ends_with_what_to_do() -> None:
    for each in several():
        page = text(each)
        assert not re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202e]", page)
    page = text(several()[0])
    assert page.index("Cautions") < page.index("Do these first") < page.rindex("violations (")
    assert "\\" not in page.replace(inert("\u202e"), "")


def test_inert_shows_what_would_act() -> None:
    assert inert("a\u202eb\x1b[0m\tc\nd") == "a\\u202eb\\u001b[0m c d"


def test_summary_and_table_count_every_plan() -> None:
    for page in (summary(several()), table(several())):
        for each in several():
            assert inert(each.name) in page.replace("\\", "")
        assert str(violations(several()[0]) and several()[0].report.summary.danger) in page  # type: ignore[union-attr]
        assert "unreadable, " in page
    assert "violated most: " in table(several())


def test_one_page_of_several_reports_has_a_table_and_each_report() -> None:
    page = several_html(several())
    assert page.count("<!doctype html>") == 1
    for number, each in enumerate(several()):
        assert f'href="#plan-{number}"' in page
        assert f'<section id="plan-{number}">' in page
        if each.report:
            assert page.count(f"{each.report.plan.digest}") == 1
    assert "<script" not in page


def test_every_pointer_of_a_document_has_its_place() -> None:
    source = '{"a\\u00e9/~": [1, {"b": "x, {y}"}],\n  "c": {}}'
    positions = Positions(source.encode())
    assert positions.region(Pointer("/aé~1~0/1/b")).line == 1
    region = positions.region(Pointer("/c"))
    assert (region.line, region.column, region.end_line, region.end_column) == (2, 3, 2, 10)
    assert positions.region(Pointer("/c/not/there")) == region
    assert positions.region(Pointer("")).end_line == 2
    assert Positions(b"]").region(Pointer("/c")).line == 1
