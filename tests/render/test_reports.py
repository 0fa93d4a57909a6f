"""Reports for people: nothing that a caller wrote is markup, and no page asks for anything from outside."""

import json
import re
from collections.abc import Callable

import pytest

from nailplate.catalog import catalog
from nailplate.render import html, markdown, rule_html, rule_page
from nailplate.review import Report, check
from nailplate.wire import read_plan

EVIL = '<script>alert(1)</script> `x` [y](http://z) | "q"'


@pytest.fixture
def report() -> Report:
    circuit = {"label": EVIL, "breaker": {"rating": 30}, "conductor": {"size": "14 AWG", "type": "NM-B"}}
    plan = {"plan_format": 1, "name": EVIL, "basis": {"edition": "2023", "jurisdiction": EVIL}, "circuits": {"c": circuit}}
    return check(read_plan(json.dumps(plan).encode()), catalog())


def test_html_escapes_what_a_caller_wrote_and_asks_for_nothing(report: Report) -> None:
    page = html(report)
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert not re.search(r"""(src|href|url\()\s*=?\s*["']?https?:""", page)


def test_markdown_escapes_what_a_caller_wrote(report: Report) -> None:
    text = markdown(report)
    assert "<script>" not in text
    assert "[y](http" not in text


@pytest.mark.parametrize("write", [markdown, html])
def test_a_report_says_figure_limit_section_and_what_was_not_checked(report: Report, write: Callable[[Report], str]) -> None:
    text = write(report)
    for words in (
        "measured 30 A, limit 15 A",
        "NEC 2023 240.4",
        "What was not checked",
        "the service or feeder and its load",
        "Cautions",
    ):
        assert words in text


@pytest.mark.parametrize("rule_id", sorted(catalog().rules))
def test_every_rules_page_answers_what_why_and_how(rule_id: str) -> None:
    found = catalog().rules[rule_id]
    page = rule_page(found, ("2017", "2026"))
    for words in (found.title, found.why, found.put_right, "NEC 2017", "NEC 2026"):
        assert words in page
    assert "<script" not in rule_html(found, ("2023",))
