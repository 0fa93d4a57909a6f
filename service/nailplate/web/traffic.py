"""What is the same for every request: its id, its times, the headers of its answer, and one line of log that never holds a plan."""

import json
import logging
import re
import sys
import time
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime

from flask import Flask, Response, g, request

from nailplate import __version__

_REQUEST_ID = re.compile(r"[A-Za-z0-9._-]{1,64}", re.ASCII)
_LOG = logging.getLogger("nailplate.requests")

NOTHING = "default-src 'none'; frame-ancestors 'none'"
PAGE = (
    "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""Our own pages carry their style and need nothing else: no script, no host."""

HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}


def watch(app: Flask) -> None:
    """Puts ids, times, headers and log lines on every request of ``app``."""
    _log_to_stdout()
    app.before_request(_begin)
    app.after_request(_finish)


def _log_to_stdout() -> None:
    if not _LOG.handlers:
        handler = logging.StreamHandler(sys.stdout)
        handler.setFormatter(logging.Formatter("%(message)s"))
        _LOG.addHandler(handler)
        _LOG.setLevel(logging.INFO)
        _LOG.propagate = False


def _begin() -> None:
    g.began = time.perf_counter()
    g.times = {}
    g.noted = {}
    wanted = request.headers.get("X-Request-Id", "")
    g.request_id = wanted if _REQUEST_ID.fullmatch(wanted) else uuid.uuid4().hex


@contextmanager
def timed(what: str) -> Iterator[None]:
    """Times one piece of the work; Server-Timing tells it."""
    began = time.perf_counter()
    try:
        yield
    finally:
        g.times[what] = (time.perf_counter() - began) * 1000


def note(**facts: object) -> None:
    """Adds facts to the request's line of log; never what a plan says."""
    g.noted.update(facts)


def log_further(**facts: object) -> None:
    """One more line for a request whose answer is a stream, when that has ended."""
    _LOG.info(json.dumps({"time": _now(), "id": g.request_id, **facts}))


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="milliseconds")


def _finish(response: Response) -> Response:
    total = (time.perf_counter() - g.began) * 1000
    page = response.mimetype in ("text/html", "image/svg+xml")
    response.headers.setdefault("Content-Security-Policy", PAGE if page else NOTHING)
    for name, value in HEADERS.items():
        response.headers[name] = value
    response.headers["X-Request-Id"] = g.request_id
    response.headers["Server-Timing"] = ", ".join(
        f"{what};dur={spent:.1f}" for what, spent in {**g.times, "total": total}.items()
    )
    response.headers.setdefault("Cache-Control", "no-store")
    response.vary.update(("Accept", "Authorization"))
    _log(response, total)
    return response


def _log(response: Response, milliseconds: float) -> None:
    rule = request.url_rule
    line = {
        "time": _now(),
        "id": g.request_id,
        "method": request.method[:16],
        "route": rule.rule if rule else None,
        "status": response.status_code,
        "bytes_in": request.content_length,
        "bytes_out": None if response.is_streamed else response.calculate_content_length(),
        "milliseconds": round(milliseconds, 1),
        "version": __version__,
        **g.noted,
    }
    _LOG.info(json.dumps(line))
