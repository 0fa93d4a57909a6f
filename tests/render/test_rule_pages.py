"""Rules' pages: what they say, how long they are, where their links lead, and that each example is answered as it is printed."""

import json
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from typing import Any

import pytest

from nailplate.catalog import catalog
from nailplate.codes import EDITIONS
from nailplate.render import rule_html, rule_page
from nailplate.rulekit import Judgement, Rule, Violation
from nailplate.rulekit.cases import merged
from nailplate.wire import read_plan_value
from rules.judging import answers, loaded, packs, patched

RULES = [pytest.param(rule, id=rule.id) for rule in packs().rules.values()]


def page_of(rule: Rule, *years: str) -> str:
    return rule_page(rule, years or EDITIONS, packs(), read_plan_value)


@pytest.mark.parametrize("rule", RULES)
def test_a_page_says_what_why_and_how_and_fits_two_screens(rule: Rule) -> None:
    page = page_of(rule)
    flowing = " ".join(page.split()).casefold()
    for words in (rule.title, rule.why, rule.fix, rule.trap, rule.does_not_judge, *rule.changes.values()):
        assert " ".join(words.split()).casefold() in flowing
    lines = page.splitlines()
    assert len(lines) <= 90
    assert max(map(len, lines)) <= 100


# Examples


def examples_of(page: str) -> Iterator[tuple[dict[str, Any], str]]:
    """The plan of each example, with all that stands below it."""
    first: dict[str, Any] = {}
    for part in page.partition("## Examples")[2].partition("## Related")[0].split("**Example.** ")[1:]:
        snippet, rest = part.split("```json\n", 1)[1].split("\n```", 1)
        is_patch = "(a merge patch):" in part
        plan = merged(first, json.loads(snippet)) if is_patch else json.loads(snippet)
        first = first or plan
        year = re.findall(r"\bNEC ([\d, ]+)\)", " ".join(part.split()))
        yield {"plan": plan, "edition": year[0].split(", ")[-1] if year else EDITIONS[-1]}, " ".join(rest.split())


def document(example: dict[str, Any]) -> dict[str, Any]:
    plan = example["plan"]
    return {"plan_format": 1, "name": "e", **plan, "basis": {"edition": example["edition"], **plan.get("basis", {})}}


@pytest.mark.long
@pytest.mark.parametrize("rule", RULES)
def test_each_example_is_answered_as_it_is_printed_and_its_patch_clears_it(rule: Rule) -> None:
    examples = list(examples_of(page_of(rule)))
    assert examples
    for example, told in examples:
        found = answers(rule, loaded(document(example)))
        wrong = [(at, outcome) for at, outcome in found if isinstance(outcome, Violation | Judgement)]
        for at, outcome in wrong:
            assert f"At `{at or '/'}`: {' '.join(outcome.message.split())}" in told
            assert all(" ".join(remedy.words.split()) in told for remedy in outcome.remedies)
        assert wrong or "**Passes.**" in told or "**Undetermined.**" in told
        patches = re.findall(r"```json (\[.*?\]) ```", told)
        for patch, (at, outcome) in zip(
            patches, [each for each in wrong if any(r.patch for r in each[1].remedies)], strict=True
        ):
            operations = next(remedy.patch for remedy in outcome.remedies if remedy.patch)
            assert json.loads(patch) == [
                {"op": each.op, "path": str(each.path)} | ({} if each.op == "remove" else {"value": each.value})
                for each in operations
            ]
            after = answers(rule, loaded(patched(document(example), operations)))
            assert (at, outcome.facet) not in {(where, each.facet) for where, each in after if isinstance(each, Violation)}


def test_examples_are_of_the_edition_asked_for() -> None:
    page = page_of(packs().rules["island-peninsula"], "2017")
    assert "24 by 12 in needs one (NEC 2017" in page
    assert "NEC 2023, 2026)" not in page


# HTML


class Reader(HTMLParser):
    """Collects addresses, anchors and the tags left open."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.addresses: list[str] = []
        self.anchors: set[str] = set()
        self.open: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        self.addresses += [told["href"] or ""] if tag == "a" else []
        self.anchors |= {told["id"] or ""} if "id" in told else set()
        self.open += [tag] if tag != "meta" else []

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


@pytest.mark.long
@pytest.mark.parametrize("rule", RULES)
def test_the_html_page_is_whole_and_its_links_lead_to_rules_and_its_own_sections(rule: Rule) -> None:
    text = rule_html(rule, EDITIONS, packs(), read_plan_value)
    read = Reader(text)
    assert read.open == []
    assert read.addresses[0] == "../rules"
    assert {address[1:] for address in read.addresses if address.startswith("#")} == read.anchors != set()
    others = {address.removeprefix("../rules/") for address in read.addresses[1:] if not address.startswith("#")}
    assert others <= catalog().rules.keys() - {rule.id}
    assert not re.search(r"<script|https?://[^<]*>|\*\*|```", text)
