"""Reading what a command line names: JSON and plans, with every fault told on standard error."""

from collections.abc import Callable
from typing import Any, BinaryIO, TypeVar

import click

from nailplate.plan import PlanRefused
from nailplate.render import inert
from nailplate.wire import NotJson, read_json

Answer = TypeVar("Answer")


def name_of(source: BinaryIO) -> str:
    """The file's name; a stream that stands in for standard input need not have one."""
    return str(getattr(source, "name", "standard input"))


def answered(source: BinaryIO, work: Callable[[Any], Answer]) -> Answer | None:
    """What ``work`` makes of the JSON value in ``source``; None where it cannot be read, with the faults told."""
    try:
        return work(read_json(source.read()))
    except NotJson as error:
        click.echo(inert(f"{name_of(source)}: not JSON: {error}"), err=True)
    except PlanRefused as refused:
        for fault in refused.faults:
            click.echo(inert(f"{name_of(source)}: {fault.pointer or '/'}: {fault.detail}"), err=True)
    return None
