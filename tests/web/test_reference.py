"""What callers look up."""

import json
from xml.etree import ElementTree as ET

import jsonschema
import pytest

from nailplate import __version__
from nailplate.catalog import catalog
from nailplate.codes import EDITIONS
from nailplate.render import rule_html, rule_page
from nailplate.units import SCALES
from nailplate.wire import read_plan_value
from web.plans import DRAWN, SMALL
from web.served import Served
from web.test_hostile_bodies import problem


def test_catalogue_lists_every_rule_in_force(service: Served) -> None:
    listed = service.get("/v1/rules").json()["rules"]
    assert [rule["id"] for rule in listed] == list(catalog().rules)
    assert all(rule["title"] and rule["citations"] and rule["hazards"] for rule in listed)


def test_catalogue_of_one_edition_cites_that_edition_alone(service: Served) -> None:
    for year in EDITIONS:
        listed = service.get(f"/v1/rules?edition={year}").json()["rules"]
        assert [rule["id"] for rule in listed] == [rule.id for rule in catalog().rules.values() if rule.is_in(int(year))]
        assert {each["edition"] for rule in listed for each in rule["citations"] if each["document"] == "NEC"} == {year}


@pytest.mark.parametrize("year", ["2018", "٢٠٢٣", "", "nec-2023", "2023 "])
def test_unknown_edition_as_a_parameter_is_400(service: Served, year: str) -> None:
    problem(service.get("/v1/rules", params={"edition": year}), 400, "bad-parameter")
    problem(service.get("/v1/rules/box-volume", params={"edition": year}), 400, "bad-parameter")


def test_rule_page_in_every_representation(service: Served) -> None:
    rule = catalog().rules["box-volume"]
    value = service.get("/v1/rules/box-volume").json()
    assert value["why"] == rule.why
    assert value["fix"] == rule.fix
    assert value["judges"] == "boxes"
    assert value["cases"] == [case.value() for case in rule.cases if case.shown] != []
    words = (EDITIONS, catalog(), read_plan_value)
    assert service.get("/v1/rules/box-volume", headers={"Accept": "text/markdown"}).text == rule_page(rule, *words)
    assert service.get("/v1/rules/box-volume?format=markdown&edition=2023").text == rule_page(rule, ("2023",), *words[1:])
    assert service.get("/v1/rules/box-volume", headers={"Accept": "text/html"}).text == rule_html(rule, *words)
    problem(service.get("/v1/rules/box-volume", headers={"Accept": "text/csv"}), 406, "not-acceptable")


@pytest.mark.parametrize("year", EDITIONS)
def test_a_rules_page_for_one_edition_has_its_cases_and_what_every_edition_changed(service: Served, year: str) -> None:
    rule = catalog().rules["gfci-locations"]
    value = service.get(f"/v1/rules/gfci-locations?edition={year}").json()
    assert value["cases"] == [case.value() for case in rule.cases if case.shown and f"nec-{year}" in case.editions]
    assert [each["edition"] for each in value["citations"]] == [year]
    assert {each["edition"]: each["what"] for each in value["changes"]} == {
        key.removeprefix("nec-"): what for key, what in rule.changes.items()
    }
    assert value["trap"] == rule.trap != ""


def test_the_page_for_people_tells_every_edition_and_what_it_changed(service: Served) -> None:
    rule = catalog().rules["gfci-outdoor-outlets"]
    page = " ".join(service.get("/v1/rules/gfci-outdoor-outlets?format=markdown&edition=2023").text.split())
    assert "- NEC 2017: no such requirement." in page
    assert f"- NEC 2023: {rule.cite(2023).section} (verified). {rule.changes['nec-2023']}" in page  # type: ignore[union-attr]  # it has one
    assert f"**Trap.** {rule.trap[0].upper()}{rule.trap[1:]}" in page
    assert "The examples below are of NEC 2023" in page


def test_editions_tell_their_tables(service: Served) -> None:
    editions = service.get("/v1/editions").json()["editions"]
    assert [each["edition"] for each in editions] == list(EDITIONS)
    for each in editions:
        assert {"ampacity", "box_fill"} <= {table["name"] for table in each["tables"]}
        assert {table["text_status"] for table in each["tables"]} <= {"verified", "memory", "assumed"}


def test_units_tell_every_spelling(service: Served) -> None:
    units = service.get("/v1/units").json()
    assert {spelling for each in units["dimensions"] for spelling in each["spellings"]} == set(SCALES)
    assert "7 ft 6 in" in units["grammar"]


