"""A folded catalogue as CSV and as one HTML page."""

import csv
import io
from collections.abc import Iterator
from html import escape

from nailplate.batch.folding import Folding, Row
from nailplate.batch.summary import Tally
from nailplate.render.csv import safe_cell
from nailplate.render.inert import inert

HEAD = (
    "severity",
    "outcome",
    "rule",
    "pointer",
    "message",
    "citation",
    "models",
    "in models",
    "editions",
    "jurisdictions",
    "raised by",
    "times",
    "remedy",
    "fingerprint",
)


def _cells(row: Row) -> tuple[object, ...]:
    return (
        row.severity,
        row.outcome,
        row.rule,
        row.pointer,
        row.message,
        row.citation,
        row.models.count,
        str(row.models),
        str(row.editions),
        str(row.jurisdictions),
        str(row.raised_by),
        row.times,
        row.remedy,
        row.fingerprint,
    )


def folded_csv(folding: Folding) -> str:
    """A row a finding (RFC 4180)."""
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\r\n")
    table.writerow(HEAD)
    table.writerows([safe_cell(cell) for cell in _cells(row)] for row in folding.rows)
    return text.getvalue()


_STYLE = """
body { font: 15px/1.45 Georgia, serif; margin: 1.5rem; color: #222; background: #fbfaf7 }
table { border-collapse: collapse; font-size: .88rem } td, th { border: 1px solid #bbb; padding: .2rem .5rem; text-align: left; vertical-align: top }
tr.danger td:first-child { border-left: 6px solid #7a1f3d } tr.code td:first-child { border-left: 6px solid #35588a }
"""


def folded_html(folding: Folding, tally: Tally) -> str:
    """One self-contained page: counts, models nearest to a limit, and every finding once."""
    return "\n".join(_page(folding, tally)) + "\n"


def _page(folding: Folding, tally: Tally) -> Iterator[str]:
    said = tally.value()
    yield '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Catalogue checked</title>'
    yield f'<meta name="viewport" content="width=device-width"><style>{_STYLE}</style></head><body><h1>Catalogue checked</h1>'
    verdicts = ", ".join(f"{number} {name}" for name, number in said["verdicts"].items())
    yield f"<p>{folding.models} models, {said['records']} combinations: {verdicts}; {said['statuses']['refused']} not read as plans.</p>"
    yield "<h2>Findings</h2>"
    yield from _table(HEAD[:-1], ((row.severity, _cells(row)[:-1]) for row in folding.rows))
    yield "<h2>Models nearest to a limit</h2>"
    near = (
        (each.item, each.key, each.rule, each.at, each.measured, each.limit, f"{each.margin:.1%}") for each in folding.nearest
    )
    yield from _table(
        ("model", "combination", "rule", "pointer", "measured", "limit", "margin"), (("", cells) for cells in near)
    )
    yield (
        "<p>A check of a drawing is no substitute for the code book, a permit, an inspection or a licensed electrician; the authority "
        "having jurisdiction decides.</p></body></html>"
    )


def _table(head: tuple[str, ...], rows: "Iterator[tuple[str, tuple[object, ...]]]") -> Iterator[str]:
    yield f"<table><tr>{''.join(f'<th>{escape(name)}</th>' for name in head)}</tr>"
    for kind, cells in rows:
        yield f'<tr class="{kind}">{"".join(f"<td>{escape(inert(str(cell)))}</td>" for cell in cells)}</tr>'
    yield "</table>"
