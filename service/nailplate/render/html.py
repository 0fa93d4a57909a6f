"""A report as one self-contained HTML page: no script, no outside host, everything a caller wrote escaped."""

from collections.abc import Iterable, Iterator
from html import escape

from nailplate.render.defaults import LEAD, default_lines
from nailplate.render.loads import load_passages
from nailplate.render.wording import (
    CHECKED_AS,
    VERDICTS,
    behind,
    cited,
    left_out,
    most_wanted,
    own_remedies,
    places,
    provenance,
    shared_remedies,
    shared_words,
    silent,
    spoke,
    together,
)
from nailplate.review.report import Finding, Report
from nailplate.units import shown

_STYLE = """
body { font: 16px/1.5 Georgia, serif; max-width: 52rem; margin: 2rem auto; padding: 0 1rem; color: #222; background: #fbfaf7 }
h1 { font-size: 1.6rem } h2 { border-bottom: 1px solid #999; margin-top: 2.2rem } h3 { margin: 0 0 .4rem; font-size: 1.05rem }
article { border-left: 6px solid #888; background: #fff; padding: .7rem 1rem; margin: 1rem 0 }
article.danger { border-color: #7a1f3d } article.code { border-color: #35588a } article.advice { border-color: #6d7f5a }
code { font-size: .9em; background: #eee; padding: 0 .2em; overflow-wrap: anywhere }
table { border-collapse: collapse; font-size: .9rem } td, th { border: 1px solid #bbb; padding: .15rem .5rem; text-align: left }
ul { padding-left: 1.2rem } .verdict { font-size: 1.2rem; font-weight: bold }
@media print { body { background: #fff; margin: 0 } article { break-inside: avoid } }
"""


def html(report: Report) -> str:
    """The report as an HTML document."""
    return (
        "\n".join(
            [*_head(report), *_findings(report), *_loads(report), *_defaults(report), *_coverage(report), "</body></html>"]
        )
        + "\n"
    )


def _head(report: Report) -> Iterator[str]:
    basis, summary = report.basis, report.summary
    name = escape(report.plan.name)
    yield f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{name}: wiring plan check</title>'
    yield f'<meta name="viewport" content="width=device-width"><style>{_STYLE}</style></head><body>'
    yield f'<h1>{name}: wiring plan check</h1><p class="verdict">{VERDICTS[report.verdict]}</p>'
    facts = [f"NEC {basis.edition}, stage {basis.stage.value.replace('_', '-')}, checked as {CHECKED_AS[basis.regime]}"]
    facts += [f"permit date {basis.permit_date}"] if basis.permit_date else []
    facts += [basis.jurisdiction] if basis.jurisdiction else []
    facts += [f"local amendment: {each.effect} ({each.citation}; {each.reason})" for each in basis.amendments]
    facts.append(
        f"{summary.violations} violations ({summary.danger} danger, {summary.code} code, {summary.advice} advice), "
        f"{summary.undetermined} undetermined, {summary.judgements} for the authority to judge, {summary.accepted} accepted, "
        f"{summary.later} left for a later stage"
    )
    facts.append(provenance(report))
    yield _list(facts)


def _list(lines: Iterable[str]) -> str:
    return f"<ul>{''.join(f'<li>{escape(line)}</li>' for line in lines)}</ul>"


def _findings(report: Report) -> Iterator[str]:
    for title, findings in (("Findings", report.findings), ("Accepted", report.accepted)):
        if findings:
            yield f"<h2>{title}</h2>"
        number = 1
        for group in together(findings):
            yield _finding(number, group[0]) if len(group) == 1 else _in_several_places(number, group)
            number += len(group)
    yield from _wanted(report)


