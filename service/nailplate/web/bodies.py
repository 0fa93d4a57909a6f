"""Bodies in: their kind and size are checked before anything reads them."""

import tempfile
from typing import IO, Any

from flask import request
from gunicorn.http.errors import ParseException

from nailplate.web.coding import inflated, inflated_pieces
from nailplate.web.held import settings
from nailplate.web.problems import BAD_REQUEST, BODY_TOO_LARGE, REQUEST_TIMEOUT, UNSUPPORTED_MEDIA, Problem, malformed
from nailplate.web.slowness import TooSlow
from nailplate.web.traffic import note, timed
from nailplate.wire import NotJson, read_json

ACCEPTED = "application/json"
_PIECE = 65_536
_THROWN_AWAY = 32_000_000
"""Bytes of a body that is too large that are read all the same, so that its sender gets to see the answer."""


def json_body() -> Any:
    """The JSON value of the body. Raises Problem."""
    return value_in(json_bytes())


def json_bytes() -> bytes:
    """The bytes of a body that says it is JSON. Raises Problem."""
    _check_kind()
    with timed("body"):
        return plain_bytes(settings().max_body)


def value_in(body: bytes) -> Any:
    """The JSON value of a body. Raises Problem."""
    with timed("read"):
        try:
            return read_json(body)
        except NotJson as error:
            raise malformed(error) from None


def plain_bytes(most: int) -> bytes:
    """The body, inflated where it comes as gzip. Raises Problem."""
    body = _bytes(most)
    return inflated(body, most) if _coding() == "gzip" else body


def media_type() -> str:
    """The media type of the body."""
    return request.mimetype


def spooled(most: int, in_memory: int, also: tuple[str, ...]) -> IO[bytes]:
    """The whole body, in memory while it is small and in a file otherwise, inflated where it comes as gzip; it is the caller's to close.

    It is read to its end before anything is answered: a sender that reads only after it has sent would wait for ever. Raises Problem.
    """
    _check_kind(also)
    declared = request.content_length
    if declared is not None and declared > most:
        raise Problem(BODY_TOO_LARGE, f"The body is larger than the {most} bytes that are taken here.")
    kept: IO[bytes] = tempfile.SpooledTemporaryFile(max_size=in_memory)  # noqa: SIM115 - the caller closes it
    try:
        pieces = iter(lambda: _read(request.stream, _PIECE), b"")
        length = 0
        for piece in inflated_pieces(pieces) if _coding() == "gzip" else pieces:
            length += len(piece)
            if length > most:
                raise Problem(BODY_TOO_LARGE, f"The body is larger than the {most} bytes that are taken here.")
            kept.write(piece)
        if declared is not None and _coding() != "gzip" and length < declared:
            raise Problem(BAD_REQUEST, f"The body ends after {length} of {declared} bytes.")
        kept.seek(0)
    except BaseException:
        kept.close()
        raise
    note(bytes_read=length)
    return kept


def _coding() -> str:
    return request.headers.get("Content-Encoding", "identity").strip().lower()


def _check_kind(also: tuple[str, ...] = ()) -> None:
    coding = _coding()
    if coding not in ("identity", "gzip"):
        headers = {"Accept-Encoding": "gzip, identity"}
        raise _refused(
            Problem(UNSUPPORTED_MEDIA, f"The body is encoded as {coding[:40]!r}; send it as it is or as gzip.", headers=headers)
        )
    kind = request.mimetype
    if kind != ACCEPTED and kind not in also and not (kind.startswith("application/") and kind.endswith("+json")):
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
        if declared is None or declared <= most + _THROWN_AWAY:
            _throw_away(request.stream)
        raise Problem(BODY_TOO_LARGE, f"The body is larger than the {most} bytes that are taken here.")
    if declared is not None and len(body) < declared:
        raise Problem(BAD_REQUEST, f"The body ends after {len(body)} of {declared} bytes.")
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
    except TooSlow:
        raise Problem(REQUEST_TIMEOUT, "The body did not arrive in time.") from None
    except (OSError, ParseException):
        raise Problem(BAD_REQUEST, "The body does not arrive as its head says.") from None
