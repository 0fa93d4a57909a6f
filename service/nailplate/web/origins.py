"""Cross-origin calls from browsers (CORS): off, unless the operator names the origins of the design tools that may call."""

from collections.abc import Sequence

from flask import Flask, Response, request

METHODS = "GET, HEAD, POST, OPTIONS"
TAKEN = "Accept, Authorization, Content-Encoding, Content-Type, If-None-Match, X-Request-Id"
SHOWN = "Content-Length, ETag, Retry-After, Server-Timing, WWW-Authenticate, X-Request-Id"
KEPT = "600"
"""Seconds that a browser keeps the answer to a preflight."""


def is_preflight() -> bool:
    """Whether a browser asks before it sends; such a request carries no token."""
    return request.method == "OPTIONS" and "Origin" in request.headers and "Access-Control-Request-Method" in request.headers


def allow(app: Flask, origins: Sequence[str]) -> None:
    """Lets pages of these origins call ``app``; the answer to others says nothing, so that their browser refuses."""

    def answered(response: Response) -> Response:
        origin = request.headers.get("Origin", "")
        response.vary.add("Origin")
        if origin not in origins:
            return response
        response.headers["Access-Control-Allow-Origin"] = origin
        response.headers["Access-Control-Expose-Headers"] = SHOWN
        response.headers["Cross-Origin-Resource-Policy"] = "cross-origin"
        if is_preflight():
            response.headers["Access-Control-Allow-Methods"] = METHODS
            response.headers["Access-Control-Allow-Headers"] = TAKEN
            response.headers["Access-Control-Max-Age"] = KEPT
        return response

    if origins:
        app.after_request(answered)
