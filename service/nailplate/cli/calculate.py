"""``calculate``: one figure without a plan."""

import sys
from typing import BinaryIO

import click

from nailplate.cli.exits import Exit
from nailplate.cli.reading import answered
from nailplate.wire import CALCULATIONS, calculate, text_of


@click.command("calculate")
@click.argument("name", type=click.Choice(list(CALCULATIONS)))
@click.argument("request", type=click.File("rb"))
def command(name: str, request: BinaryIO) -> int:
    """Work out one figure from a REQUEST file, or - for standard input."""
    answer = answered(request, lambda value: calculate(name, value))
    if answer is None:
        return Exit.USAGE
    sys.stdout.buffer.write(text_of(answer))
    return Exit.CLEAN
