"""Limits on the steps and the time that one request's computation takes, told as a problem before anybody else gives up.

Only one thread of a process computes at a time: the others wait for their turn, and are told to come again later if it does not come.
So are those that come when too many wait: threads stay free for what needs no turn. The clock begins with the turn.
"""

import ctypes
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

from nailplate.calc.work import Meter, WorkSpent, at_work_on, doing, metered
from nailplate.web.held import settings
from nailplate.web.problems import BUSY, TOO_LONG, Problem, work_spent

_TURN = threading.Semaphore(1)
_WAITING: list[None] = []
"""One for each thread of this process that waits for its turn."""


_PAUSES, _PAUSE = 50, 0.001
"""How often and how many seconds a thread waits for what was raised in it and comes at its next step."""


class _TimeIsUp(BaseException):
    """Raised in the computing thread. No rule's own handling of errors may take it for one."""


class _Alarm:
    """Raises in one thread after some seconds, unless it is stopped first."""

    def __init__(self, seconds: float) -> None:
        self._thread = ctypes.c_ulong(threading.get_ident())
        self._lock = threading.Lock()
        self._over = False
        self._rung = False
        self._timer = threading.Timer(seconds, self._ring)
        self._timer.daemon = True

    def start(self) -> None:
        self._timer.start()

    def stop(self, *, came: bool) -> None:
        """After this nothing is raised any more. ``came``: what was raised has come through; else it comes here, at once.

        It is never taken back: Python 3.11 then stops at every call and loop to look for it, until the process ends.
        """
        with self._lock:
            self._over = True
        self._timer.cancel()
        if self._rung and not came:
            for _ in range(_PAUSES):
                time.sleep(_PAUSE)

    def _ring(self) -> None:
        with self._lock:
            if not self._over:
                self._rung = True
                ctypes.pythonapi.PyThreadState_SetAsyncExc(self._thread, ctypes.py_object(_TimeIsUp))


def _turn(seconds: int, most: int | None) -> bool:
    """Whether the turn comes within that time, and no more than ``most`` wait for it."""
    if _TURN.acquire(blocking=False):
        return True
    if most is not None and len(_WAITING) >= most:
        return False
    _WAITING.append(None)
    try:
        return _TURN.acquire(timeout=seconds)
    finally:
        _WAITING.pop()


@contextmanager
def limited(what: str, *, queued: bool = True) -> Iterator[None]:
    """Computes within the limits of the settings: ``what`` is named in the problem where nothing within says more.

    Raises Problem where a limit is reached, where too many wait already, or where no turn comes in that time. What is not ``queued``
    waits whoever else does: a batch that has begun to answer.
    """
    seconds = settings().time_limit
    if not _turn(seconds, most=max(1, settings().threads // 2 - 2) if queued else None):
        raise Problem(BUSY, "Other checks keep this service busy.", headers={"Retry-After": "2"})
    alarm = _Alarm(seconds)
    came = False
    try:
        alarm.start()
        try:
            doing(what)
            with metered(Meter(settings().check_budget)):
                yield
        except _TimeIsUp:
            came = True
            raise
        finally:
            alarm.stop(came=came)
    except WorkSpent as spent:
        raise work_spent(spent.limit) from None
    except _TimeIsUp:
        said = f"This takes longer than the {seconds} seconds that one request is given here; it was at {at_work_on()}."
        raise Problem(TOO_LONG, said) from None
    finally:
        _TURN.release()
