"""``resolve``: a plan with everything worked out that follows from it."""

import sys
from typing import BinaryIO

import click

from nailplate.cli.exits import Exit
from nailplate.cli.reading import answered
from nailplate.wire import resolved, text_of


@click.command("resolve")
@click.argument("plan", type=click.File("rb"), default="-")
def command(plan: BinaryIO) -> int:
    """Print PLAN (a file, or - for standard input) with its defaults in its parts, and all that follows from it.

    Routes, lengths, what boxes hold, what conductors carry and the load of each leg stand under `derived`, by pointer.
    """
    value = answered(plan, resolved)
    if value is None:
        return Exit.USAGE
    sys.stdout.buffer.write(text_of(value))
    return Exit.CLEAN
