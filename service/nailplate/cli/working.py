"""Many pieces of work over several processes: results in the order of the work, a bounded number in flight, none lost.

A piece whose process dies is done once more alone; if that process dies too, ``lost`` makes its result.
"""

import multiprocessing
import os
import signal
import sys
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from itertools import islice
from typing import TypeVar

from nailplate import collector

Piece = TypeVar("Piece")
Result = TypeVar("Result")

_IN_FLIGHT = 4
"""Pieces a process has waiting for it at most, so that memory stays flat whatever comes."""


def cores() -> int:
    """The cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def in_order(
    work: Callable[[Piece], Result], pieces: Iterable[Piece], jobs: int, lost: Callable[[Piece], Result]
) -> Iterator[Result]:
    """What ``work`` makes of each piece, in their order; with one job it is done here."""
    if jobs <= 1:
        return map(work, pieces)
    pool = _pool(jobs)
    pool.submit(_nothing).result()  # the processes start here, before a caller's progress display has a thread
    return _over(pool, work, pieces, jobs, lost)


def _over(
    pool: ProcessPoolExecutor,
    work: Callable[[Piece], Result],
    pieces: Iterable[Piece],
    jobs: int,
    lost: Callable[[Piece], Result],
) -> Iterator[Result]:
    waiting: deque[tuple[Piece, Future[Result]]] = deque()
    rest = iter(pieces)
    try:
        while True:
            for piece in islice(rest, jobs * _IN_FLIGHT - len(waiting)):
                waiting.append((piece, pool.submit(work, piece)))
            if not waiting:
                return
            piece, future = waiting.popleft()
            try:
                yield future.result()
            except BrokenProcessPool:
                again = [piece, *(each for each, _ in waiting)]
                waiting.clear()
                yield from (_alone(work, each, lost) for each in again)
                pool = _pool(jobs)
    finally:
        pool.shutdown(wait=False, cancel_futures=True)


def _pool(jobs: int) -> ProcessPoolExecutor:
    method = "fork" if sys.platform == "linux" else "spawn"
    return ProcessPoolExecutor(jobs, mp_context=multiprocessing.get_context(method), initializer=_quiet)


def _nothing() -> None:
    """Lets the processes start."""


def _quiet() -> None:
    """The keyboard interrupts the process that gave out the work; it ends the others. What they share stays shared."""
    collector.keep_for_good()
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _alone(work: Callable[[Piece], Result], piece: Piece, lost: Callable[[Piece], Result]) -> Result:
    with _pool(1) as pool:
        try:
            return pool.submit(work, piece).result()
        except BrokenProcessPool:
            return lost(piece)
