"""``explain``: one rule's page."""

from collections.abc import Sequence

import click

from nailplate.catalog import catalog
from nailplate.cli.options import packs_option
from nailplate.codes import EDITIONS
from nailplate.render import rule_page
from nailplate.wire import read_plan_value


@click.command("explain")
@click.argument("rule_id")
@click.option("--edition", type=click.Choice(EDITIONS), help="Only this edition.")
@packs_option
def command(rule_id: str, edition: str | None, packs: Sequence[str]) -> None:
    """Print the page of one rule."""
    in_force = catalog(packs)
    if rule_id not in in_force.rules:
        raise click.UsageError(f"there is no rule {rule_id!r}; did you mean {in_force.nearest_id(rule_id)!r}?")
    click.echo(rule_page(in_force.rules[rule_id], (edition,) if edition else EDITIONS, in_force, read_plan_value), nl=False)
