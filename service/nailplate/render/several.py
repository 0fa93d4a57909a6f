"""Several reports as one HTML page: a table of all plans, then every report in full."""

from collections.abc import Iterator, Sequence
from html import escape

from nailplate.render.html import html
from nailplate.render.inert import inert
from nailplate.render.summary import HEAD, row
from nailplate.review.checked import Checked


def several_html(checked: Sequence[Checked]) -> str:
    """One self-contained page; a single plan's is its own report."""
    if len(checked) == 1 and checked[0].report:
        return html(checked[0].report)
    pages = [(each, html(each.report)) for each in checked if each.report]
    style = pages[0][1].partition("<style>")[2].partition("</style>")[0] if pages else ""
    return (
        "\n".join([*_head(checked, style), *_sections(checked, {id(each): page for each, page in pages}), "</body></html>"])
        + "\n"
    )


def _head(checked: Sequence[Checked], style: str) -> Iterator[str]:
    yield f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{len(checked)} wiring plans checked</title>'
    yield f'<meta name="viewport" content="width=device-width"><style>{style}</style></head><body>'
    yield f"<h1>{len(checked)} wiring plans checked</h1><table><tr>{''.join(f'<th>{escape(name)}</th>' for name in HEAD)}</tr>"
    for number, each in enumerate(checked):
        first, *rest = (escape(inert(cell)) for cell in row(each))
        yield f'<tr><td><a href="#plan-{number}">{first}</a></td>{"".join(f"<td>{cell}</td>" for cell in rest)}</tr>'
    yield "</table>"


def _sections(checked: Sequence[Checked], pages: dict[int, str]) -> Iterator[str]:
    for number, each in enumerate(checked):
        yield f'<section id="plan-{number}">'
        page = pages.get(id(each))
        if page is None:
            faults = "".join(
                f"<li><code>{escape(inert(fault.pointer or '/'))}</code>: {escape(inert(fault.detail))}</li>"
                for fault in each.faults
            )
            yield f"<h1>{escape(inert(each.name))}</h1><p>The document cannot be read as a plan.</p><ul>{faults}</ul>"
        else:
            yield page.partition("<body>")[2].rpartition("</body>")[0]
        yield "</section>"
