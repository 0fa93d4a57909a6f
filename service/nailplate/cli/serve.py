"""``serve``: gunicorn takes this process's place."""

import os

import click


@click.command("serve")
@click.option("--host", help="Address to listen on; loopback unless said.")
@click.option("--port", type=int, help="Port to listen on.")
@click.option("--workers", type=int, help="Worker processes; one per core unless said.")
def command(host: str | None, port: int | None, workers: int | None) -> None:
    """Serve over HTTP with gunicorn until stopped."""
    from nailplate.web import SettingsError, serve_command  # `serve --help` needs no service

    try:
        program = serve_command(host, port, workers)
    except SettingsError as error:
        raise click.UsageError(str(error)) from None
    os.execv(program[0], program)  # noqa: S606 - gunicorn takes this process's place, its signals and its exit code
