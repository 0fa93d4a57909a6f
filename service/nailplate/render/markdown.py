"""A report as Markdown: the verdict, the findings one by one, what was and was not checked, the cautions."""

import re
from collections.abc import Iterable, Iterator

from nailplate.render.defaults import LEAD, default_lines
from nailplate.render.inert import inert
from nailplate.render.loads import Passage, load_passages
from nailplate.render.needs import need_passages
from nailplate.render.requirements import required_passages
from nailplate.render.site_list import site_passages
from nailplate.render.wording import (
    CHECKED_AS,
    VERDICTS,
    behind,
    cited,
    figures,
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
from nailplate.review.report import Coverage, Finding, Report
from nailplate.units import shown

_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~])")


def plain(text: str) -> str:
    """A caller's text as Markdown shows it: nothing in it is markup."""
    return _SPECIAL.sub(r"\\\1", inert(" ".join(text.split())))


def markdown(report: Report) -> str:
    """The report as a Markdown document."""
    return (
        "\n".join(
            [
                *_head(report),
                *_findings(report),
                *_needs(report),
                *_requirements(report),
                *_loads(report),
                *_site_list(report),
                *_defaults(report),
                *_coverage(report.coverage),
                *_cautions(report),
            ]
        )
        + "\n"
    )


def _head(report: Report) -> Iterator[str]:
    basis, summary = report.basis, report.summary
    yield f"# {plain(report.plan.name)}: wiring plan check"
    yield ""
    yield f"**{VERDICTS[report.verdict]}**"
    yield ""
    stage = f"{basis.stage.value.replace('_', '-')}{' (assumed)' if basis.stage_assumed else ''}"
    yield f"- NEC {basis.edition}, stage {stage}, checked as {CHECKED_AS[basis.regime]}"
    if basis.permit_date:
        yield f"- permit date {basis.permit_date}"
    if basis.jurisdiction:
        yield f"- {plain(basis.jurisdiction)}"
    for amendment in basis.amendments:
        yield f"- local amendment: {plain(amendment.effect)} ({plain(amendment.citation)}; {plain(amendment.reason)})"
    yield (
        f"- {summary.violations} violations ({summary.danger} danger, {summary.code} code, {summary.advice} advice), "
        f"{summary.undetermined} undetermined, {summary.judgements} for the authority to judge, {summary.accepted} accepted, "
        f"{summary.later} left for a later stage"
    )
    if summary.left_out:
        yield f"- {summary.left_out} further findings are not listed"
    if report.plan.file:
        yield f"- file {plain(report.plan.file)}"
    yield f"- {plain(provenance(report))}"
    yield ""


def _findings(report: Report) -> Iterator[str]:
    for title, findings in (("Findings", report.findings), ("Accepted", report.accepted)):
        if findings:
            yield f"## {title}"
            yield ""
        number = 1
        for group in together(findings):
            yield from _told(number, group)
            number += len(group)
    yield from _wanted(report)


def _told(number: int, group: list[Finding]) -> Iterator[str]:
    return _finding(number, group[0]) if len(group) == 1 else _in_several_places(number, group)


def _in_several_places(number: int, group: list[Finding]) -> Iterator[str]:
    """What one rule cannot decide in several places, or finds there and one act fixes; a line for each."""
    first, shared = group[0], shared_remedies(group)
    numbers = f"{number} to {number + len(group) - 1}"
    yield f"### {numbers}. {first.severity.value.capitalize()}, {first.outcome} at {len(group)} places: {first.rule}"
    yield ""
    for pointers, finding in places(group):
        yield f"- {', '.join(f'`{each}`' for each in pointers)}: {plain(finding.message)}{behind(finding, '`')}"
        yield from (f"  - fix: {plain(remedy.words)}" for remedy in own_remedies(finding, shared))
    yield from (f"- {plain(words)}" for words in shared_words(shared))
    if first.citations:
        yield f"- {'; '.join(cited(citation) for citation in first.citations)}"
    for caution in first.cautions:
        yield f"- caution: {caution}"
    yield ""


