"""The command line: check plans, explain rules, serve, and a demonstration.

Exit: 0 clean at the chosen threshold, 1 findings at or over it, 2 usage or unreadable input, 3 an internal error or a rule that
failed, 4 something undetermined when asked to fail on it. 3 beats 1, 1 beats 4.
"""

import json
import os
import sys
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, BinaryIO

import click

from nailplate import __version__
from nailplate.catalog import Catalog, catalog
from nailplate.cli.basis import with_basis
from nailplate.codes import EDITIONS
from nailplate.plan import PlanRefused
from nailplate.render import html, markdown, rule_page
from nailplate.review import Options, Report, check
from nailplate.rulekit import Severity
from nailplate.wire import (
    CALCULATIONS,
    NotJson,
    calculate,
    plan_digest,
    plan_schema,
    read_json,
    read_plan_value,
    report_json,
    text_of,
)


def _markdown(report: Report) -> bytes:
    return markdown(report).encode()


def _html(report: Report) -> bytes:
    return html(report).encode()


WRITERS: dict[str, Callable[[Report], bytes]] = {"json": report_json, "markdown": _markdown, "html": _html}

CLEAN, FOUND, UNREADABLE, BROKEN, OPEN = range(5)


@click.group()
@click.version_option(__version__)
def main() -> None:
    """Check a small house's wiring plan before the walls are closed."""


@main.command("check")
@click.argument("plans", nargs=-1, type=click.File("rb"))
@click.option("--format", "shape", type=click.Choice(sorted(WRITERS)), default="markdown", show_default=True)
@click.option("--output", "outputs", multiple=True, metavar="FORMAT=PATH", help="Also write the report to a file.")
@click.option("--fail-at", type=click.Choice([each.value for each in Severity]), default="code", show_default=True)
@click.option("--fail-on-undetermined", is_flag=True, help="Exit 4 where something could not be decided.")
@click.option("--pack", "packs", multiple=True, help="Put an installed rule pack in force.")
@click.option("--edition", type=click.Choice(EDITIONS), help="Check by this NEC edition, whatever the plan says.")
@click.option("--permit-date", metavar="YYYY-MM-DD", help="Check as for a permit of this day.")
@click.option("--amendments", multiple=True, type=click.Path(path_type=Path), help="Add the local amendments of a file.")
def check_command(
    plans: Sequence[BinaryIO],
    shape: str,
    outputs: Sequence[str],
    fail_at: str,
    fail_on_undetermined: bool,
    packs: Sequence[str],
    edition: str | None,
    permit_date: str | None,
    amendments: Sequence[Path],
) -> None:
    """Check PLANS (files, or - for standard input) and print the reports."""
    in_force = catalog(packs)
    codes = []
    for source in plans or (sys.stdin.buffer,):
        report = _checked(source, in_force, lambda plan: with_basis(plan, edition, permit_date, amendments))
        if report is None:
            codes.append(UNREADABLE)
            continue
        sys.stdout.buffer.write(WRITERS[shape](report))
        _write(report, outputs)
        codes.append(exit_code(report, Severity(fail_at), fail_on_undetermined=fail_on_undetermined))
    sys.exit(worst(codes))


def _checked(source: BinaryIO, in_force: Catalog, by_law: Callable[[Any], Any]) -> Report | None:
    try:
        value = by_law(read_json(source.read()))
        plan = read_plan_value(value)
        return check(plan, in_force, Options(today=datetime.now(UTC).date().isoformat()), plan_digest(value))
    except NotJson as error:
        click.echo(f"{_name(source)}: not JSON: {error}", err=True)
    except PlanRefused as refused:
        for fault in refused.faults:
            click.echo(f"{_name(source)}: {fault.pointer or '/'}: {fault.detail}", err=True)
    return None


def _name(source: BinaryIO) -> str:
    """The file's name; a stream that stands in for standard input need not have one."""
    return str(getattr(source, "name", "standard input"))


