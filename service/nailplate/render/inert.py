"""File names as addresses; ``inert`` itself is the report's own, so that JSON and text agree on what acts."""

from pathlib import PurePath
from urllib.parse import quote

from nailplate.review.inert import inert

__all__ = ["address", "inert"]


def address(name: str) -> str:
    """A file's name as a relative or absolute URI reference (RFC 3986)."""
    path = PurePath(name)
    return path.as_uri() if path.is_absolute() else quote(path.as_posix(), safe="/._-~")
