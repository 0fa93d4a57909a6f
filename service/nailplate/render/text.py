"""A report as plain text for a terminal: what was not checked first, then the findings, and what to do at the end of the screen.

``paint(style, text)`` may add color; the styles are named after severities, and ``head`` and ``faint``.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence

from nailplate.plan import Stage
from nailplate.render.defaults import default_lines
from nailplate.render.inert import inert
from nailplate.render.loads import Passage, load_passages
from nailplate.render.needs import need_passages
from nailplate.render.requirements import required_passages
from nailplate.render.wording import (
    CHECKED_AS,
    VERDICTS,
    behind,
    cited,
    figures,
    left_out,
    own_remedies,
    places,
    provenance,
    shared_remedies,
    shared_words,
    silent,
    together,
)
from nailplate.review.checked import Checked
from nailplate.review.report import Finding, Report
from nailplate.units import shown

Paint = Callable[[str, str], str]
_MOST_TO_DO = 12
_MOST_TO_STATE = 5


def unpainted(style: str, text: str) -> str:
    """The text as it is."""
    return text


def text(checked: Checked, paint: Paint = unpainted) -> str:
    """One plan's report, or what is wrong with its document."""
    lines = _report(checked.report, paint) if checked.report else _faults(checked, paint)
    return "\n".join(lines) + "\n"


def _faults(checked: Checked, paint: Paint) -> Iterator[str]:
    yield paint("head", f"{inert(checked.name)}: not checked, the document cannot be read as a plan")
    for fault in checked.faults:
        region = checked.locate(fault.pointer)
        yield inert(f"  line {region.line}, {fault.pointer or '/'}: {fault.detail}")


def _report(report: Report, paint: Paint) -> Iterator[str]:
    yield from _head(report, paint)
    yield from _limits(report, paint)
    number = 1
    for group in together(report.findings):
        yield ""
        yield from _group(number, group, paint)
        number += len(group)
    yield from _accepted(report, paint)
    yield from _needed(report, paint)
    yield from _loads(report, paint)
    yield from _defaults(report, paint)
    yield from _cautions(report, paint)
    yield from _to_do(report, paint)
    yield from _verdict(report, paint)


def _head(report: Report, paint: Paint) -> Iterator[str]:
    basis = report.basis
    file = f"{inert(report.plan.file)}: " if report.plan.file else ""
    yield paint("head", f"{file}{inert(report.plan.name)}")
    stage = f"{basis.stage.value.replace('_', '-')}{' (assumed)' if basis.stage_assumed else ''}"
    facts = [f"NEC {basis.edition}", f"stage {stage}", f"checked as {CHECKED_AS[basis.regime]}"]
    facts += [f"permit date {basis.permit_date}"] if basis.permit_date else []
    facts += [inert(basis.jurisdiction)] if basis.jurisdiction else []
    yield f"  {', '.join(facts)}"
    yield paint("faint", f"  {provenance(report)}")
    for amendment in basis.amendments:
        yield inert(f"  local amendment: {amendment.effect} ({amendment.citation}; {amendment.reason})")


def _limits(report: Report, paint: Paint) -> Iterator[str]:
    """What the report does not rest on, short; every line of it is in the Markdown form."""
    coverage, selection = report.coverage, report.selection
    if selection:
        named = [f"only {', '.join(selection.rules)}"] if selection.rules else []
        named += [f"without {', '.join(selection.ignore)}"] if selection.ignore else []
        named += [f"severity {', '.join(selection.severities)}"] if selection.severities else []
        named += [f"rooms {', '.join(selection.rooms)}"] if selection.rooms else []
        yield inert(f"  selected: {'; '.join(named)}; {selection.hidden} further findings are not listed")
        yield from (inert(f"  {note}") for note in selection.notes)
    subjects = f"{len(coverage.not_checked)} subjects not, or only in part" if coverage.not_checked else ""
    quiet = f"{len(silent(coverage))} rules found nothing drawn that concerns them"
    absent = f"{len(coverage.not_in_force)} rules were not in force"
    yield paint(
        "faint",
        f"  not checked: {'; '.join(each for each in (subjects, quiet, absent) if each)} (--format markdown lists them)",
    )
    yield from (paint("faint", f"  {line}") for line in left_out(coverage) if "switched off" in line)


def _group(number: int, group: Sequence[Finding], paint: Paint) -> Iterator[str]:
    yield from _one(number, group[0], paint) if len(group) == 1 else _several(number, group, paint)


def _one(number: int, finding: Finding, paint: Paint) -> Iterator[str]:
    label = f" ({inert(finding.where.label)})" if finding.where.label else ""
    mark = f" [{finding.baseline}]" if finding.baseline else ""
    yield f"{number}. {_kind(finding, paint)} {finding.rule}{mark}  {finding.where.pointer or '/'}{label}"
    yield f"   {inert(finding.message)}"
    if both := figures(finding):
        yield f"   {both}"
    for line in finding.lines:
        yield inert(f"   {line.how_many:g} × {shown(line.each)} = {shown(line.subtotal)}: {line.what}, {line.section}")
    if finding.citations:
        yield f"   {'; '.join(cited(citation) for citation in finding.citations)}"
    if finding.needs:
        yield f"   state: {', '.join(finding.needs)}"
    yield from (f"   one reading: {inert(each.words)} ({each.gives})" for each in finding.readings)
    yield from (f"   correct it: {inert(each.words)}" for each in finding.remedies)


