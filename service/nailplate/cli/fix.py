"""``fix``: tries the patches of findings, shows what they clear and introduce, and writes the plan if asked."""

import difflib
import json
import os
import re
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import click

from nailplate.cli.exits import Exit
from nailplate.cli.judging import Settings, in_force, report_of
from nailplate.cli.options import SEVERITIES, json_file, packs_option, today
from nailplate.fixing import Fix, Preview, first_fix, preview
from nailplate.plan import PlanRefused
from nailplate.render import inert
from nailplate.review import Report
from nailplate.wire import NotJson, read_json


@click.command("fix")
@click.argument("plan", type=click.Path(path_type=Path))
@click.option("--finding", "findings", multiple=True, metavar="FINGERPRINT", help="Fix this finding.")
@click.option("--rule", "rules", multiple=True, help="Fix the violations of this rule.")
@click.option("--severity", "severities", multiple=True, type=click.Choice(SEVERITIES), help="Fix violations of this severity.")
@click.option("--from", "earlier", type=click.Path(path_type=Path), help="Take the patches of this earlier report.")
@click.option("--write", is_flag=True, help="Write the plan; without it nothing is changed.")
@click.option("--diff/--no-diff", default=True, show_default=True, help="Show the lines that change.")
@packs_option
def command(
    plan: Path,
    findings: Sequence[str],
    rules: Sequence[str],
    severities: Sequence[str],
    earlier: Path | None,
    write: bool,
    diff: bool,
    packs: tuple[str, ...],
) -> int:
    """Try the first patch of each violation in PLAN, or of those named, and show what comes of it.

    A patch that the plan has outgrown refuses by its tests; one that conflicts with another is left out and named. Look at what
    is introduced before you write. A patch changes the drawing; the house is for a qualified person to change.
    """
    text, value = _read(plan)
    settings = Settings(today=today(), packs=packs)
    unknown = [rule for rule in rules if rule not in in_force(packs).rules]
    if unknown:
        raise click.UsageError(f"there is no rule {unknown[0]!r}; did you mean {in_force(packs).nearest_id(unknown[0])!r}?")

    def check(document: Any) -> Report:
        return report_of(document, settings, str(plan))

    try:
        before = check(value)
        fixes = list(_earlier(json_file("--from", earlier)) if earlier else _fixes(before, findings, rules, severities))
        made = preview(value, fixes, check, before)
    except PlanRefused as refused:
        for fault in refused.faults:
            click.echo(inert(f"{plan}: {fault.pointer or '/'}: {fault.detail}"), err=True)
        return Exit.USAGE
    for line in _told(made):
        click.echo(inert(line))
    changed = _written(text, made.plan)
    if diff and made.applied:
        click.echo("")
        for line in difflib.unified_diff(
            text.splitlines(), changed.splitlines(), str(plan), f"{plan} (fixed)", lineterm="", n=2
        ):
            click.echo(inert(line))
    if write and made.applied:
        _write(plan, changed)
        click.echo(inert(f"wrote {plan}"), err=True)
    return Exit.FOUND if made.conflicts or made.introduced or made.still_open else Exit.CLEAN


def _read(plan: Path) -> tuple[str, Any]:
    try:
        source = plan.read_bytes()
        return source.decode("utf-8"), read_json(source)
    except (OSError, UnicodeDecodeError, NotJson) as error:
        raise click.UsageError(f"{plan}: {error}") from None


def _fixes(report: Report, findings: Sequence[str], rules: Sequence[str], severities: Sequence[str]) -> Iterator[Fix]:
    there = {each.fingerprint for each in report.findings}
    for fingerprint in findings:
        if fingerprint not in there:
            raise click.UsageError(f"the plan has no finding {fingerprint!r}")
    for finding in report.findings:
        named = finding.fingerprint in findings or finding.rule in rules or finding.severity.value in severities
        everything = not (findings or rules or severities) and finding.outcome == "violation"
        fix = first_fix(finding) if named or everything else None
        if fix:
            yield fix


def _earlier(report: Any) -> Iterator[Fix]:
    """The first patch of each finding of a report in JSON."""
    findings = report.get("findings")
    if not isinstance(findings, list):
        raise click.UsageError("--from: a report with findings was wanted")
    for finding in findings:
        remedies = [each for each in finding.get("remedies", []) if each.get("patch")] if isinstance(finding, dict) else []
        if remedies:
            yield Fix(tuple(remedies[0]["patch"]), f"{finding.get('rule')}: {remedies[0].get('words', '')}")


def _told(made: Preview) -> Iterator[str]:
    for fix in made.applied:
        where = f"{fix.finding.rule} {fix.finding.where.pointer}: " if fix.finding else ""
        yield f"fix {where}{fix.words}"
    for conflict in made.conflicts:
        where = (
            f"{conflict.fix.finding.rule} {conflict.fix.finding.where.pointer}: "
            if conflict.fix.finding
            else conflict.fix.words
        )
        yield f"left out {where}: {conflict.why}".replace(": :", ":")
    if not made.applied and not made.conflicts:
        yield "no finding here has a patch"
    for finding in made.introduced:
        yield f"introduces {finding.severity.value} {finding.outcome} {finding.rule} {finding.where.pointer}: {finding.message}"
    for fix in made.still_open:
        if fix.finding:
            yield f"does not clear {fix.finding.rule} {fix.finding.where.pointer}"
    yield f"{len(made.applied)} applied, {len(made.cleared)} cleared, {len(made.introduced)} introduced, {len(made.conflicts)} left out"


def _written(text: str, value: Any) -> str:
    """The plan as text, indented as it was."""
    indent = re.search(r"\n([ \t]+)\"", text)
    step = indent.group(1) if indent else None
    return json.dumps(value, ensure_ascii=False, indent=step) + ("\n" if text.endswith("\n") else "")


def _write(plan: Path, text: str) -> None:
    """Whole or not at all."""
    with tempfile.NamedTemporaryFile("w", dir=plan.parent, delete=False, encoding="utf-8", newline="") as file:
        file.write(text)
    Path(file.name).chmod(plan.stat().st_mode & 0o777)
    os.replace(file.name, plan)
