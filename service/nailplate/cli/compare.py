"""``compare``: what a change of a plan, or of the edition, changes."""

import sys
from datetime import UTC, datetime
from typing import Any, BinaryIO

import click

from nailplate.catalog import catalog
from nailplate.cli.basis import with_basis
from nailplate.cli.exits import Exit
from nailplate.cli.options import packs_option
from nailplate.cli.reading import answered
from nailplate.codes import EDITIONS
from nailplate.plan import Plan
from nailplate.render import comparison_page
from nailplate.review import Options
from nailplate.review.comparing import compared
from nailplate.wire import comparison_json, plan_digest, read_plan_value


@click.command("compare")
@click.argument("old", type=click.File("rb"))
@click.argument("new", type=click.File("rb"), required=False)
@click.option("--edition-of-second", "edition", type=click.Choice(EDITIONS), help="Check the second by this NEC edition.")
@click.option("--format", "form", type=click.Choice(["markdown", "json"]), default="markdown", show_default=True)
@packs_option
def command(old: BinaryIO, new: BinaryIO | None, edition: str | None, form: str, packs: tuple[str, ...]) -> int:
    """Print what changes from the plan OLD to the plan NEW, or from OLD to itself by another edition.

    Ends with 1 where a new violation is found.
    """
    if new is None and edition is None:
        raise click.UsageError("name a second plan, or an edition with --edition-of-second")
    first = answered(old, lambda value: (value, read_plan_value(value)))
    if first is None:
        return Exit.USAGE
    second = _second(first[0], edition) if new is None else answered(new, lambda value: _second(value, edition))
    if second is None:
        return Exit.USAGE
    options = Options(today=datetime.now(UTC).date().isoformat())
    digests = (plan_digest(first[0]), plan_digest(second[0]))
    comparison = compared(first[1], second[1], catalog(packs), options, digests)
    text = comparison_json(comparison) if form == "json" else comparison_page(comparison).encode()
    sys.stdout.buffer.write(text)
    return Exit.FOUND if any(each.outcome == "violation" for each in comparison.added) else Exit.CLEAN


def _second(value: Any, edition: str | None) -> tuple[Any, Plan]:
    by_edition = with_basis(value, edition, None, ())
    return by_edition, read_plan_value(by_edition)
