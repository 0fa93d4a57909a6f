"""``check``: plans in, reports out, and an exit code for CI."""

import sys
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

import click

from nailplate.cli.basis import read_amendments
from nailplate.cli.exits import Exit, meanings, worst
from nailplate.cli.judging import Judged, Settings, in_force, judged, lost, plan_in
from nailplate.cli.options import (
    edition_option,
    jobs_option,
    json_file,
    law_options,
    packs_option,
    quiet_option,
    selection_of,
    selection_options,
    threshold_of,
    threshold_options,
    today,
)
from nailplate.cli.output import FORMS, Context, outputs, painter, written
from nailplate.cli.progress import shown
from nailplate.cli.sources import Source, sources
from nailplate.cli.working import cores, in_order
from nailplate.render import inert, table
from nailplate.review.checked import Checked
from nailplate.review.report import Report
from nailplate.review.selection import SelectionError, check_names
from nailplate.review.threshold import Threshold, nothing_was_checked
from nailplate.rulekit import Rule

_FEW = 4
"""Plans that are checked before other processes would have started."""


@click.command("check", epilog=meanings())
@click.argument("plans", nargs=-1)
@click.option("--format", "form", type=click.Choice(list(FORMS)), default="text", show_default=True, help="Of what is printed.")
@click.option("--output", "words", multiple=True, metavar="FORMAT=PATH", help="Also write a file, or with {name} one a plan.")
@click.option("--force", is_flag=True, help="Write over files that are there.")
@click.option("--baseline", type=click.Path(path_type=Path), help="Fail only on what this earlier report does not have.")
@click.option("--suppressions", type=click.Path(path_type=Path), help="Accept findings as this file says, beside the plan.")
@click.option("--show-accepted", is_flag=True, help="Let every finding stand, whoever accepted it.")
@click.option("--max-findings", type=click.IntRange(1, 100_000), default=1000, show_default=True, help="Listed a plan.")
@click.option("--color/--no-color", "color", default=None, help="Color; unless said, on a terminal.")
@threshold_options
@selection_options
@packs_option
@edition_option
@law_options
@jobs_option
@quiet_option
def command(
    plans: Sequence[str],
    form: str,
    words: Sequence[str],
    force: bool,
    baseline: Path | None,
    suppressions: Path | None,
    show_accepted: bool,
    max_findings: int,
    color: bool | None,
    packs: tuple[str, ...],
    edition: str | None,
    permit_date: str | None,
    amendments: Sequence[Path],
    jobs: int,
    quiet: bool,
    **further: object,
) -> int:
    """Check PLANS and print the reports. PLANS are files, folders, patterns, or - for standard input.

    Every plan is checked, whatever is wrong with another; one that is missing or broken is a result like the others.
    """
    settings = Settings(
        today=today(),
        packs=packs,
        selection=selection_of(further),
        heed_suppressions=not show_accepted,
        max_findings=max_findings,
        edition=edition,
        permit_date=permit_date,
        amendments=tuple(read_amendments(file) for file in amendments),
        suppressions=json_file("--suppressions", suppressions),
        baseline=json_file("--baseline", baseline),
    )
    threshold = threshold_of(further)
    wanted = outputs(words, force=force)
    rules = in_force(packs).rules
    _check_selection(settings, rules.values())
    found = sources(plans)
    checked = _checked(found, settings, jobs, quiet=quiet)
    context = Context(rules, threshold, painter(color, sys.stdout), many=len(found) > 1)
    _tell(checked, form, context, quiet=quiet)
    for output in wanted:
        output.write(checked, context)
    return worst(exit_code(each, threshold) for each in checked)


def _check_selection(settings: Settings, rules: Iterable[Rule]) -> None:
    try:
        check_names(settings.selection, rules)
    except SelectionError as error:
        raise click.UsageError(str(error)) from None


def _checked(found: Sequence[Source], settings: Settings, jobs: int, *, quiet: bool) -> list[Checked]:
    several = (jobs or cores()) if len(found) >= _FEW or jobs else 1
    for source in found:
        source.prepare()
    pieces = [(source, settings) for source in found]
    results = shown(in_order(judged, pieces, min(several, len(found)), lost), len(found), quiet=quiet)
    return [_named(source, result) for source, result in zip(found, results, strict=True)]


def _named(source: Source, result: Judged) -> Checked:
    report, faults = result
    named = with_file(report, source.name) if report else None
    return Checked(source.name, named, faults, source.locate, lambda: plan_in(source))


def with_file(report: Report, name: str) -> Report:
    """The report with the name of the file that its plan was read from."""
    return replace(report, plan=replace(report.plan, file=name))


def _tell(checked: Sequence[Checked], form: str, context: Context, *, quiet: bool) -> None:
    """Faults of documents go to standard error, reports to standard output, and a table of several plans to the one that people read."""
    for each in checked:
        for fault in each.faults:
            click.echo(inert(f"{each.name}: {fault.pointer or '/'}: {fault.detail}"), err=True)
    if quiet:
        return
    readable = [each for each in checked if each.report] if form == "text" and not context.many else checked
    if readable:
        sys.stdout.buffer.write(written(form, readable, context))
        sys.stdout.buffer.flush()
    if context.many and form not in ("text", "markdown", "summary"):
        click.echo(table(checked), err=True, nl=False)


def exit_code(checked: Checked, threshold: Threshold) -> Exit:
    """The exit code of one plan."""
    report = checked.report
    if report is None:
        return Exit.USAGE
    if any(coverage.crashed for coverage in report.coverage.rules):
        return Exit.BROKEN
    if any(threshold.fails(finding) for finding in report.findings):
        return Exit.FOUND
    asked = threshold.undecided_at is not None
    undecided = any(threshold.undecided(finding) for finding in report.findings) or nothing_was_checked(report)
    return Exit.OPEN if asked and undecided else Exit.CLEAN
