"""A report as one self-contained HTML page: the drawing first, findings beside it, no script, no outside host.

Everything that a caller wrote is escaped. Pointing at a finding lights its mark and back by style alone; following a link does so
in a browser that knows no ``:has()``.
"""

from collections.abc import Iterable, Iterator
from functools import cache
from html import escape
from importlib.resources import files

from nailplate.plan import Plan
from nailplate.render.defaults import LEAD, default_lines
from nailplate.render.html_drawing import drawing_of, figures, ties
from nailplate.render.html_findings import Cautions, article, by_places, do_first, items
from nailplate.render.loads import load_passages
from nailplate.render.marking import Numbered, marked, numbered
from nailplate.render.needs import need_passages
from nailplate.render.requirements import required_passages
from nailplate.render.site_list import site_passages
from nailplate.render.wording import CHECKED_AS, VERDICTS, left_out, most_wanted, provenance, silent, spoke
from nailplate.review.report import Report
from nailplate.sheets.drawing import sheet_style
from nailplate.sheets.inert import inert

_COLUMNS = ("passed", "violations", "undetermined", "to judge", "later stage", "not concerned")


@cache
def _style() -> str:
    own = files("nailplate.render").joinpath("report_style.css").read_text(encoding="utf-8")
    return f"{sheet_style()}\n{own.strip()}"


def html(report: Report, plan: Plan | None = None) -> str:
    """The report as an HTML document; with the plan's drawing where the plan is given and draws anything."""
    page = Page(report, plan)
    title = f"{escape(inert(report.plan.name))}: wiring plan check"
    skip = '<a class="skip" href="#findings">Skip to the findings</a>'
    return document(title, page.style, [skip, *page.body(), *page.foot()])


def document(title: str, style: str, body: Iterable[str]) -> str:
    """An HTML document with the style of reports and more of its own; ``title`` is escaped already."""
    head = f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
    view = '<meta name="viewport" content="width=device-width, initial-scale=1">'
    return "\n".join([f"{head}{view}<style>{_style()}{style}</style></head><body>", *body, "</body></html>"]) + "\n"


class Page:
    """One report on a page, alone or among others; ``at`` begins all its ids."""

    def __init__(self, report: Report, plan: Plan | None = None, at: str = "") -> None:
        self.report, self.plan, self.at = report, plan, at
        self.groups: list[Numbered] = list(numbered(report.findings))
        drawing = drawing_of(plan, marked(report.findings, at)) if plan is not None else None
        self.drawing = drawing if drawing is not None and drawing.levels else None
        self.cautions = Cautions(at)

    @property
    def style(self) -> str:
        """What ties this report's marks to its findings."""
        firsts = {number + offset: number for number, group in self.groups for offset in range(len(group))}
        return ties(self.drawing, firsts, self.at) if self.drawing else ""

    def body(self) -> Iterator[str]:
        """Head, drawing, findings and coverage."""
        main = "div" if self.at else "main"
        yield f'<div class="report">{"".join(self._head())}<{main} class="main">'
        yield '<div class="pair">' if self.drawing else "<div>"
        if self.drawing:
            yield f'<section class="drawings" id="{self.at}drawings" aria-label="Drawings">'
            yield from figures(self.drawing, self.at)
            yield "</section>"
        yield from self._findings()
        yield "</div>"
        yield from _needs(self.report)
        yield from _requirements(self.report)
        yield from _loads(self.report)
        yield f"<h2>What it was checked by</h2>{items(_basis(self.report))}"
        yield from _site_list(self.report)
        yield from _defaults(self.report)
        yield from _coverage(self.report, self.at)
        yield f"</{main}>"

    def _head(self) -> Iterator[str]:
        name = escape(inert(self.report.plan.name))
        yield f'<header><h1>{name}: wiring plan check</h1><p class="verdict">{VERDICTS[self.report.verdict]}</p>'
        yield items(_in_short(self.report))
        drawings = [("drawings", "Drawings")] if self.drawing else []
        parts = [*drawings, ("findings", "Findings"), ("coverage", "What was checked"), ("cautions", "Cautions")]
        yield f'<nav aria-label="In the report on {name}"><ul>'
        yield from (f'<li><a href="#{self.at}{id_}">{words}</a></li>' for id_, words in parts)
        yield "</ul></nav></header>"

    def _findings(self) -> Iterator[str]:
        yield f'<section class="findings" id="{self.at}findings" aria-label="Findings">'
        yield from do_first(self.groups, self.at)
        if not self.groups:
            yield "<h2>Findings</h2><p>None.</p>"
        placed: frozenset[int] = self.drawing.placed if self.drawing else frozenset()
        yield from by_places(self.plan, self.groups, placed, self.cautions)
        if self.report.accepted:
            yield "<h2>Accepted</h2>"
            accepted = numbered(self.report.accepted)
            yield from (article(number, group, frozenset(), self.cautions, "a") for number, group in accepted)
        yield from _wanted(self.report)
        yield "</section>"

    def foot(self) -> Iterator[str]:
        """Every caution once, those of single findings with the findings' numbers. Comes after ``body``, which gathers them."""
        yield f'<footer><h2 id="{self.at}cautions">Cautions</h2>{items(self.report.cautions)}'
        told = "".join(self.cautions.told())
        yield f"<h3>Of single findings</h3><ul>{told}</ul>" if told else ""
        yield "</footer></div>"


