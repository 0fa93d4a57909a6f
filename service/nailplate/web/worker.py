"""The gunicorn worker: threads, so that idle connections cost nothing; patience with a connection that ends; errors as problems.

gunicorn itself answers what it cannot parse with HTML, waits for a silent sender as long as it likes, and takes a body that was cut
off as it comes. Here every such answer is a problem document, and a sender has to keep up a least rate. A silent connection waits
outside the threads, and of slow ones no more than half of the threads wait: beyond that the one that takes longest is let go.
"""

import json
import logging
import select
import socket
import threading
import time
import uuid
from collections.abc import Callable
from concurrent.futures import Future
from contextlib import suppress
from typing import Any

from gunicorn.http import errors
from gunicorn.util import write_nonblock
from gunicorn.workers import gthread

from nailplate.web.problems import (
    BAD_REQUEST,
    EXPECTATION_FAILED,
    HEADERS_TOO_LARGE,
    INTERNAL,
    MEDIA_TYPE,
    NOT_IMPLEMENTED,
    REQUEST_TIMEOUT,
    URI_TOO_LONG,
    Problem,
)
from nailplate.web.slowness import TooSlow
from nailplate.web.traffic import HEADERS, NOTHING

SILENCE = 10.0
"""Seconds without a byte after which a request is given up."""
WHOLE = 20.0
"""Seconds in which a request has to be there, beside those that its size takes at the least rate."""
LEAST_RATE = 20_000
"""Bytes a second that a sender keeps up at least."""
GRACE = 0.3
"""Seconds for which no sender is let go for others' sake: most requests are there by then."""
LOOK = 0.2
"""Seconds after which those that are being waited for are looked at again."""

_LOG = logging.getLogger("nailplate.requests")


class PatientConnection(gthread.TConn):  # type: ignore[misc]
    """A connection whose sender is waited for, but not for ever."""

    def init(self) -> None:
        """Prepares for one request; called before each."""
        first = not self.initialized
        super().init()
        self.began = time.monotonic()
        self.until = self.began + WHOLE
        if first and self.parser is not None and hasattr(self.parser, "unreader"):
            self.parser.unreader.chunk = self._patient(self.parser.unreader.chunk)

    def _patient(self, read: Callable[..., bytes]) -> Callable[..., bytes]:
        def chunk(size_hint: int | None = None) -> bytes:
            left = self.until - time.monotonic()
            if left <= 0:
                raise TooSlow
            self.sock.settimeout(min(SILENCE, left))
            _AWAITED[self] = None
            try:
                data = read(size_hint)
            except TimeoutError:
                raise TooSlow from None
            finally:
                del _AWAITED[self]
                self.sock.settimeout(None)
            if not data and self.until == LET_GO:
                raise TooSlow
            self.until += len(data) / LEAST_RATE
            return data

        return chunk

    def close(self, graceful: bool = False) -> None:
        """Closes; a graceful end waits for the peer's, which must hold up no other connection, so a thread of its own waits."""
        if graceful and _LINGERING.acquire(blocking=False):
            threading.Thread(target=self._linger, daemon=True).start()
        else:
            super().close()

    def _linger(self) -> None:
        try:
            super().close(graceful=True)
        finally:
            _LINGERING.release()

    def let_go(self) -> None:
        """Waits no longer: the thread that reads is woken."""
        self.until = LET_GO
        with suppress(OSError):
            self.sock.shutdown(socket.SHUT_RD)


LET_GO = 0.0
_LINGERING = threading.BoundedSemaphore(64)
"""As many ends are waited for at a time; others are cut."""
_AWAITED: dict[PatientConnection, None] = {}
"""The connections of this process whose bytes a thread waits for."""