def _write(report: Report, outputs: Sequence[str]) -> None:
    for output in outputs:
        shape, _, path = output.partition("=")
        if shape not in WRITERS or not path:
            raise click.UsageError(f"--output {output}: write it as FORMAT=PATH with {', '.join(WRITERS)}")
        Path(path).write_bytes(WRITERS[shape](report))


def exit_code(report: Report, fail_at: Severity, *, fail_on_undetermined: bool) -> int:
    """The exit code of one report."""
    order = list(Severity)
    if any(coverage.crashed for coverage in report.coverage.rules):
        return BROKEN
    violations = {
        Severity.DANGER: report.summary.danger,
        Severity.CODE: report.summary.code,
        Severity.ADVICE: report.summary.advice,
    }
    if any(number and order.index(severity) <= order.index(fail_at) for severity, number in violations.items()):
        return FOUND
    return OPEN if fail_on_undetermined and (report.summary.undetermined or report.verdict == "incomplete") else CLEAN


def worst(codes: Sequence[int]) -> int:
    """One exit code for several plans: 3 beats 2, 2 beats 1, 1 beats 4."""
    return max(codes, key=(CLEAN, OPEN, FOUND, UNREADABLE, BROKEN).index, default=CLEAN)


@main.command()
@click.argument("rule_id")
@click.option("--edition", type=click.Choice(EDITIONS), help="Only this edition.")
@click.option("--pack", "packs", multiple=True, help="Put an installed rule pack in force.")
def explain(rule_id: str, edition: str | None, packs: Sequence[str]) -> None:
    """Print the page of one rule."""
    in_force = catalog(packs)
    if rule_id not in in_force.rules:
        raise click.UsageError(f"there is no rule {rule_id!r}; did you mean {in_force.nearest_id(rule_id)!r}?")
    click.echo(rule_page(in_force.rules[rule_id], (edition,) if edition else EDITIONS), nl=False)


@main.command("rules")
@click.option("--pack", "packs", multiple=True, help="Put an installed rule pack in force.")
def rules_command(packs: Sequence[str]) -> None:
    """List the rules in force."""
    for rule in catalog(packs).rules.values():
        click.echo(f"{rule.id:32} {rule.severity.value:8} {rule.title}")


@main.command()
@click.option("--format", "shape", type=click.Choice(["markdown", "html"]), default="markdown", show_default=True)
def demo(shape: str) -> None:
    """Start the service, check an example house with faults in it, print the report, stop."""
    from nailplate.cli.demo import HOUSE, show  # only this command needs the service and the client

    show(HOUSE, f"text/{shape}")


@main.command()
@click.option("--host", help="Address to listen on; loopback unless said.")
@click.option("--port", type=int, help="Port to listen on.")
@click.option("--workers", type=int, help="Worker processes; one per core unless said.")
def serve(host: str | None, port: int | None, workers: int | None) -> None:
    """Serve over HTTP with gunicorn until stopped."""
    from nailplate.web import SettingsError, serve_command

    try:
        command = serve_command(host, port, workers)
    except SettingsError as error:
        raise click.UsageError(str(error)) from None
    os.execv(command[0], command)  # noqa: S606 - gunicorn takes this process's place, its signals and its exit code


@main.command()
def schema() -> None:
    """Print the plan's JSON Schema."""
    click.echo(json.dumps(plan_schema(), indent=2, ensure_ascii=False))


@main.command("calculate")
@click.argument("name", type=click.Choice(list(CALCULATIONS)))
@click.argument("request", type=click.File("rb"))
def calculate_command(name: str, request: BinaryIO) -> None:
    """Work out one figure from a REQUEST file, or - for standard input."""
    try:
        sys.stdout.buffer.write(text_of(calculate(name, read_json(request.read()))))
    except NotJson as error:
        click.echo(f"{_name(request)}: not JSON: {error}", err=True)
        sys.exit(UNREADABLE)
    except PlanRefused as refused:
        for fault in refused.faults:
            click.echo(f"{_name(request)}: {fault.pointer or '/'}: {fault.detail}", err=True)
        sys.exit(UNREADABLE)
