"""How much one request may work, counted in steps and never in time: the same plan gets the same answer on every machine.

A step is about what it takes to look at one part once. Walks whose length a plan decides pay for themselves with ``spend``; where
nobody holds a meter (the command line's sheets, a test) paying costs nothing. What the work is at is named with ``doing``, for
whoever has to tell where it was stopped.

Errors: ``WorkSpent``.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Final

BUDGET: Final = 1_000_000
"""Steps that one check may take: four times what the largest body of ordinary houses takes; some ten seconds of work."""


class WorkSpent(BaseException):
    """A check has used up the steps that it was given. No ``except Exception`` of a rule or a summary may go on after it."""

    def __init__(self, limit: int) -> None:
        super().__init__(f"more than {limit} steps")
        self.limit = limit


class Meter:
    """The steps that one check has left."""

    __slots__ = ("left", "limit")

    def __init__(self, limit: int) -> None:
        self.limit = self.left = limit

    @property
    def spent(self) -> int:
        """The steps used so far."""
        return self.limit - self.left

    def spend(self, steps: int) -> None:
        """Pays for ``steps``. Raises WorkSpent."""
        self.left -= steps
        if self.left < 0:
            raise WorkSpent(self.limit)


_METER: ContextVar[Meter | None] = ContextVar("meter", default=None)
_DOING: ContextVar[str] = ContextVar("doing", default="the request")


def doing(what: str) -> None:
    """Names what the work is at from here on: ``rule box-volume``, ``the load summary``."""
    _DOING.set(what)


def at_work_on() -> str:
    """What the work is at, or was when it was stopped."""
    return _DOING.get()


def spend(steps: int) -> None:
    """Pays for ``steps`` of the check that this is done for, if it is done for one. Raises WorkSpent."""
    meter = _METER.get()
    if meter is not None:
        meter.left -= steps
        if meter.left < 0:
            raise WorkSpent(meter.limit)


@contextmanager
def metered(meter: Meter) -> Iterator[Meter]:
    """Has everything within pay to ``meter``."""
    token = _METER.set(meter)
    try:
        yield meter
    finally:
        _METER.reset(token)