def _wanted(report: Report) -> Iterator[str]:
    wanted = most_wanted(report.findings)
    if wanted:
        yield "## What to state first"
        yield ""
        yield from (f"- `{need}`: {times} findings wait for it" for need, times in wanted)
        yield ""


def _finding(number: int, finding: Finding) -> Iterator[str]:
    where = finding.where
    yield f"### {number}. {finding.severity.value.capitalize()}, {finding.outcome}: {finding.rule}"
    yield ""
    yield plain(finding.message)
    yield ""
    yield f"- at `{where.pointer or '/'}`" + (f" ({plain(where.label)})" if where.label else "")
    if both := figures(finding):
        yield f"- {both}"
    for line in finding.lines:
        yield f"- {line.how_many:g} × {shown(line.each)} = {shown(line.subtotal)}: {plain(line.what)}, {line.section}"
    if finding.citations:
        yield f"- {'; '.join(cited(citation) for citation in finding.citations)}"
    if finding.needs:
        yield f"- would be settled by {', '.join(f'`{need}`' for need in finding.needs)}"
    for reading in finding.readings:
        yield f"- one reading: {plain(reading.words)} ({reading.gives})"
    for remedy in finding.remedies:
        yield f"- fix: {plain(remedy.words)}"
    for caution in finding.cautions:
        yield f"- caution: {caution}"
    if finding.accepted:
        yield f"- accepted by {plain(finding.accepted.accepted_by)}: {plain(finding.accepted.reason)}"
    yield ""


def _loads(report: Report) -> Iterator[str]:
    if report.loads is None:
        return
    yield "## Load"
    yield ""
    for passage in load_passages(report.loads):
        yield plain(passage.lead)
        yield ""
        if passage.lines:
            yield from (f"- {plain(line)}" for line in passage.lines)
            yield ""


def _defaults(report: Report) -> Iterator[str]:
    if report.defaults:
        yield "## Defaults of the plan"
        yield ""
        yield LEAD
        yield ""
        yield from (f"- `{pointer}`: {plain(said)}" for pointer, said in default_lines(report))
        yield ""


def _needs(report: Report) -> Iterator[str]:
    found = need_passages(report.needs) if report.needs is not None else ()
    yield from _section("What will be used, and where it is plugged in", found)


def _requirements(report: Report) -> Iterator[str]:
    found = required_passages(report.requirements) if report.requirements is not None else ()
    yield from _section("What this house needs", found)


def _site_list(report: Report) -> Iterator[str]:
    found = site_passages(report.site_list) if report.site_list is not None else ()
    yield from _section("Site list: what to do and look at before cover-up", found, "- [ ]")


def _section(title: str, found: Iterable[Passage], point: str = "-") -> Iterator[str]:
    """Passages under one heading; nothing where there are none."""
    passages = list(found)
    if passages:
        yield f"## {title}"
        yield ""
    for passage in passages:
        yield plain(passage.lead)
        yield ""
        yield from (f"{point} {plain(line)}" for line in passage.lines)
        yield ""


def _coverage(coverage: Coverage) -> Iterator[str]:
    yield "## What was checked"
    yield ""
    yield "| rule | passed | violations | undetermined | to judge | later stage | not concerned |"
    yield "|---|---|---|---|---|---|---|"
    for each in spoke(coverage):
        row = (each.passed, each.violations, each.undetermined, each.judgements, each.later, each.not_concerned)
        yield f"| {each.rule} | {' | '.join(str(figure) for figure in row)} |"
    yield ""
    yield "## What was not checked"
    yield ""
    if quiet := silent(coverage):
        yield f"- nothing is drawn that concerns these rules: {', '.join(quiet)}"
    for line in left_out(coverage):
        yield f"- {plain(line)}"
    for line in coverage.not_checked:
        yield f"- {line}"
    yield ""
    yield "On site, by a person:"
    yield ""
    for line in coverage.site_checks:
        yield f"- [ ] {line}"
    yield ""


def _cautions(report: Report) -> Iterator[str]:
    yield "## Cautions"
    yield ""
    for caution in report.cautions:
        yield f"- {caution}"