def _in_short(report: Report) -> Iterator[str]:
    basis, summary = report.basis, report.summary
    yield f"NEC {basis.edition}, stage {basis.stage.value.replace('_', '-')}, checked as {CHECKED_AS[basis.regime]}"
    yield (
        f"{summary.violations} violations ({summary.danger} danger, {summary.code} code, {summary.advice} advice), "
        f"{summary.undetermined} undetermined, {summary.judgements} for the authority to judge, {summary.accepted} accepted, "
        f"{summary.later} left for a later stage"
    )
    if summary.left_out:
        yield f"{summary.left_out} further findings are not listed"


def _basis(report: Report) -> Iterator[str]:
    """What else the plan was checked by: a reader of the header sees the edition and the class already."""
    basis = report.basis
    if basis.permit_date:
        yield f"permit date {basis.permit_date}"
    if basis.jurisdiction:
        yield basis.jurisdiction
    for each in basis.amendments:
        yield f"local amendment: {each.effect} ({each.citation}; {each.reason})"
    yield provenance(report)


def _wanted(report: Report) -> Iterator[str]:
    wanted = most_wanted(report.findings)
    if wanted:
        yield "<h2>What to state first</h2>" + items(f"{need}: {times} findings wait for it" for need, times in wanted)


def _loads(report: Report) -> Iterator[str]:
    if report.loads is None:
        return
    yield "<h2>Load</h2>"
    for passage in load_passages(report.loads):
        yield f"<p>{escape(inert(passage.lead))}</p>{items(passage.lines) if passage.lines else ''}"


def _needs(report: Report) -> Iterator[str]:
    passages = list(need_passages(report.needs)) if report.needs is not None else []
    if passages:
        yield "<h2>What will be used, and where it is plugged in</h2>"
    for passage in passages:
        yield f"<p>{escape(inert(passage.lead))}</p>{items(passage.lines) if passage.lines else ''}"


def _requirements(report: Report) -> Iterator[str]:
    passages = list(required_passages(report.requirements)) if report.requirements is not None else []
    if passages:
        yield "<h2>What this house needs</h2>"
    for passage in passages:
        yield f"<p>{escape(inert(passage.lead))}</p>{items(passage.lines) if passage.lines else ''}"


def _site_list(report: Report) -> Iterator[str]:
    passages = list(site_passages(report.site_list)) if report.site_list is not None else []
    if passages:
        yield "<h2>Site list: what to do and look at before cover-up</h2>"
    for passage in passages:
        yield f"<p>{escape(inert(passage.lead))}</p>{items(passage.lines)}"


def _defaults(report: Report) -> Iterator[str]:
    if report.defaults:
        yield f"<h2>Defaults of the plan</h2><p>{LEAD}</p>"
        yield items(f"{pointer}: {said}" for pointer, said in default_lines(report))


def _coverage(report: Report, at: str) -> Iterator[str]:
    coverage = report.coverage
    yield f'<h2 id="{at}coverage">What was checked</h2>'
    yield f'<div class="table" role="group" tabindex="0" aria-labelledby="{at}coverage"><table><thead><tr>'
    yield from (f'<th scope="col">{each}</th>' for each in ("rule", *_COLUMNS))
    yield "</tr></thead><tbody>"
    for each in spoke(coverage):
        row = (each.passed, each.violations, each.undetermined, each.judgements, each.later, each.not_concerned)
        yield f'<tr><th scope="row">{escape(each.rule)}</th>{"".join(f"<td>{figure}</td>" for figure in row)}</tr>'
    yield "</tbody></table></div><h2>What was not checked</h2>"
    quiet = silent(coverage)
    nothing = [f"nothing is drawn that concerns these rules: {', '.join(quiet)}"] if quiet else []
    yield items([*nothing, *left_out(coverage), *coverage.not_checked])
    yield f"<p>On site, by a person:</p>{items(coverage.site_checks)}"
