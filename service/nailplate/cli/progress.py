"""Progress on standard error, on a terminal only: with rich where it is installed, else a plain counter."""

import sys
from collections.abc import Iterable, Iterator
from typing import TypeVar

Item = TypeVar("Item")


def shown(items: Iterable[Item], total: int, *, quiet: bool) -> Iterator[Item]:
    """The items as they come, counted on the terminal where there are several and somebody looks."""
    if quiet or total < 2 or not sys.stderr.isatty():
        yield from items
        return
    try:
        from rich.console import Console
        from rich.progress import track
    except ImportError:
        yield from _plain(items, total)
        return
    yield from track(items, description="checking", total=total, console=Console(stderr=True), transient=True)


def counted(items: Iterable[Item], *, quiet: bool) -> Iterator[Item]:
    """The same for items of which nobody knows how many come."""
    if quiet or not sys.stderr.isatty():
        yield from items
        return
    for number, item in enumerate(items, 1):
        sys.stderr.write(f"\rrecord {number}")
        sys.stderr.flush()
        yield item
    sys.stderr.write("\r" + " " * 40 + "\r")


def _plain(items: Iterable[Item], total: int) -> Iterator[Item]:
    for number, item in enumerate(items, 1):
        sys.stderr.write(f"\rchecking {number} of {total}")
        sys.stderr.flush()
        yield item
    sys.stderr.write("\r" + " " * 40 + "\r")
