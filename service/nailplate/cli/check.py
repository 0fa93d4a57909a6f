"""``check``: plans in, reports out, and an exit code for CI."""

import sys
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, BinaryIO

import click

from nailplate.catalog import Catalog, catalog
from nailplate.cli.basis import with_basis
from nailplate.cli.exits import Exit, worst
from nailplate.cli.options import edition_option, packs_option
from nailplate.cli.output import WRITERS, write
from nailplate.cli.reading import answered
from nailplate.review import Options, Report, check
from nailplate.rulekit import Severity
from nailplate.wire import plan_digest, read_plan_value


@click.command("check")
@click.argument("plans", nargs=-1, type=click.File("rb"))
@click.option("--format", "shape", type=click.Choice(sorted(WRITERS)), default="markdown", show_default=True)
@click.option("--output", "outputs", multiple=True, metavar="FORMAT=PATH", help="Also write the report to a file.")
@click.option("--fail-at", type=click.Choice([each.value for each in Severity]), default="code", show_default=True)
@click.option("--fail-on-undetermined", is_flag=True, help="Exit 4 where something could not be decided.")
@packs_option
@edition_option
@click.option("--permit-date", metavar="YYYY-MM-DD", help="Check as for a permit of this day.")
@click.option("--amendments", multiple=True, type=click.Path(path_type=Path), help="Add the local amendments of a file.")
def command(
    plans: Sequence[BinaryIO],
    shape: str,
    outputs: tuple[str, ...],
    fail_at: str,
    fail_on_undetermined: bool,
    packs: Sequence[str],
    edition: str | None,
    permit_date: str | None,
    amendments: Sequence[Path],
) -> int:
    """Check PLANS (files, or - for standard input) and print the reports."""
    in_force = catalog(packs)
    codes = []
    for source in plans or (sys.stdin.buffer,):
        report = answered(source, lambda value: _report(with_basis(value, edition, permit_date, amendments), in_force))
        if report is None:
            codes.append(Exit.USAGE)
            continue
        sys.stdout.buffer.write(WRITERS[shape](report))
        write(report, outputs)
        codes.append(exit_code(report, Severity(fail_at), fail_on_undetermined=fail_on_undetermined))
    return worst(codes)


def _report(value: Any, in_force: Catalog) -> Report:
    plan = read_plan_value(value)
    return check(plan, in_force, Options(today=datetime.now(UTC).date().isoformat()), plan_digest(value))


def exit_code(report: Report, fail_at: Severity, *, fail_on_undetermined: bool) -> Exit:
    """The exit code of one report."""
    order = list(Severity)
    if any(coverage.crashed for coverage in report.coverage.rules):
        return Exit.BROKEN
    violations = {
        Severity.DANGER: report.summary.danger,
        Severity.CODE: report.summary.code,
        Severity.ADVICE: report.summary.advice,
    }
    if any(number and order.index(severity) <= order.index(fail_at) for severity, number in violations.items()):
        return Exit.FOUND
    undecided = report.summary.undetermined or report.verdict == "incomplete"
    return Exit.OPEN if fail_on_undetermined and undecided else Exit.CLEAN
