"""Plans in, reports out, in the representation that the caller wants."""

import json

import pytest

from nailplate.catalog import catalog
from nailplate.render import html, markdown
from nailplate.review import Options, Report
from nailplate.wire import read_plan_value, report_json, report_on
from web.plans import SMALL
from web.served import Served
from web.test_hostile_bodies import problem


def in_process(today: str) -> Report:
    return report_on(SMALL, catalog(), Options(today=today))


def test_report_is_the_engine_s_own(service: Served) -> None:
    answer = service.check(SMALL)
    assert answer.status_code == 200
    assert answer.headers["Content-Type"] == "application/json"
    assert answer.content == report_json(in_process(answer.json()["made"]["date"]))


def test_violation_is_a_result_with_figures_and_place(service: Served) -> None:
    report = service.check(SMALL).json()
    crowded = [
        finding for finding in report["findings"] if finding["rule"] == "box-volume" and finding["outcome"] == "violation"
    ]
    assert [finding["where"]["pointer"] for finding in crowded] == ["/boxes/hall"]
    # NEC 314.16(B)(1), Table 314.16(B)(1): 2.00 in³ for each 14 AWG conductor: four insulated, the switch counts twice, grounds once.
    assert crowded[0]["limit"] == {"value": 14.0, "unit": "in3"}
    assert crowded[0]["measured"] == {"value": 4.0, "unit": "in3"}


def test_same_plan_gives_the_same_bytes_bare_or_enveloped(service: Served) -> None:
    first = service.check(SMALL).content
    assert service.check(SMALL).content == first
    assert service.check({"plan": SMALL, "options": {}}).content == first
    assert service.send(json.dumps(SMALL, indent=3).encode()).content == first


def test_max_findings_shortens_the_list_and_says_so(service: Served) -> None:
    plan = {
        **SMALL,
        "boxes": {**SMALL["boxes"], "second": {}},
        "devices": {**SMALL["devices"], "other": {"kind": "switch", "box": "second"}},
    }
    whole = service.check(plan).json()
    assert len(whole["findings"]) > 1
    short = service.check({"plan": plan, "options": {"max_findings": 1}}).json()
    assert short["findings"] == whole["findings"][:1]
    assert short["summary"]["left_out"] == len(whole["findings"]) - 1


@pytest.mark.parametrize(
    ("accept", "media"),
    [
        ("application/json", "application/json"),
        ("*/*", "application/json"),
        ("application/*", "application/json"),
        ("text/markdown", "text/markdown; charset=utf-8"),
        ("text/html", "text/html; charset=utf-8"),
        ("text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", "text/html; charset=utf-8"),
        ("text/markdown;q=0.2, application/json;q=0.1", "text/markdown; charset=utf-8"),
        ("text/html;q=0, */*", "application/json"),
        ("application/problem+json, text/markdown", "text/markdown; charset=utf-8"),
    ],
)
def test_accept_chooses_the_representation(service: Served, accept: str, media: str) -> None:
    answer = service.check(SMALL, Accept=accept)
    assert answer.status_code == 200
    assert answer.headers["Content-Type"] == media
    assert "Accept" in answer.headers["Vary"]


def test_pages_are_the_renderer_s_own(service: Served) -> None:
    report = in_process(service.check(SMALL).json()["made"]["date"])
    assert service.check(SMALL, Accept="text/markdown").text == markdown(report)
    assert service.check(SMALL, Accept="text/html").text == html(report, read_plan_value(SMALL))


@pytest.mark.parametrize("name", ["json", "markdown", "html"])
def test_format_wins_over_accept(service: Served, name: str) -> None:
    media = {"json": "application/json", "markdown": "text/markdown", "html": "text/html"}[name]
    answer = service.send(json.dumps(SMALL).encode(), f"/v1/checks?format={name}", Accept="text/rtf")
    assert answer.status_code == 200
    assert answer.headers["Content-Type"].startswith(media)


@pytest.mark.parametrize("accept", ["text/rtf", "image/png", "*/*;q=0", "application/zip, text/css"])
def test_what_there_is_not_is_406_with_a_list(service: Served, accept: str) -> None:
    detail = problem(service.check(SMALL, Accept=accept), 406, "not-acceptable")["detail"]
    assert "text/markdown (format=markdown)" in detail


def test_unknown_format_is_406_and_unknown_parameters_are_400(service: Served) -> None:
    body = json.dumps(SMALL).encode()
    problem(service.send(body, "/v1/checks?format=pdf"), 406, "not-acceptable")
    problem(service.send(body, "/v1/checks?fromat=html"), 400, "bad-parameter")
    problem(service.send(body, "/v1/checks?format=html&format=json"), 400, "bad-parameter")


def test_markup_in_a_plan_is_escaped(service: Served) -> None:
    plan = {**SMALL, "name": "<script>alert(1)</script>"}
    page = service.check(plan, Accept="text/html")
    assert "<script" not in page.text
    assert "&lt;script&gt;" in page.text


def test_lint_of_a_sound_plan_runs_no_rule(service: Served) -> None:
    answer = service.send(json.dumps(SMALL).encode(), "/v1/plan-lints")
    assert answer.json() == {"valid": True, "faults": [], "total": 0}
    assert answer.headers["Cache-Control"] == "no-store"


def test_lint_of_an_enveloped_plan_points_into_the_plan(service: Served) -> None:
    answer = service.send(json.dumps({"plan": {**SMALL, "boxs": {}}}).encode(), "/v1/plan-lints")
    assert [fault["pointer"] for fault in answer.json()["faults"]] == ["/boxs"]


def test_missing_fact_is_a_result(service: Served) -> None:
    plan = {**SMALL, "boxes": {**SMALL["boxes"], "hall": {"clamps": "none"}}}
    report = service.check(plan).json()
    needs = [
        finding["needs"]
        for finding in report["findings"]
        if finding["rule"] == "box-volume" and finding["outcome"] == "undetermined"
    ]
    assert ["/boxes/hall/volume"] in needs
