"""Answers out: JSON, text and pages; what can be asked for again carries its ETag."""

from flask import Response, request

from nailplate.web.negotiation import JSON
from nailplate.wire import text_of


def json_answer(value: object, media: str = JSON) -> Response:
    """A result of a POST: it is nobody else's and is not kept."""
    return text_answer(text_of(value), media)


def text_answer(text: bytes | str, media: str) -> Response:
    """Bytes or text of a media type."""
    return Response(
        text, content_type=f"{media}; charset=utf-8" if media.startswith("text/") and "charset" not in media else media
    )


def kept(response: Response) -> Response:
    """The same answer until the service changes: with an ETag, and 304 for a caller who has it already."""
    response.headers["Cache-Control"] = "private, no-cache"
    response.add_etag()
    response.make_conditional(request)
    return response
