"""The one error of a sender that keeps nobody's time: the worker raises it, and whoever reads a body answers it."""

from gunicorn.http.errors import ParseException


class TooSlow(ParseException):  # type: ignore[misc]  # gunicorn has no types
    """The request did not arrive in time."""
