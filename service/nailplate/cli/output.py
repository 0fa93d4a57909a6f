"""The forms that a report is written in, and the outputs that a command line names."""

from collections.abc import Callable
from pathlib import Path

import click

from nailplate.render import html, markdown
from nailplate.review import Report
from nailplate.wire import report_json

Writer = Callable[[Report], bytes]


def _markdown(report: Report) -> bytes:
    return markdown(report).encode()


def _html(report: Report) -> bytes:
    return html(report).encode()


WRITERS: dict[str, Writer] = {"json": report_json, "markdown": _markdown, "html": _html}
"""Name of each form to what writes it."""


def write(report: Report, outputs: tuple[str, ...]) -> None:
    """Writes the report to every ``FORMAT=PATH``."""
    for output in outputs:
        shape, _, path = output.partition("=")
        if shape not in WRITERS or not path:
            raise click.UsageError(f"--output {output}: write it as FORMAT=PATH with {', '.join(WRITERS)}")
        Path(path).write_bytes(WRITERS[shape](report))
