"""A page for people as sections of blocks, written as Markdown for a screen or as a self-contained HTML document.

Words may hold ``code`` between single backticks and nothing else that is markup.
"""

import re
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape

WIDTH = 100


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph, behind the word that it opens with if it has one."""

    text: str
    lead: str = ""


@dataclass(frozen=True, slots=True)
class Points:
    """A list; each point is words."""

    points: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Snippet:
    """Lines of JSON."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Links:
    """Names of other pages, each with its relative address."""

    lead: str
    to: tuple[tuple[str, str], ...]


Block = Words | Points | Snippet | Links


@dataclass(frozen=True, slots=True)
class Section:
    """Blocks under a name; the name is an anchor of the page."""

    name: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """A title, what it says in a sentence, and its sections."""

    title: str
    opening: tuple[Block, ...]
    sections: tuple[Section, ...]


def as_markdown(page: Page) -> str:
    """The page as Markdown, wrapped so that it is read on a screen as it stands."""
    lines = [f"# {page.title}", *_blocks(page.opening)]
    for section in page.sections:
        lines += ["", f"## {section.name}", *_blocks(section.blocks)]
    return "\n".join(lines) + "\n"


def _blocks(blocks: tuple[Block, ...]) -> Iterator[str]:
    for block in blocks:
        yield from _as_lines(block)


def _as_lines(block: Block) -> Iterator[str]:
    match block:
        case Words(text, lead):
            yield ""
            yield from _wrapped(f"**{lead}.** {capital(text)}" if lead else text)
        case Points(points):
            yield ""
            for point in points:
                yield from _wrapped(point, "- ")
        case Snippet(lines):
            yield "```json"
            yield from lines
            yield "```"
        case Links(lead, to):
            yield ""
            yield from _wrapped(f"{lead}: {', '.join(f'`{name}`' for name, _ in to)}.")


def capital(text: str) -> str:
    """The text as a sentence begins."""
    return text[:1].upper() + text[1:]


def _wrapped(text: str, first: str = "") -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=" " * len(first), break_long_words=False, break_on_hyphens=False
    )


_STYLE = """
body { font: 15px/1.4 Georgia, serif; max-width: 52rem; margin: 1.5rem auto; padding: 0 1rem; color: #222 }
h1 { font-size: 1.5rem; margin: .6rem 0 } h2 { font-size: 1.15rem; border-bottom: 1px solid #999; margin: 1.2rem 0 .4rem }
p, ul { margin: .4rem 0 } ul { padding-left: 1.2rem } nav { font-size: .9rem }
code { font-size: .85em; background: #eee; padding: 0 .2em; overflow-wrap: anywhere }
pre { background: #eee; padding: .3rem .6rem; margin: .3rem 0; overflow-x: auto; line-height: 1.25 } pre code { padding: 0 }
@media print { @page { margin: 15mm } body { font-size: 10.5pt; margin: 0 } pre, p { break-inside: avoid } nav { display: none } pre { white-space: pre-wrap } }
"""


def as_html(page: Page, back: tuple[str, str]) -> str:
    """The page as an HTML document: no script, no outside host, and a way ``back``, a name and its address."""
    return "\n".join([*_head(page, back), *map(_as_html, page.opening), *_sections(page), "</body></html>"]) + "\n"


def _head(page: Page, back: tuple[str, str]) -> Iterator[str]:
    yield f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{escape(page.title)}</title>'
    yield f'<meta name="viewport" content="width=device-width"><style>{_STYLE}</style></head><body>'
    ways = [_link(*back), *(_link(section.name, f"#{_anchor(section.name)}") for section in page.sections)]
    yield f"<nav>{' · '.join(ways)}</nav><h1>{escape(page.title)}</h1>"


def _sections(page: Page) -> Iterator[str]:
    for section in page.sections:
        yield f'<h2 id="{_anchor(section.name)}">{escape(section.name)}</h2>'
        yield from map(_as_html, section.blocks)


def _as_html(block: Block) -> str:
    match block:
        case Words(text, lead):
            return f"<p>{f'<strong>{escape(lead)}.</strong> ' if lead else ''}{_marked(capital(text))}</p>"
        case Points(points):
            return f"<ul>{''.join(f'<li>{_marked(point)}</li>' for point in points)}</ul>"
        case Snippet(lines):
            return f"<pre><code>{escape(chr(10).join(lines))}</code></pre>"
        case Links(lead, to):
            return f"<p>{escape(lead)}: {', '.join(_link(name, address) for name, address in to)}.</p>"


def _marked(text: str) -> str:
    """Escaped words, with what stands between backticks as code."""
    return re.sub(r"`([^`]+)`", r"<code>\1</code>", escape(text))


def _link(name: str, address: str) -> str:
    return f'<a href="{escape(address)}">{escape(name)}</a>'


def _anchor(name: str) -> str:
    return name.lower().replace(" ", "-")
