"""Which representation of an answer its caller gets."""

from collections.abc import Sequence

from flask import request

from nailplate.web.described import Parameter
from nailplate.web.problems import BAD_PARAMETER, NOT_ACCEPTABLE, Problem

JSON, MARKDOWN, HTML = "application/json", "text/markdown", "text/html"
NDJSON = "application/x-ndjson"
SARIF, JUNIT, CSV, TEXT = "application/sarif+json", "application/xml", "text/csv", "text/plain"
SVG, PDF = "image/svg+xml", "application/pdf"
FORMATS = {
    "json": JSON,
    "markdown": MARKDOWN,
    "html": HTML,
    "sarif": SARIF,
    "junit": JUNIT,
    "csv": CSV,
    "text": TEXT,
    "svg": SVG,
    "pdf": PDF,
}
"""Values of the ``format`` parameter, for people who cannot set a header."""


def chosen(offered: Sequence[str] = (JSON, MARKDOWN, HTML)) -> str:
    """The representation wanted most among those offered, the first where nothing is said. Raises Problem."""
    wanted = request.args.get("format")
    if wanted is not None:
        media = FORMATS.get(wanted)
        if media is not None and media in offered:
            return media
        raise _none(offered)
    if not request.headers.get("Accept", "").strip():  # empty is the same as absent: anything will do
        return offered[0]
    best: str | None = request.accept_mimetypes.best_match(offered)
    if best is None:
        raise _none(offered)
    return best


def format_parameter(offered: Sequence[str]) -> Parameter:
    """How the API description tells of the ``format`` parameter of a route that offers these."""
    names = tuple(name for name, media in FORMATS.items() if media in offered)
    return Parameter("the representation, for people who cannot set Accept", names)


def _none(offered: Sequence[str]) -> Problem:
    named = {media: f"{media} (format={name})" for name, media in FORMATS.items()}
    return Problem(NOT_ACCEPTABLE, f"This is given as {', '.join(named.get(media, media) for media in offered)}.")


def check_parameters(*known: str) -> None:
    """Raises Problem for a query parameter that is not known, or given twice."""
    for name, values in request.args.lists():
        if name not in known:
            takes = f"it takes {', '.join(known)}" if known else "it takes none"
            raise Problem(BAD_PARAMETER, f"This resource has no parameter {name[:40]!r}; {takes}.")
        if len(values) > 1:
            raise Problem(BAD_PARAMETER, f"The parameter {name!r} is given {len(values)} times.")
