"""gzip both ways (RFC 9110, 8.4.1): bodies in are inflated up to the cap that plain ones have, answers out are deflated where asked."""

import gzip
import zlib
from collections.abc import Iterator

from flask import Flask, Response, request

from nailplate.web.problems import BAD_REQUEST, BODY_TOO_LARGE, Problem

_WORTH_IT = 1000
"""Bytes under which an answer is sent as it is."""
_LEVEL = 5
_PIECE = 1_000_000
_GZIP = 16 + zlib.MAX_WBITS


def inflated(body: bytes, most: int) -> bytes:
    """The body that a gzip body holds. Raises Problem for one that is broken, or holds more than ``most`` bytes."""
    reader = zlib.decompressobj(_GZIP)
    try:
        plain = reader.decompress(body, most + 1)
    except zlib.error:
        raise Problem(BAD_REQUEST, "The body is not gzip, as Content-Encoding says.") from None
    if len(plain) > most:
        raise Problem(BODY_TOO_LARGE, f"The body is larger than the {most} bytes that are taken here, once inflated.")
    if not reader.eof or reader.unused_data:
        raise Problem(BAD_REQUEST, "The gzip body is cut off, or something stands behind it.")
    return plain


def inflated_pieces(pieces: Iterator[bytes]) -> Iterator[bytes]:
    """The same for a body that comes piece by piece; whoever takes them counts their bytes. Raises Problem."""
    reader = zlib.decompressobj(_GZIP)
    for piece in pieces:
        while piece:
            try:
                yield reader.decompress(piece, _PIECE)
            except zlib.error:
                raise Problem(BAD_REQUEST, "The body is not gzip, as Content-Encoding says.") from None
            piece = reader.unconsumed_tail
    if not reader.eof or reader.unused_data:
        raise Problem(BAD_REQUEST, "The gzip body is cut off, or something stands behind it.")


def deflate_answers(app: Flask) -> None:
    """Sends larger answers of ``app`` as gzip to callers who take it."""
    app.after_request(_deflated)


def takes_gzip() -> bool:
    """Whether the caller wants gzip."""
    return request.accept_encodings.quality("gzip") > 0 and "gzip" in request.headers.get("Accept-Encoding", "").lower()


def _deflated(response: Response) -> Response:
    response.vary.add("Accept-Encoding")
    if not takes_gzip():
        return response
    _weaken(response)
    if response.is_streamed or response.status_code == 304 or request.method == "HEAD":
        return response
    body = response.get_data()
    if len(body) < _WORTH_IT or "Content-Encoding" in response.headers:
        return response
    response.set_data(gzip.compress(body, _LEVEL, mtime=0))
    response.headers["Content-Encoding"] = "gzip"
    return response


def _weaken(response: Response) -> None:
    """An answer that may go in other bytes has a weak tag (RFC 9110, 8.8.3), and so has the word that it has not changed."""
    tag, _ = response.get_etag()
    if tag:
        response.set_etag(tag, weak=True)


def deflated_stream(pieces: Iterator[bytes]) -> Iterator[bytes]:
    """A stream as gzip, each piece sent at once."""
    writer = zlib.compressobj(_LEVEL, zlib.DEFLATED, _GZIP)
    for piece in pieces:
        yield writer.compress(piece) + writer.flush(zlib.Z_SYNC_FLUSH)
    yield writer.flush()
