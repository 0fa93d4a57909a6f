"""A report as one self-contained HTML page: the drawing first, findings beside it, no script, no outside host.

Everything that a caller wrote is escaped. Pointing at a finding lights its mark and back by style alone; following a link does so
in a browser that knows no ``:has()``.
"""

from collections.abc import Iterator
from functools import cache
from html import escape
from importlib.resources import files

from nailplate.plan import Plan
from nailplate.render.defaults import LEAD, default_lines
from nailplate.render.html_drawing import Drawing, drawing_of, figures, ties
from nailplate.render.html_findings import Cautions, article, by_places, do_first, items
from nailplate.render.loads import load_passages
from nailplate.render.marking import Numbered, marked, numbered
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
    groups = list(numbered(report.findings))
    drawing = drawing_of(plan, marked(report.findings, linked=True)) if plan is not None else None
    drawing = drawing if drawing is not None and drawing.levels else None
    cautions = Cautions()
    main = [*_main(report, plan, drawing, groups, cautions)]
    return "\n".join([*_head(report, drawing, groups), *main, *_foot(report, cautions)]) + "\n"


def _head(report: Report, drawing: Drawing | None, groups: list[Numbered]) -> Iterator[str]:
    name = escape(inert(report.plan.name))
    yield f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{name}: wiring plan check</title>'
    firsts = {number + offset: number for number, group in groups for offset in range(len(group))}
    style = _style() + (ties(drawing, firsts) if drawing else "")
    yield f'<meta name="viewport" content="width=device-width, initial-scale=1"><style>{style}</style></head><body>'
    yield '<a class="skip" href="#findings">Skip to the findings</a>'
    yield f'<header><h1>{name}: wiring plan check</h1><p class="verdict">{VERDICTS[report.verdict]}</p>'
    yield items(_in_short(report))
    yield '<nav aria-label="On this page"><ul>'
    drawings = [("drawings", "Drawings")] if drawing else []
    parts = [*drawings, ("findings", "Findings"), ("coverage", "What was checked"), ("cautions", "Cautions")]
    yield from (f'<li><a href="#{id_}">{words}</a></li>' for id_, words in parts)
    yield "</ul></nav></header>"


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


def _main(
    report: Report, plan: Plan | None, drawing: Drawing | None, groups: list[Numbered], cautions: Cautions
) -> Iterator[str]:
    yield "<main>"
    yield '<div class="pair">' if drawing else "<div>"
    if drawing:
        yield '<section class="drawings" id="drawings" aria-label="Drawings">'
        yield from figures(drawing)
        yield "</section>"
    yield '<section id="findings" aria-label="Findings">'
    yield from do_first(groups)
    if not groups:
        yield "<h2>Findings</h2><p>None.</p>"
    yield from by_places(plan, groups, drawing.placed if drawing else frozenset(), cautions)
    yield from _accepted(report, cautions)
    yield from _wanted(report)
    yield "</section></div>"
    yield from _loads(report)
    yield f'<h2 id="basis">What it was checked by</h2>{items(_basis(report))}'
    yield from _defaults(report)
    yield from _coverage(report)
    yield "</main>"


def _accepted(report: Report, cautions: Cautions) -> Iterator[str]:
    if report.accepted:
        yield "<h2>Accepted</h2>"
        yield from (article(number, group, frozenset(), cautions, "a") for number, group in numbered(report.accepted))


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


def _defaults(report: Report) -> Iterator[str]:
    if report.defaults:
        yield f"<h2>Defaults of the plan</h2><p>{LEAD}</p>"
        yield items(f"{pointer}: {said}" for pointer, said in default_lines(report))


def _coverage(report: Report) -> Iterator[str]:
    coverage = report.coverage
    yield '<h2 id="coverage">What was checked</h2>'
    yield '<div class="table" role="group" tabindex="0" aria-labelledby="coverage"><table><thead><tr>'
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


def _foot(report: Report, cautions: Cautions) -> Iterator[str]:
    yield '<footer><h2 id="cautions">Cautions</h2>'
    yield items(report.cautions)
    told = "".join(cautions.told())
    yield f"<h3>Of single findings</h3><ul>{told}</ul>" if told else ""
    yield "</footer></body></html>"
