"""``draw``: a plan's drawings into a folder, a sheet for each level and for each wall that something is on."""

import re
from collections.abc import Iterator
from itertools import chain, count
from pathlib import Path
from typing import Any, BinaryIO

import click

from nailplate.cli.exits import Exit, Failure
from nailplate.cli.judging import in_force
from nailplate.cli.options import packs_option, today
from nailplate.cli.reading import answered
from nailplate.plan import Plan
from nailplate.render.inert import inert
from nailplate.render.marking import marked
from nailplate.render.stamping import stamp_of
from nailplate.review import Options, Report, check
from nailplate.sheets.drawing import PAPERS, Findings, levels_drawn, walls_with_boxes
from nailplate.sheets.drawing.ordered import PDF, SVG, written
from nailplate.sheets.orders import ExtraMissing, Order
from nailplate.survey import Survey
from nailplate.wire import plan_digest, read_plan_value

_MEDIA = {"svg": SVG, "pdf": PDF}


@click.command("draw")
@click.argument("plan", type=click.File("rb"))
@click.option("--out", required=True, type=click.Path(file_okay=False, path_type=Path), help="The folder for the sheets.")
@click.option("--paper", type=click.Choice(list(PAPERS)), default="letter", show_default=True)
@click.option("--format", "form", type=click.Choice(list(_MEDIA)), default="svg", show_default=True)
@click.option("--findings/--no-findings", default=True, show_default=True, help="Mark what a check finds.")
@click.option("--force", is_flag=True, help="Write over sheets that are there already.")
@packs_option
def command(plan: BinaryIO, out: Path, paper: str, form: str, findings: bool, force: bool, packs: tuple[str, ...]) -> int:
    """Draw PLAN, a file or - for standard input: each level, and each wall that boxes or panels are on."""
    read = answered(plan, lambda value: _checked(value, packs))
    if read is None:
        return Exit.USAGE
    drawn, report = read
    shown = marked(report.findings) if findings else Findings()
    survey, stamp = Survey(drawn), stamp_of(report)
    for name, asked in _orders(survey):
        order = Order(survey, stamp, _MEDIA[form], {**asked, "paper": paper}, shown)
        _write(out / f"{name}.{form}", order, force=force)
    return Exit.CLEAN


def _checked(value: Any, packs: tuple[str, ...]) -> tuple[Plan, Report]:
    plan = read_plan_value(value)
    options = Options(today=today())
    return plan, check(plan, in_force(packs), options, plan_digest(value))


def _orders(survey: Survey) -> Iterator[tuple[str, dict[str, str]]]:
    """The name of each sheet's file, and what to order; two ids that make one name each get a file."""
    taken: set[str] = set()
    levels = [each.id for each in levels_drawn(survey)]
    walls = [each.id for each in walls_with_boxes(survey)]
    for kind, ids in (("level", levels), ("wall", walls)):
        for id_ in ids:
            name = f"{kind}-{re.sub(r'[^A-Za-z0-9._-]+', '-', id_).strip('-.') or 'unnamed'}"
            free = next(each for each in chain((name,), (f"{name}-{n}" for n in count(2))) if each.lower() not in taken)
            taken.add(free.lower())
            yield free, {kind: id_}


def _write(path: Path, order: Order, *, force: bool) -> None:
    """Writes one sheet. Raises UsageError where it is there already, Failure where its form's package is missing."""
    try:
        content = written(order)
    except ExtraMissing as missing:
        raise Failure(str(missing)) from None
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        with path.open("wb" if force else "xb") as file:
            file.write(content)
    except FileExistsError:
        raise click.UsageError(f"{path} is there already; --force writes over it") from None
    click.echo(inert(str(path)))
