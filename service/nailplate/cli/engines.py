"""Where the cases of a batch are worked out: in processes of this machine, or over the machines of a dask cluster.

The records are the same bytes in the same order whichever it is. Errors: ``UsageError`` for an engine there is not, ``Failure`` for a
cluster that does not answer.
"""

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing
from itertools import islice
from typing import Any

import click

from nailplate.batch import Case, failed_record
from nailplate.cli.exits import Failure
from nailplate.cli.working import cores, in_order

Piece = Case | str
"""A case, or a record that is ready because its item makes none."""
Work = Callable[[Piece], str]

_PATIENCE = 15
"""Seconds in which a cluster has to answer."""
_IN_FLIGHT = 4
_RETRIES = 3


def lost(piece: Piece) -> str:
    """The record of a case whose process died twice."""
    return piece if isinstance(piece, str) else failed_record(piece)


def worked(work: Work, pieces: Iterable[Piece], engine: str, jobs: int) -> Iterator[str]:
    """The records, in the order of the pieces."""
    kind, _, address = engine.partition("=")
    if kind == "local" and not address:
        return in_order(work, pieces, jobs or cores(), lost)
    if kind == "dask" and address:
        return _over_dask(work, pieces, address)
    raise click.UsageError(f"--engine {engine}: write local, or dask=ADDRESS of a scheduler")


def _over_dask(work: Work, pieces: Iterable[Piece], address: str) -> Iterator[str]:
    try:
        from distributed import Client, KilledWorker  # an extra: only a catalogue past one machine needs it
    except ImportError:
        raise click.UsageError("--engine dask needs the extra: pip install 'nailplate[cluster]'") from None
    try:
        client = Client(address, timeout=_PATIENCE, set_as_default=False)  # type: ignore[no-untyped-call]
    except (OSError, ValueError) as error:
        raise Failure(f"the scheduler at {address} does not answer: {error}") from None
    return _in_order(client, work, pieces, KilledWorker)


def _in_order(client: Any, work: Work, pieces: Iterable[Piece], killed: type[Exception]) -> Iterator[str]:
    """A case whose worker dies is done again elsewhere by the scheduler, a few times; the width follows the workers there are."""
    with closing(client):
        waiting: deque[tuple[Piece, Any]] = deque()
        rest = iter(pieces)
        while True:
            width = max(1, sum(client.ncores().values())) * _IN_FLIGHT
            for piece in islice(rest, max(0, width - len(waiting))):
                waiting.append((piece, client.submit(work, piece, pure=False, retries=_RETRIES)))
            if not waiting:
                return
            piece, future = waiting.popleft()
            try:
                yield future.result()
            except killed:
                yield lost(piece)
