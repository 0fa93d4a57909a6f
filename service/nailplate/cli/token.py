"""``token``: a new bearer token, and the line by which the service knows it."""

import hashlib
import re
import secrets

import click

_NAME = re.compile(r"[A-Za-z0-9._-]{1,64}", re.ASCII)


@click.command("token")
@click.argument("name")
def command(name: str) -> None:
    """Make a token for NAME: the token goes to standard error, once; the line for the file of tokens to standard output.

    Append the line to the file that NAILPLATE_TOKENS names, and start the service anew. Only the token's SHA-256 is kept.
    """
    if not _NAME.fullmatch(name):
        raise click.UsageError("NAME is letters, digits and ._- , at most 64")
    token = secrets.token_urlsafe(32)
    click.echo(f"token of {name}: {token}", err=True)
    click.echo(f"{name} {hashlib.sha256(token.encode()).hexdigest()}")