def test_schemas_are_sound_and_take_a_plan(service: Served) -> None:
    for name in service.get("/v1/schemas").json()["names"]:
        answer = service.get(f"/v1/schemas/{name}")
        assert answer.headers["Content-Type"] == "application/schema+json"
        jsonschema.Draft202012Validator.check_schema(answer.json())
    plan_schema = jsonschema.Draft202012Validator(service.get("/v1/schemas/plan-1").json())
    for plan in (SMALL, DRAWN):
        plan_schema.validate(plan)
    assert not plan_schema.is_valid({**SMALL, "boxs": {}})


def test_example_plans_are_plans(service: Served) -> None:
    names = service.get("/v1/examples").json()["names"]
    assert names
    for name in names:
        plan = service.get(f"/v1/examples/{name}")
        assert service.send(plan.content, "/v1/plan-lints").json()["valid"] is True


def test_version_tells_packs_and_limits(service: Served) -> None:
    value = service.get("/v1/version").json()
    assert value["version"] == __version__
    assert value["packs"] == [{"name": "nailplate", "version": __version__, "rules": len(catalog().rules)}]
    assert value["limits"] == {
        "max_body": 2_000_000,
        "max_findings": 1000,
        "max_batch": 64_000_000,
        "max_records": 20_000,
        "check_budget": 1_000_000,
        "time_limit": 20,
    }
    assert value["editions"] == list(EDITIONS)


def test_editions_list_their_figures_and_what_they_ask_that_others_do_not(service: Served) -> None:
    first, second, *_ = service.get("/v1/editions").json()["editions"]
    (heaviest,) = [each for each in first["limits"] if each["name"] == "fan_heaviest"]
    assert (heaviest["figure"], heaviest["value"], heaviest["unit"], heaviest["section"]) == ("70 lb", 70, "lb", "314.27(C)")
    held = [{each["name"]: each["holds"] for each in one["provisions"]}["fan_box_anywhere"] for one in (first, second)]
    assert held == [False, True]


def test_a_rule_page_has_its_figures_and_subjects(service: Served) -> None:
    value = service.get("/v1/rules/fan-box?edition=2020").json()
    assert value["subjects"] == ["boxes that carry luminaires and fans"]
    assert {each["name"]: each["figure"] for each in value["limits"]} == {"fan_heaviest": "70 lb", "fan_unmarked": "35 lb"}
    assert [(each["name"], each["edition"], each["holds"]) for each in value["provisions"]] == [
        ("fan_box_anywhere", "2020", True)
    ]
    assert {each["edition"] for each in value["changes"]} == {"2020", "2023"}


def test_rules_are_filtered_and_given_by_the_page(service: Served) -> None:
    whole = service.get("/v1/rules").json()
    assert whole["total"] == len(whole["rules"]) == len(catalog().rules)
    dangers = service.get("/v1/rules?severity=danger&family=protection").json()
    assert {(each["severity"], each["family"]) for each in dangers["rules"]} == {("danger", "protection")}
    subject = whole["rules"][0]["subjects"][0]
    about = service.get("/v1/rules", params={"subject": subject}).json()["rules"]
    assert [each["id"] for each in about] == [each["id"] for each in whole["rules"] if subject in each["subjects"]]
    found, after = [], ""
    while page := service.get(f"/v1/rules?limit=40&after={after}").json()["rules"]:
        found += page
        after = page[-1]["id"]
    assert found == whole["rules"]
    for bad in ("limit=0", "limit=many", "limit=1001", "famly=x"):
        problem(service.get(f"/v1/rules?{bad}"), 400, "bad-parameter")


def test_every_calculation_has_an_example_that_gives_the_answer_shown(service: Served) -> None:
    operation = service.get("/openapi.json").json()["paths"]["/v1/calculations/{name}"]["post"]
    asked = operation["requestBody"]["content"]["application/json"]["examples"]
    told = operation["responses"]["200"]["content"]["application/json"]["examples"]
    assert set(asked) == set(told) == set(service.get("/v1/calculations").json()["names"])
    for name, example in asked.items():
        body = json.dumps(example["value"]).encode()
        assert service.send(body, f"/v1/calculations/{name}").json() == told[name]["value"]


def test_units_say_and_show_which_way_a_plan_is_drawn(service: Served) -> None:
    directions = service.get("/v1/units").json()["directions"]
    assert "y up" in directions["said"]
    assert "`from` toward its `to`" in directions["said"]
    picture = service.get(directions["picture"])
    assert picture.headers["Content-Type"] == "image/svg+xml"
    assert {"x", "y", "left", "right", "from", "to"} <= {each.text for each in ET.fromstring(picture.text).iter() if each.text}
