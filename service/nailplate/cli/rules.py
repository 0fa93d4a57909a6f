"""``rules``: the rules in force."""

from collections.abc import Sequence

import click

from nailplate.catalog import catalog
from nailplate.cli.options import packs_option


@click.command("rules")
@packs_option
def command(packs: Sequence[str]) -> None:
    """List the rules in force."""
    for rule in catalog(packs).rules.values():
        click.echo(f"{rule.id:32} {rule.severity.value:8} {rule.title}")
