"""Bodies in: their kind and size are checked before anything reads them."""

from typing import IO, Any

from flask import current_app, request
from gunicorn.http.errors import ParseException

from nailplate.web.problems import BAD_REQUEST, BODY_TOO_LARGE, UNSUPPORTED_MEDIA, Problem
from nailplate.web.settings import Settings
from nailplate.web.traffic import note, timed
from nailplate.wire import read_json

ACCEPTED = "application/json"
_PIECE = 65_536
_THROWN_AWAY = 32_000_000
"""Bytes of a body that is too large that are read all the same, so that its sender gets to see the answer."""


def settings() -> Settings:
    """The settings in force."""
    held: Settings = current_app.extensions["nailplate.settings"]
    return held


def json_body() -> Any:
    """The JSON value of the body. Raises Problem and NotJson."""
    _check_kind()
    with timed("read"):
        return read_json(_bytes(settings().max_body))


def _check_kind() -> None:
    coding = request.headers.get("Content-Encoding", "identity").strip().lower()
    if coding != "identity":
        headers = {"Accept-Encoding": "identity"}
        raise _refused(
            Problem(UNSUPPORTED_MEDIA, f"The body is encoded as {coding[:40]!r}; send it as it is.", headers=headers)
        )
    kind = request.mimetype
    if kind != ACCEPTED and not (kind.startswith("application/") and kind.endswith("+json")):
        said = f"The body is {kind[:80]!r}" if kind else "The request does not say what its body is"
        raise _refused(Problem(UNSUPPORTED_MEDIA, f"{said}; {ACCEPTED} was wanted.", headers={"Accept-Post": ACCEPTED}))
    charset = request.mimetype_params.get("charset", "utf-8").lower()
    if charset not in ("utf-8", "utf8"):
        raise _refused(Problem(UNSUPPORTED_MEDIA, f"The text is in {charset[:40]!r}; UTF-8 was wanted."))


def _refused(problem: Problem) -> Problem:
    _throw_away(request.stream)
    return problem


def _bytes(most: int) -> bytes:
    """The body, whether its length was declared or it comes in chunks."""
    declared = request.content_length
    body = _read(request.stream, most + 1) if declared is None or declared <= most else None
    if body is None or len(body) > most:
        _throw_away(request.stream)
        raise Problem(BODY_TOO_LARGE, f"The body is larger than the {most} bytes that are taken here.")
    note(bytes_read=len(body))
    return body


def _throw_away(stream: IO[bytes]) -> None:
    left = _THROWN_AWAY
    while left > 0 and (piece := _read(stream, _PIECE)):
        left -= len(piece)


def _read(stream: IO[bytes], size: int) -> bytes:
    """Reads from a connection, whose chunks may be none or end too soon. Raises Problem."""
    try:
        return stream.read(size)
    except (OSError, ParseException):
        raise Problem(BAD_REQUEST, "The body does not arrive as its head says.") from None
