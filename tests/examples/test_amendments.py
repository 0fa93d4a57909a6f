"""Two invented jurisdictions' amendments: each report says which acted, and changes by exactly what they say."""

import json
from importlib.resources import files
from typing import Any

import pytest

from examples.edition_house import report
from nailplate.codes import EDITIONS
from nailplate.render import html, markdown
from nailplate.review import Report

DATE = "2026-10-01"  # after every date on which the code itself leaves something out
TANSY, SKERRY = "tansy-county", "skerry-township"


def amended_by(jurisdiction: str) -> dict[str, Any]:
    text = files("nailplate").joinpath("examples", f"amendments-{jurisdiction}.json").read_text(encoding="utf-8")
    document: dict[str, Any] = json.loads(text)
    return {"jurisdiction": document["jurisdiction"], "amendments": document["amendments"]}


def violations(found: Report) -> set[tuple[str, str]]:
    return {(each.rule, str(each.where.pointer)) for each in found.findings if each.outcome == "violation"}


CHARGER = ("gfci-locations", "/devices/charger-receptacle")
COOLING = ("gfci-outdoor-outlets", "/appliances/mini-split")
FRIDGE = ("gfci-locations", "/devices/fridge-receptacle")
BAR = ("gfci-locations", "/devices/pantry-receptacle")


@pytest.mark.parametrize(
    ("edition", "gone"),
    [("2017", set()), ("2020", {CHARGER, COOLING}), ("2023", {CHARGER, COOLING}), ("2026", {CHARGER, COOLING})],
)
def test_a_cut_out_takes_its_findings_away_and_no_others(edition: str, gone: set[tuple[str, str]]) -> None:
    plain, local = violations(report(edition, DATE)), violations(report(edition, DATE, **amended_by(TANSY)))
    assert (plain - local, local - plain) == (gone, set())


@pytest.mark.parametrize(
    ("edition", "come"), [("2017", {FRIDGE, BAR}), ("2020", {FRIDGE, BAR}), ("2023", set()), ("2026", set())]
)
def test_a_stricter_rule_brings_its_findings_and_no_others(edition: str, come: set[tuple[str, str]]) -> None:
    plain, local = violations(report(edition, DATE)), violations(report(edition, DATE, **amended_by(SKERRY)))
    assert (local - plain, plain - local) == (come, set())


def test_a_finding_that_only_a_local_rule_asks_for_says_so() -> None:
    found = report("2017", DATE, **amended_by(SKERRY)).findings
    [bar] = [each for each in found if (each.rule, each.where.pointer) == BAR]
    assert "A local amendment lists areas with a sink" in bar.message


def test_a_severity_that_is_local_stands_beside_the_usual_one() -> None:
    found = [each for each in report("2023", DATE, **amended_by(SKERRY)).findings if each.rule == "afci-rooms"]
    assert {(each.severity.value, each.severity_by_default.value) for each in found if each.severity_by_default} == {
        ("danger", "code")
    }
    assert len(found) >= 1


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("jurisdiction", [TANSY, SKERRY])
def test_every_report_names_the_amendments_with_citation_and_reason(edition: str, jurisdiction: str) -> None:
    basis = amended_by(jurisdiction)
    found = report(edition, DATE, **basis)
    assert found.basis.jurisdiction == basis["jurisdiction"]
    assert [each.id for each in found.basis.amendments] == list(basis["amendments"])
    for stamp in found.basis.amendments:
        for write in (markdown, html):
            assert stamp.citation in write(found)
            assert stamp.effect.replace("_", r"\_") in write(found) or stamp.effect in write(found)


def test_without_amendments_a_report_names_none() -> None:
    assert report("2023", DATE).basis.amendments == ()
