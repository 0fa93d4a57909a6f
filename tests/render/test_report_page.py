"""The report's page with its drawing: marks and findings lead to one another, each caution once, proposals as ghosts, nothing acts."""

import re
from collections import Counter
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from itertools import pairwise

import pytest

from nailplate.catalog import catalog
from nailplate.plan import Plan
from nailplate.render import html
from nailplate.render.marking import marked
from nailplate.render.several import several_html
from nailplate.review import Report, check
from nailplate.review.checked import Checked
from nailplate.wire import plan_digest, read_plan_value
from sheets.reading_svg import overlaps
from sheets.spoiled import spoiled
from sheets.test_hostile_names import HOSTILE, plan_named

HOUSES = ("tamarack-wren", "tamarack-osprey")


@cache
def faulty(name: str) -> tuple[Plan, Report, str]:
    value = spoiled(name)
    plan = read_plan_value(value)
    report = check(plan, catalog(), digest=plan_digest(value))
    return plan, report, html(report, plan)


class Read(HTMLParser):
    """Ids, links and headings of a page, as a browser reads them."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.ids: Counter[str] = Counter()
        self.links: list[str] = []
        self.tags: Counter[str] = Counter()
        self.headings: list[int] = []
        self.attributes: Counter[str] = Counter()
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags[tag] += 1
        self.attributes.update(name for name, _ in attrs)
        found = dict(attrs)
        if found.get("id"):
            self.ids[str(found["id"])] += 1
        if tag == "a":
            self.links.append(str(found["href"]))
        if re.fullmatch("h[1-6]", tag):
            self.headings.append(int(tag[1]))


@pytest.mark.parametrize("name", HOUSES)
def test_every_link_leads_somewhere_and_every_id_is_one(name: str) -> None:
    read = Read(faulty(name)[2])
    assert all(link[0] == "#" and read.ids[link[1:]] == 1 for link in read.links)
    assert max(read.ids.values()) == 1


@pytest.mark.parametrize("name", HOUSES)
def test_a_finding_with_a_place_leads_to_its_mark_and_the_mark_back(name: str) -> None:
    _, report, page = faulty(name)
    read = Read(page)
    marks = {mark.number for mark in marked(report.findings).marks}
    assert marks == set(range(1, len(report.findings) + 1))
    shown = {number for number in marks if read.ids[f"m{number}"]}
    for number in shown:
        assert f'href="#m{number}"' in page
    assert len(shown) >= sum(each.where.point is not None for each in report.findings)
    for number, finding in enumerate(report.findings, 1):
        if number in shown and read.ids[f"f{number}"]:
            assert re.search(rf'id="m{number}">.*?href="#f\d+"', page)
            assert f"{number} {finding.severity.value.capitalize()}" in page


@pytest.mark.parametrize("name", HOUSES)
def test_each_caution_is_told_once_and_names_its_findings(name: str) -> None:
    _, report, page = faulty(name)
    cautions = {caution for finding in report.findings for caution in finding.cautions}
    assert cautions
    text = page.replace("&#x27;", "'").replace("&quot;", '"')
    for caution in (*cautions, *report.cautions):
        assert text.count(caution) == 1, caution


@pytest.mark.parametrize("name", HOUSES)
def test_the_drawing_comes_first_and_headings_skip_no_rank(name: str) -> None:
    page = faulty(name)[2]
    assert page.index("<svg") < page.index("<article")
    headings = Read(page).headings
    assert headings.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(headings))


@pytest.mark.parametrize("name", HOUSES)
def test_proposed_devices_are_ghosts_at_the_place_of_their_patch(name: str) -> None:
    _, report, page = faulty(name)
    adding = [
        number
        for number, finding in enumerate(report.findings, 1)
        if any(
            op.op == "add" and op.path.startswith("/devices/") and op.path.count("/") == 2 and isinstance(op.value, dict)
            for remedy in finding.remedies
            for op in remedy.patch
        )
    ]
    assert adding
    ghosts = {
        int(each) for said in re.findall(r'class="np-proposed" data-findings="([^"]+)"', page) for each in said.split(", ")
    }
    assert ghosts == set(adding)


@pytest.mark.parametrize("name", HOUSES)
def test_no_lettering_on_the_page_lies_over_other_lettering(name: str) -> None:
    for svg in re.findall(r"<svg.*?</svg>", faulty(name)[2], re.DOTALL):
        assert overlaps(svg) == []


@pytest.mark.parametrize("name", HOUSES)
def test_the_page_is_one_file_without_script_style_attributes_or_anything_from_outside(name: str) -> None:
    page = faulty(name)[2]
    read = Read(page)
    assert read.tags["script"] == read.tags["link"] == read.tags["img"] == read.tags["iframe"] == 0
    assert read.tags["style"] == 1
    assert read.attributes["style"] == 0
    assert not any(attribute.startswith("on") for attribute in read.attributes)
    assert "url(" not in page
    assert "@import" not in page


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_is_inert_on_the_page(name: str) -> None:
    value = plan_named("plain")
    plan = read_plan_value(value)
    report = check(plan, catalog())
    findings = tuple(
        replace(each, message=f"{name} {each.message}", where=replace(each.where, label=name)) for each in report.findings
    )
    page = html(replace(report, plan=replace(report.plan, name=name), findings=findings), plan)
    read = Read(page)
    assert read.tags["script"] == 0
    assert read.tags["style"] == 1
    assert not any(attribute.startswith("on") for attribute in read.attributes)
    assert all(link.startswith("#") for link in read.links)
    assert not re.search(
        "[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\ufffe\uffff]", page
    )


def test_several_reports_on_one_page_keep_their_ids_apart() -> None:
    checked = [Checked(name, faulty(name)[1], plan=lambda name=name: faulty(name)[0]) for name in HOUSES]  # type: ignore[misc]
    read = Read(several_html(checked))
    assert max(read.ids.values()) == 1
    assert all(link[0] == "#" and read.ids[link[1:]] == 1 for link in read.links)
    assert read.tags["main"] == 1
    assert read.tags["svg"] >= 2


# WCAG 2.2, 1.4.3: 4.5 to 1 for text; relative luminance as its definition has it
CONTRASTS = (
    ("--ink", "--ground"), ("--soft", "--ground"), ("--danger", "--ground"), ("--code", "--ground"), ("--advice", "--ground"),
    ("--ink", "--lit"), ("--ground", "--danger"), ("--code", "--shade"),
)  # fmt: skip


@pytest.mark.parametrize(("text", "ground"), CONTRASTS)
def test_colors_have_the_contrast_that_sunlight_asks_for(text: str, ground: str) -> None:
    colors = dict(re.findall(r"(--[a-z]+):(#[0-9a-f]{3,6})\b", faulty(HOUSES[0])[2]))
    light, dark = sorted((_luminance(colors[text]), _luminance(colors[ground])), reverse=True)
    assert (light + 0.05) / (dark + 0.05) >= 7.0


def _luminance(color: str) -> float:
    digits = color[1:] if len(color) == 7 else "".join(each * 2 for each in color[1:])
    parts = [int(digits[place : place + 2], 16) / 255 for place in (0, 2, 4)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
