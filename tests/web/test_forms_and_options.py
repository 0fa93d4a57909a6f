"""A report in other forms, and the options, baseline and suppressions beside a plan: equal in API, client and command line."""

import csv
import io
import json
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import pytest
import requests
from click.testing import CliRunner
from jsonschema import Draft202012Validator

from nailplate.cli import main
from nailplate.client import Client
from render.sarif_schema import SARIF
from web.plans import SMALL
from web.served import Served

ACCEPTED = {"s": {"rule": "box-volume", "part": "/boxes/hall", "reason": "on the old drawing", "accepted_by": "the builder"}}


@pytest.mark.parametrize(
    ("media", "form"),
    [
        ("application/sarif+json", "sarif"),
        ("application/xml", "junit"),
        ("text/csv; charset=utf-8", "csv"),
        ("text/plain; charset=utf-8", "text"),
    ],
)
def test_a_report_in_another_form_is_the_same_by_header_and_by_parameter(service: Served, media: str, form: str) -> None:
    by_header = service.check(SMALL, Accept=media.partition(";")[0])
    by_parameter = service.send(json.dumps(SMALL).encode(), f"/v1/checks?format={form}")
    assert by_header.headers["Content-Type"] == by_parameter.headers["Content-Type"] == media
    assert by_header.content == by_parameter.content


def test_the_forms_hold_the_report_s_findings(service: Served) -> None:
    number = len(service.check(SMALL).json()["findings"])
    log = service.check(SMALL, Accept="application/sarif+json").json()
    assert Draft202012Validator(SARIF).is_valid(log)
    assert len(log["runs"][0]["results"]) == number
    assert len(list(csv.reader(io.StringIO(service.check(SMALL, Accept="text/csv").text)))) == number + 1
    suite = ET.fromstring(service.check(SMALL, Accept="application/xml").content)
    assert int(suite.attrib["failures"]) >= 1


def test_no_accept_and_an_empty_one_mean_anything(service: Served) -> None:
    assert service.check(SMALL, Accept="").json() == service.check(SMALL, Accept="*/*").json()
    assert service.check(SMALL, Accept="image/png").status_code == 406


def envelope(**more: Any) -> dict[str, Any]:
    return {"plan": SMALL, **more}


def test_options_select_as_on_the_command_line(service: Served, tmp_path: Path) -> None:
    plan, beside = tmp_path / "plan.json", tmp_path / "accepted.json"
    plan.write_text(json.dumps(SMALL))
    beside.write_text(json.dumps(ACCEPTED))
    earlier = service.check(SMALL).json()
    (tmp_path / "earlier.json").write_text(json.dumps(earlier))
    options = {"ignore": ["circuits"], "severities": ["code", "advice"], "rooms": []}
    asked = service.check(envelope(options=options, suppressions=ACCEPTED, baseline=earlier)).json()
    by_client = Client(service.base).check(SMALL, suppressions=ACCEPTED, baseline=earlier, **options)
    words = ["--ignore", "circuits", "--severity", "code", "--severity", "advice", "--format", "json"]
    words += ["--suppressions", str(beside), "--baseline", str(tmp_path / "earlier.json")]
    by_command = json.loads(CliRunner().invoke(main, ["check", str(plan), *words]).stdout)
    del by_command["plan"]["file"]
    assert asked == by_client == by_command
    assert asked["accepted"][0]["accepted"]["suppression"] == "s"
    assert asked["baseline"]["new"] == 0
    assert {each["severity"] for each in asked["findings"]} <= {"code", "advice"}


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"options": {"rules": ["box-volum"]}}, "/options/rules/0"),
        ({"options": {"ignore": "box-volume"}}, "/options/ignore"),
        ({"options": {"severities": ["loud"]}}, "/options/severities/0"),
        ({"options": {"rooms": [3]}}, "/options/rooms/0"),
        ({"options": {"show_accepted": 1}}, "/options/show_accepted"),
        ({"baseline": {}}, "/baseline/findings"),
        ({"baseline": {"findings": [{"rule": "x"}]}}, "/baseline/findings/0"),
        ({"suppressions": []}, "/suppressions"),
    ],
)
def test_what_is_wrong_beside_the_plan_is_told_with_its_pointer(service: Served, change: dict[str, Any], pointer: str) -> None:
    answer = service.check(envelope(**change))
    assert answer.status_code == 422
    assert answer.json()["type"] == "/v1/problems/invalid-request"
    assert pointer in {each["pointer"] for each in answer.json()["errors"]}


def test_a_misspelt_rule_gets_the_nearest(service: Served) -> None:
    [error] = service.check(envelope(options={"rules": ["box-volum"]})).json()["errors"]
    assert "did you mean 'box-volume'" in error["detail"]


def test_a_suppression_beside_the_plan_may_not_replace_the_plan_s_own(service: Served) -> None:
    plan = {**SMALL, "suppressions": ACCEPTED}
    answer = service.check({"plan": plan, "suppressions": ACCEPTED})
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["pointer"] == "/plan/suppressions/s"


def test_lengths_are_given_in_the_plan_s_unit_too(service: Served) -> None:
    plan = {
        **SMALL,
        "units": {"length": "mm"},
        "levels": {"main": {"kind": "storey", "elevation": 0}},
        "rooms": {"den": {"level": "main", "uses": ["den"], "outline": [[0, 0], [4000, 0], [4000, 3000], [0, 3000]]}},
        "walls": {
            str(number): {"level": "main", "from": ends[0], "to": ends[1], "thickness": 100, "kind": "exterior"}
            for number, ends in enumerate(
                [[[0, 0], [4000, 0]], [[4000, 0], [4000, 3000]], [[4000, 3000], [0, 3000]], [[0, 3000], [0, 0]]]
            )
        },
    }
    report = service.check(plan).json()
    assert report["plan"]["length_unit"] == "mm"
    measured = [
        each[name] for each in report["findings"] for name in ("measured", "limit") if each.get(name, {}).get("unit") == "in"
    ]
    assert measured
    for each in measured:
        assert each["in_plan_unit"] == pytest.approx(each["value"] * 25.4, abs=1e-4)
    assert not any("in_plan_unit" in each for each in (f.get("measured", {}) for f in service.check(SMALL).json()["findings"]))


def test_patches_refuse_a_plan_that_has_changed_since(service: Served) -> None:
    report = service.check(SMALL).json()
    patches = [remedy["patch"] for each in report["findings"] for remedy in each.get("remedies", []) if "patch" in remedy]
    replaced = [patch for patch in patches if any(step["op"] == "replace" for step in patch)]
    assert replaced
    for patch in replaced:
        tests = {step["path"]: step["value"] for step in patch if step["op"] == "test"}
        assert {step["path"] for step in patch if step["op"] == "replace"} <= set(tests)


def test_what_to_state_first_is_in_the_report(service: Served) -> None:
    plan = {**SMALL, "boxes": {name: {"clamps": "none"} for name in SMALL["boxes"]}}
    report = service.check(plan).json()
    counted = [need for each in report["findings"] for need in each.get("needs", [])]
    for wanted in report["state_first"]:
        assert counted.count(wanted["pointer"]) == wanted["findings"] > 1


def test_the_choices_of_format_are_in_the_description(service: Served) -> None:
    parameters = requests.get(f"{service.base}/openapi.json", timeout=30).json()["paths"]["/v1/checks"]["post"]["parameters"]
    [form] = [each for each in parameters if each["name"] == "format"]
    assert set(form["schema"]["enum"]) == {"json", "sarif", "markdown", "html", "junit", "csv", "text"}
