"""``schema``: the plan's JSON Schema."""

import json

import click

from nailplate.wire import plan_schema


@click.command("schema")
def command() -> None:
    """Print the plan's JSON Schema."""
    click.echo(json.dumps(plan_schema(), indent=2, ensure_ascii=False))