def _in_several_places(number: int, group: list[Finding]) -> str:
    """What one rule cannot decide in several places, or finds there and one act fixes; a line for each."""
    first, shared = group[0], shared_remedies(group)
    numbers = f"{number} to {number + len(group) - 1}"
    head = f"{numbers}. {first.severity.value.capitalize()}, {first.outcome} at {len(group)} places: {escape(first.rule)}"
    lines = []
    for pointers, each in places(group):
        own = "".join(f" Fix: {remedy.words}" for remedy in own_remedies(each, shared))
        lines.append(f"{', '.join(pointers)}: {each.message}{behind(each)}{own}")
    lines += shared_words(shared)
    lines += ["; ".join(cited(citation) for citation in first.citations)] if first.citations else []
    lines += [f"caution: {caution}" for caution in first.cautions]
    return f'<article class="{first.severity.value}"><h3>{head}</h3>{_list(lines)}</article>'


def _wanted(report: Report) -> Iterator[str]:
    wanted = most_wanted(report.findings)
    if wanted:
        yield "<h2>What to state first</h2>" + _list(f"{need}: {times} findings wait for it" for need, times in wanted)


def _finding(number: int, finding: Finding) -> str:
    head = f"{number}. {finding.severity.value.capitalize()}, {finding.outcome}: {escape(finding.rule)}"
    label = f" ({escape(finding.where.label)})" if finding.where.label else ""
    place = f"<p>at <code>{escape(finding.where.pointer or '/')}</code>{label}</p>"
    body = f"<p>{escape(finding.message)}</p>{place}{_list(_facts(finding))}"
    return f'<article class="{finding.severity.value}"><h3>{head}</h3>{body}</article>'


def _facts(finding: Finding) -> Iterator[str]:
    if finding.measured and finding.limit:
        yield f"measured {shown(finding.measured)}, limit {shown(finding.limit)}"
    for line in finding.lines:
        yield f"{line.how_many:g} × {shown(line.each)} = {shown(line.subtotal)}: {line.what}, {line.section}"
    if finding.citations:
        yield "; ".join(cited(citation) for citation in finding.citations)
    if finding.needs:
        yield f"would be settled by {', '.join(finding.needs)}"
    for reading in finding.readings:
        yield f"one reading: {reading.words} ({reading.gives})"
    for remedy in finding.remedies:
        yield f"fix: {remedy.words}"
    for caution in finding.cautions:
        yield f"caution: {caution}"
    if finding.accepted:
        yield f"accepted by {finding.accepted.accepted_by}: {finding.accepted.reason}"


def _loads(report: Report) -> Iterator[str]:
    if report.loads is None:
        return
    yield "<h2>Load</h2>"
    for passage in load_passages(report.loads):
        yield f"<p>{escape(passage.lead)}</p>{_list(passage.lines) if passage.lines else ''}"


def _defaults(report: Report) -> Iterator[str]:
    if report.defaults:
        yield "<h2>Defaults of the plan</h2>"
        yield f"<p>{LEAD}</p>"
        yield _list(f"{pointer}: {said}" for pointer, said in default_lines(report))


def _coverage(report: Report) -> Iterator[str]:
    coverage = report.coverage
    yield "<h2>What was checked</h2><table><tr><th>rule</th><th>passed</th><th>violations</th><th>undetermined</th>"
    yield "<th>to judge</th><th>later stage</th><th>not concerned</th></tr>"
    for each in spoke(coverage):
        row = (each.passed, each.violations, each.undetermined, each.judgements, each.later, each.not_concerned)
        yield f"<tr><td>{escape(each.rule)}</td>{''.join(f'<td>{figure}</td>' for figure in row)}</tr>"
    yield "</table><h2>What was not checked</h2>"
    quiet = silent(coverage)
    nothing = [f"nothing is drawn that concerns these rules: {', '.join(quiet)}"] if quiet else []
    yield _list([*nothing, *left_out(coverage), *coverage.not_checked])
    yield f"<p>On site, by a person:</p>{_list(coverage.site_checks)}<h2>Cautions</h2>{_list(report.cautions)}"
