"""A rule's page: what it asks, why, how to fix it, where each edition says so, and cases that show it."""

import json
from collections.abc import Iterator, Sequence
from html import escape

from nailplate.codes import EDITIONS
from nailplate.rulekit import Rule


def rule_page(rule: Rule, editions: Sequence[str]) -> str:
    """The page as Markdown: what every edition says and changed, and the cases of those asked for."""
    return "\n".join([*_head(rule), *_citations(rule, editions), *_cases(rule, editions)]) + "\n"


def _head(rule: Rule) -> Iterator[str]:
    yield f"# {rule.id}"
    yield ""
    yield rule.title
    yield ""
    yield f"Severity: {rule.severity.value}. Judges: {rule.judges}."
    if rule.dwelling_only:
        yield "Speaks of dwelling units only."
    for title, text in (("Why", rule.why), ("Fix", rule.fix), ("Trap", rule.trap)):
        if text:
            yield ""
            yield f"**{title}.** {text}"
    if rule.needs:
        yield ""
        yield f"Facts needed: {', '.join(f'`{need}`' for need in rule.needs)}."
    for hazard in rule.hazards:
        yield ""
        yield f"Caution ({hazard.value}): {hazard.caution}"
    yield ""


def _citations(rule: Rule, editions: Sequence[str]) -> Iterator[str]:
    yield "| edition | section | text seen | what it changed |"
    yield "|---|---|---|---|"
    for year in EDITIONS:
        cite = rule.cite(int(year))
        section, status = (cite.section, cite.status(int(year)).value) if cite else (_none(rule, int(year)), "")
        name = f"**NEC {year}**" if year in editions and len(editions) < len(EDITIONS) else f"NEC {year}"
        yield f"| {name} | {section} | {status} | {rule.changes.get(f'nec-{year}', '')} |"
    for key, cite in sorted(rule.cites.items()):
        if key.startswith("irc-") and cite:
            year = key.removeprefix("irc-")
            yield f"| IRC {year} | {cite.section} | {cite.status(int(year)).value} | {rule.changes.get(key, '')} |"
    yield ""


def _none(rule: Rule, year: int) -> str:
    return "none; the residential code asks for it" if rule.is_in(year) else "no such requirement"


def _cases(rule: Rule, editions: Sequence[str]) -> Iterator[str]:
    yield "## Cases"
    yield ""
    for case in rule.cases:
        if case.shown and {f"nec-{year}" for year in editions}.intersection(case.editions):
            yield f"- {case.description} ({', '.join(case.editions)}): `{json.dumps(list(case.expect), ensure_ascii=False)}`"


def rule_html(rule: Rule, editions: Sequence[str]) -> str:
    """The page as a self-contained HTML document; its text is the Markdown page, shown as it stands."""
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{escape(rule.id)}</title>'
        "<style>body { font: 16px/1.5 Georgia, serif; max-width: 60rem; margin: 2rem auto; padding: 0 1rem }"
        " pre { white-space: pre-wrap; font: inherit }</style></head>"
        f"<body><pre>{escape(rule_page(rule, editions))}</pre></body></html>\n"
    )