class Worker(gthread.ThreadWorker):  # type: ignore[misc]
    """A threaded worker with such connections, that answers what it cannot parse with a problem."""

    def enqueue_req(self, conn: Any) -> None:
        """Hands a connection to a thread, or leaves it to the poller where it has sent nothing yet."""
        if type(conn) is gthread.TConn:
            conn.__class__ = PatientConnection
        if self._is_silent(conn):
            super().finish_request(conn, _DEFERRED)
            return
        super().enqueue_req(conn)

    def _is_silent(self, conn: Any) -> bool:
        """Whether nothing has come on a new connection; releases of gunicorn that don't wait in a thread are left alone."""
        if conn.initialized or getattr(conn, "data_ready", True) or not hasattr(gthread, "_DEFER"):
            return False
        return not select.select([conn.sock], [], [], 0)[0]

    def wait_for_and_dispatch_events(self, timeout: float) -> None:
        """Does what has come in, and sees to it that slow senders leave threads for others."""
        super().wait_for_and_dispatch_events(min(timeout, LOOK) if _AWAITED else timeout)
        late = time.monotonic() - GRACE
        slow = sorted(
            (each for each in list(_AWAITED) if each.until != LET_GO and each.began < late), key=lambda each: each.began
        )
        for each in slow[: max(0, len(slow) - self.cfg.threads // 2)]:
            each.let_go()

    def handle_error(self, req: Any, client: Any, addr: Any, exc: BaseException) -> None:
        """Answers with a problem; the log names the kind of error and nothing that the sender wrote."""
        problem = problem_of(exc)
        request_id = uuid.uuid4().hex
        line = {"id": request_id, "status": int(problem.type.status), "refused": type(exc).__name__}
        _LOG.info(json.dumps(line))
        if problem.type is INTERNAL:
            self.log.error("request %s failed outside the application: %s", request_id, type(exc).__name__)
        try:
            write_nonblock(client, _response(problem, request_id))
        except Exception:  # noqa: BLE001 - whoever was there has gone; nobody is left to be told
            self.log.debug("no one was there to be answered")


_DEFERRED: Future[object] = Future()
_DEFERRED.set_result(getattr(gthread, "_DEFER", False))
"""As gunicorn's own thread answers for a connection that stays silent."""


_KINDS: tuple[tuple[type[Exception], Problem], ...] = (
    (TooSlow, Problem(REQUEST_TIMEOUT, "The request did not arrive in time.")),
    (errors.LimitRequestLine, Problem(URI_TOO_LONG, "The request line is longer than is taken here.")),
    (errors.LimitRequestHeaders, Problem(HEADERS_TOO_LARGE, "The head of the request is larger than is taken here.")),
    (errors.ExpectationFailed, Problem(EXPECTATION_FAILED, "Only Expect: 100-continue is met here.")),
    (errors.UnsupportedTransferCoding, Problem(NOT_IMPLEMENTED, "Of transfer codings, only chunked is taken.")),
    (errors.ConfigurationProblem, Problem(INTERNAL, "Something is wrong in how the service is set up.")),
    (errors.ParseException, Problem(BAD_REQUEST, "The head of the request, or how its body is framed, is not sound HTTP.")),
)


def problem_of(error: BaseException) -> Problem:
    """The problem that an error of the connection is."""
    return next((problem for kind, problem in _KINDS if isinstance(error, kind)), _UNFORESEEN)


_UNFORESEEN = Problem(INTERNAL, "Something went wrong in the service; the request id tells its operator where to look.")


def _response(problem: Problem, request_id: str) -> bytes:
    body = (json.dumps(problem.value(request_id), indent=2) + "\n").encode()
    status = problem.type.status
    head = {
        "Connection": "close",
        "Content-Type": MEDIA_TYPE,
        "Content-Length": str(len(body)),
        "Cache-Control": "no-store",
        "Content-Security-Policy": NOTHING,
        "X-Request-Id": request_id,
        **HEADERS,
    }
    lines = [f"HTTP/1.1 {int(status)} {status.phrase}", *(f"{name}: {value}" for name, value in head.items())]
    return ("\r\n".join(lines) + "\r\n\r\n").encode("ascii") + body
