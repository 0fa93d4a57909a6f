"""The address itself: what answers here, and where to read on."""

from flask import Response

from nailplate import __version__
from nailplate.web.answers import json_answer, kept, text_answer
from nailplate.web.described import described, refer
from nailplate.web.negotiation import HTML, JSON, check_parameters, chosen

WHAT = "nailplate checks a small house's wiring plan against US codes before the walls are closed."
LINKS = {
    "docs": "/docs",
    "plan": "/docs/plan",
    "openapi": "/openapi.json",
    "rules": "/v1/rules",
    "checks": "/v1/checks",
    "schemas": "/v1/schemas",
    "examples": "/v1/examples",
    "version": "/v1/version",
}
CAUTION = (
    "It is no substitute for the code book, a permit, an inspection or a licensed electrician; the authority having jurisdiction "
    "decides."
)


@described(
    group="Reference",
    answer="What this is, and its addresses.",
    gives={JSON: refer("Home"), HTML: {"type": "string"}},
    problems=("not-acceptable",),
)
def home() -> Response:
    """Tell what this is and where to read on."""
    check_parameters()
    if chosen((JSON, HTML)) == HTML:
        return kept(text_answer(_page(), HTML))
    return kept(json_answer({"name": "nailplate", "version": __version__, "what": WHAT, "caution": CAUTION, "links": LINKS}))


def _page() -> str:
    links = "".join(f'<li><a href="{address}">{name}</a></li>' for name, address in LINKS.items() if name != "checks")
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>nailplate</title>'
        "<style>body { font: 16px/1.5 Georgia, serif; max-width: 45rem; margin: 2rem auto; padding: 0 1rem }</style></head>"
        f"<body><h1>nailplate {__version__}</h1><p>{WHAT}</p><p>Send a plan: <code>POST {LINKS['checks']}</code></p>"
        f"<ul>{links}</ul><p>{CAUTION}</p></body></html>\n"
    )
