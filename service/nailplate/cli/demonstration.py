"""The demonstration: the real service on a free loopback port, an example house sent to it, the report printed, a clean stop."""

import json
import os
import socket
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import files
from typing import Any

import click
import jsonpatch

from nailplate.cli.exits import Failure
from nailplate.client import Client, ClientError
from nailplate.web import serve_command

HOUSE = "tamarack-wren"
PATIENCE = 30.0
"""Seconds that the service may take to start."""


def example(name: str) -> Any:
    """An example house, or its planted faults."""
    return json.loads(files("nailplate").joinpath("examples", f"{name}.json").read_text(encoding="utf-8"))


def faulty(name: str) -> Any:
    """An example house with its planted faults in it."""
    house = example(name)
    for fault in example(f"{name}.faults")["faults"]:
        house = jsonpatch.apply_patch(house, fault["patch"])
    return house


def show(name: str, media: str) -> None:
    """Starts the service, checks the house as drawn and with its faults, prints what people read, and stops the service."""
    with _service() as base:
        client = Client(base)
        sound = client.check(example(name))
        click.echo(f"{sound['plan']['name']}, as drawn: {sound['verdict']}, {len(sound['findings'])} findings", err=True)
        click.echo(client.check_page(faulty(name), media), nl=False)


@contextmanager
def _service() -> Iterator[str]:
    port = _free_port()
    command = serve_command("127.0.0.1", port, workers=1)
    with tempfile.TemporaryFile() as log:
        process = subprocess.Popen(command, stdout=log, stderr=log, env=os.environ)  # noqa: S603 - our own command line
        try:
            base = f"http://127.0.0.1:{port}"
            _wait(base, process)
            yield base
        finally:
            process.terminate()
            process.wait(timeout=PATIENCE)
            click.echo(f"service stopped with exit code {process.returncode}", err=True)


def _wait(base: str, process: "subprocess.Popen[bytes]") -> None:
    client = Client(base, tries=1, timeout=2.0)
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        if process.poll() is not None:
            raise Failure(f"the service ended with exit code {process.returncode} before it answered")
        try:
            client.version()
        except ClientError:
            time.sleep(0.1)
        else:
            click.echo(f"service ready at {base}", err=True)
            return
    raise Failure(f"the service did not answer within {PATIENCE:g} seconds")


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port
