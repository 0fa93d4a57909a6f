"""``healthy``: whether the service on this machine answers; what a container's health check runs."""

import os
from http.client import HTTPConnection, HTTPException

import click

from nailplate.cli.exits import Failure

_PATIENCE = 2.0


@click.command("healthy")
@click.option("--port", type=int, help="Port of the service; NAILPLATE_PORT or 8080 unless said.")
@click.option("--ready", is_flag=True, help="Ask whether it can judge, not only whether it answers.")
def command(port: int | None, ready: bool) -> None:
    """Ask the service on this machine whether it is well. Exit 0 if it is, 3 if not."""
    stated = os.environ.get("NAILPLATE_PORT", "")
    chosen = port if port is not None else int(stated) if stated.isascii() and stated.isdigit() else 8080
    connection = HTTPConnection("127.0.0.1", chosen, timeout=_PATIENCE)
    try:
        connection.request("GET", "/readyz" if ready else "/healthz")
        status = connection.getresponse().status
    except (OSError, HTTPException) as error:
        raise Failure(f"the service on port {chosen} does not answer: {error}") from None
    finally:
        connection.close()
    if status != 200:
        raise Failure(f"the service on port {chosen} answered {status}")
