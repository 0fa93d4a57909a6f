"""Several reports as one HTML page: a table of all plans, then every report in full."""

from collections.abc import Iterator, Sequence
from html import escape

from nailplate.render.html import Page, document, html
from nailplate.render.inert import inert
from nailplate.render.summary import HEAD, row
from nailplate.review.checked import Checked


def several_html(checked: Sequence[Checked]) -> str:
    """One self-contained page; a single plan's is its own report."""
    if len(checked) == 1 and checked[0].report:
        return html(checked[0].report, checked[0].plan())
    pages = [Page(each.report, each.plan(), f"p{number}-") if each.report else None for number, each in enumerate(checked)]
    style = "".join(page.style for page in pages if page)
    return document(f"{len(checked)} wiring plans checked", style, [*_head(checked), *_sections(checked, pages)])


def _head(checked: Sequence[Checked]) -> Iterator[str]:
    yield f'<main class="main"><h1 id="plans">{len(checked)} wiring plans checked</h1>'
    yield '<div class="table" role="group" tabindex="0" aria-labelledby="plans"><table>'
    yield f"<tr>{''.join(f'<th scope=col>{escape(name)}</th>' for name in HEAD)}</tr>"
    for number, each in enumerate(checked):
        first, *rest = (escape(inert(cell)) for cell in row(each))
        yield f'<tr><td><a href="#plan-{number}">{first}</a></td>{"".join(f"<td>{cell}</td>" for cell in rest)}</tr>'
    yield "</table></div>"


def _sections(checked: Sequence[Checked], pages: Sequence[Page | None]) -> Iterator[str]:
    for number, (each, page) in enumerate(zip(checked, pages, strict=True)):
        yield f'<section id="plan-{number}">'
        if page is None:
            faults = "".join(
                f"<li><code>{escape(inert(fault.pointer or '/'))}</code>: {escape(inert(fault.detail))}</li>"
                for fault in each.faults
            )
            yield f"<h1>{escape(inert(each.name))}</h1><p>The document cannot be read as a plan.</p><ul>{faults}</ul>"
        else:
            yield from (*page.body(), *page.foot())
        yield "</section>"
    yield "</main>"