def _several(number: int, group: Sequence[Finding], paint: Paint) -> Iterator[str]:
    first, shared = group[0], shared_remedies(group)
    yield f"{number} to {number + len(group) - 1}. {_kind(first, paint)} {first.rule} at {len(group)} places"
    for pointers, finding in places(group):
        yield f"   {', '.join(pointers)}: {inert(finding.message)}{behind(finding)}"
        yield from (f"     correct it: {inert(each.words)}" for each in own_remedies(finding, shared))
    yield from (f"   {inert(words)}" for words in shared_words(shared))
    if first.citations:
        yield f"   {'; '.join(cited(citation) for citation in first.citations)}"


def _kind(finding: Finding, paint: Paint) -> str:
    return paint(finding.severity.value, f"{finding.severity.value} {finding.outcome}")


def _accepted(report: Report, paint: Paint) -> Iterator[str]:
    if report.accepted:
        yield ""
        yield paint("head", "Accepted")
    for finding in report.accepted:
        if finding.accepted:
            until = f", until {finding.accepted.until}" if finding.accepted.until else ""
            by = f"accepted by {finding.accepted.accepted_by}{until}: {finding.accepted.reason}"
            yield inert(f"  {finding.rule} {finding.where.pointer or '/'}: {by}")


def _needed(report: Report, paint: Paint) -> Iterator[str]:
    """The owner's needs, and at the layout what the house needs; later the findings tell what of it is missing."""
    if report.needs is not None:
        yield from _told(paint("head", "What will be used, and where it is plugged in"), need_passages(report.needs))
    if report.requirements is not None and report.requirements.items and report.basis.stage is Stage.LAYOUT:
        yield from _told(paint("head", "What this house needs"), required_passages(report.requirements))


def _told(head: str, passages: Iterable[Passage]) -> Iterator[str]:
    yield ""
    yield head
    for passage in passages:
        yield inert(f"  {passage.lead}")
        yield from (inert(f"    {line}") for line in passage.lines)


def _loads(report: Report, paint: Paint) -> Iterator[str]:
    if report.loads is None:
        return
    yield ""
    yield paint("head", "Load")
    for passage in load_passages(report.loads):
        if not passage.lead.endswith(":"):  # what stands under such a lead is for the longer forms
            yield inert(f"  {passage.lead}")


def _defaults(report: Report, paint: Paint) -> Iterator[str]:
    if report.defaults:
        yield ""
        yield paint("head", "Defaults of the plan")
        yield from (inert(f"  {pointer}: {said}") for pointer, said in default_lines(report))


def _cautions(report: Report, paint: Paint) -> Iterator[str]:
    """Each caution once, however many findings carry it."""
    hazards = dict.fromkeys(caution for finding in report.findings for caution in finding.cautions)
    yield ""
    yield paint("head", "Cautions")
    yield from (paint("faint", f"  {inert(caution)}") for caution in (*hazards, *report.cautions))


def _to_do(report: Report, paint: Paint) -> Iterator[str]:
    violations = [each for each in report.findings if each.outcome == "violation"]
    if violations:
        yield ""
        yield paint("head", "Do these first")
    for finding in violations[:_MOST_TO_DO]:
        act = finding.remedies[0].words if finding.remedies else finding.message
        yield f"  {_kind(finding, paint)} {finding.where.pointer or '/'}: {inert(act)}"
    if len(violations) > _MOST_TO_DO:
        yield f"  and {len(violations) - _MOST_TO_DO} more, above"
    if report.state_first:
        yield ""
        yield paint("head", "State these first")
    for wanted in report.state_first[:_MOST_TO_STATE]:
        yield f"  {wanted.pointer}: {wanted.findings} findings wait for it"


def _verdict(report: Report, paint: Paint) -> Iterator[str]:
    summary = report.summary
    yield ""
    yield paint(_VERDICT_STYLES[report.verdict], _VERDICTS[report.verdict])
    yield (
        f"{summary.violations} violations ({summary.danger} danger, {summary.code} code, {summary.advice} advice), "
        f"{summary.undetermined} undetermined, {summary.judgements} for the authority to judge, {summary.accepted} accepted, "
        f"{summary.later} left for a later stage"
    )
    if summary.left_out:
        yield f"{summary.left_out} further findings are not listed"
    if report.baseline:
        yield f"against the baseline: {report.baseline.new} new, {report.baseline.unchanged} unchanged, {len(report.baseline.absent)} gone"


_VERDICTS = {**VERDICTS, "clear": "Nothing against the code was found in what was checked. Above stands what was not."}
_VERDICT_STYLES = {"violations": "danger", "incomplete": "code", "clear": "clear"}
