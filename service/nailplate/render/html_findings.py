"""Findings on a report's page: by place, each with its figures, citations, remedies and the way to its mark on the drawing."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from html import escape

from nailplate.plan import Plan
from nailplate.render.marking import Numbered
from nailplate.render.places import by_place
from nailplate.render.wording import behind, cited, figures, own_remedies, places, shared_remedies, shared_words
from nailplate.review.report import Finding
from nailplate.rulekit import Severity
from nailplate.sheets.inert import cut, inert
from nailplate.units import shown

_MOST_FIRST = 12
_LONGEST = 160


@dataclass(slots=True)
class Cautions:
    """Each caution once, with the numbers of the findings that it goes with. ``page`` begins every id."""

    page: str
    numbers: dict[str, list[int]] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)

    def link(self, finding: Finding, number: int) -> str:
        """The finding's hazards, each a link to its caution."""
        links = []
        for hazard, caution in zip(finding.hazards, finding.cautions, strict=True):
            self.names.setdefault(caution, hazard)
            self.numbers.setdefault(caution, []).append(number)
            links.append(f'<a href="#{self.page}caution-{escape(self.names[caution])}">{escape(_words_of(hazard))}</a>')
        return f"<p>Hazards: {', '.join(links)}</p>" if links else ""

    def told(self) -> Iterator[str]:
        """The cautions as items of a list."""
        for caution, numbers in self.numbers.items():
            links = ", ".join(f'<a href="#{self.page}f{number}">{number}</a>' for number in dict.fromkeys(numbers))
            of = "Finding" if len(set(numbers)) == 1 else "Findings"
            yield f'<li id="{self.page}caution-{escape(self.names[caution])}">{escape(caution)} ({of} {links})</li>'


def _words_of(hazard: str) -> str:
    return hazard.replace("_", " ").replace("-", " ")


def items(lines: Iterable[str]) -> str:
    """A list of lines, everything in them escaped."""
    return f"<ul>{''.join(f'<li>{escape(inert(line))}</li>' for line in lines)}</ul>"


def do_first(groups: list[Numbered], page: str) -> Iterator[str]:
    """The dangers, before anything else."""
    dangers = [(number, group[0]) for number, group in groups if _is_danger(group[0])]
    if not dangers:
        return
    yield f'<section class="first" aria-labelledby="{page}first"><h2 id="{page}first">Do these first</h2><ol>'
    for number, finding in dangers[:_MOST_FIRST]:
        yield f'<li value="{number}"><a href="#{page}f{number}">{escape(cut(inert(finding.message), _LONGEST))}</a></li>'
    more = len(dangers) - _MOST_FIRST
    yield f"</ol>{f'<p>and {more} more dangers below</p>' if more > 0 else ''}</section>"


def _is_danger(finding: Finding) -> bool:
    return finding.severity is Severity.DANGER and finding.outcome == "violation"


def by_places(plan: Plan | None, groups: list[Numbered], placed: frozenset[int], cautions: Cautions) -> Iterator[str]:
    """A section for each place, the one with the gravest finding first."""
    for order, place in enumerate(by_place(plan, groups)):
        yield f'<section aria-labelledby="{cautions.page}place-{order}"><h2 id="{cautions.page}place-{order}">{escape(inert(place.name))}</h2>'
        for number, group in place.groups:
            yield article(number, group, placed, cautions)
        yield "</section>"


def article(number: int, group: list[Finding], placed: frozenset[int], cautions: Cautions, prefix: str = "f") -> str:
    """One finding, or several that are told together."""
    first = group[0]
    body = _one(first) if len(group) == 1 else _several(group)
    marks = "".join(_way_to(each, finding, cautions.page) for each, finding in enumerate(group, number) if each in placed)
    head = f"<h3>{_head(number, group)}</h3>"
    hazards = cautions.link(first, number) if prefix == "f" else ""
    return (
        f'<article class="{first.severity.value}" id="{cautions.page}{prefix}{number}">{head}{marks}{body}{hazards}</article>'
    )


def _head(number: int, group: list[Finding]) -> str:
    first = group[0]
    severity, rule = first.severity.value.capitalize(), escape(first.rule)
    if len(group) == 1:
        return f"{number}. {severity}, {first.outcome}: {rule}"
    return f"{number} to {number + len(group) - 1}. {severity}, {first.outcome} at {len(group)} places: {rule}"


def _way_to(number: int, finding: Finding, page: str) -> str:
    open_ = " open" if finding.outcome != "violation" else ""
    severity = finding.severity.value
    return f'<a class="shown {severity}{open_}" href="#{page}m{number}">{number} {severity.capitalize()}<span class="go">: show on drawing</span></a>'


def _one(finding: Finding) -> str:
    label = f" ({escape(inert(finding.where.label))})" if finding.where.label else ""
    place = f"<p>at <code>{escape(inert(finding.where.pointer or '/'))}</code>{label}</p>"
    return f"<p>{escape(inert(finding.message))}</p>{place}{items(_facts(finding))}"


def _facts(finding: Finding) -> Iterator[str]:
    if both := figures(finding):
        yield both
    for line in finding.lines:
        yield f"{line.how_many:g} × {shown(line.each)} = {shown(line.subtotal)}: {line.what}, {line.section}"
    if finding.citations:
        yield "; ".join(cited(citation) for citation in finding.citations)
    if finding.needs:
        yield f"would be settled by {', '.join(finding.needs)}"
    for reading in finding.readings:
        yield f"one reading: {reading.words} ({reading.gives})"
    for remedy in finding.remedies:
        yield f"fix: {remedy.words}"
    if finding.accepted:
        yield f"accepted by {finding.accepted.accepted_by}: {finding.accepted.reason}"


def _several(group: list[Finding]) -> str:
    """What one rule cannot decide in several places, or finds there and one act fixes; a line for each."""
    first, shared = group[0], shared_remedies(group)
    lines = []
    for pointers, each in places(group):
        own = "".join(f" Fix: {remedy.words}" for remedy in own_remedies(each, shared))
        lines.append(f"{', '.join(pointers)}: {each.message}{behind(each)}{own}")
    lines += shared_words(shared)
    lines += ["; ".join(cited(citation) for citation in first.citations)] if first.citations else []
    return items(lines)
