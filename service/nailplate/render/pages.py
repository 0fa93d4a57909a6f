"""A rule's page: what it asks, why, how to fix it, where each edition says so, and examples that the rule itself answers now."""

import json
import re
from collections.abc import Callable, Iterator, Sequence
from itertools import groupby
from typing import Any

from nailplate.catalog import Catalog
from nailplate.codes import EDITIONS
from nailplate.plan import Plan
from nailplate.render.page import WIDTH, Block, Links, Page, Points, Section, Snippet, Words, as_html, as_markdown
from nailplate.render.snippets import plan_lines, value_lines
from nailplate.review.findings import message_of
from nailplate.review.trials import Trial, examples
from nailplate.rulekit import Judgement, NotConcerned, Operation, Outcome, Pass, Remedy, Rule, Undetermined, Violation
from nailplate.rulekit.cases import difference
from nailplate.units import shown

_LINES = 88
"""A page is read on two screens."""
_MOST_RELATED = 6


def rule_page(rule: Rule, editions: Sequence[str], catalog: Catalog, read: Callable[[Any], Plan]) -> str:
    """The page as Markdown, with examples of the editions asked for; ``read`` reads their plans."""
    return as_markdown(_page(rule, editions, catalog, read))


def rule_html(rule: Rule, editions: Sequence[str], catalog: Catalog, read: Callable[[Any], Plan]) -> str:
    """The same page as an HTML document."""
    return as_html(_page(rule, editions, catalog, read), ("All rules", f"{_up(rule)}rules"))


def _page(rule: Rule, editions: Sequence[str], catalog: Catalog, read: Callable[[Any], Plan]) -> Page:
    opening = tuple(_opening(rule))
    said = Section("Editions", tuple(_editions(rule, editions)))
    related = Section("Related rules", tuple(_related(rule, catalog)))
    room = _LINES - _height(opening, said, related)
    shown_here = Section("Examples", tuple(_examples(list(examples(rule, editions, catalog, read)), room)))
    return Page(rule.id, opening, tuple(section for section in (said, shown_here, related) if section.blocks))


def _opening(rule: Rule) -> Iterator[Block]:
    yield Words(rule.title)
    yield Words(" ".join(_declared(rule)))
    told = (("Why", rule.why), ("Fix", rule.fix), ("Trap", rule.trap), ("Does not judge", rule.does_not_judge))
    yield from (Words(text, lead) for lead, text in told if text)
    yield Words(" ".join(hazard.caution for hazard in rule.hazards), "Caution")


def _declared(rule: Rule) -> Iterator[str]:
    yield f"Severity {rule.severity.value}; judges {rule.judges}{_classes(rule)}."
    if rule.needs:
        yield f"Facts needed: {', '.join(f'`{need}`' for need in rule.needs)}."


# Where each edition says so


def _editions(rule: Rule, editions: Sequence[str]) -> Iterator[Block]:
    """A point for each edition, those that say the same without a change of words together."""
    said = [(f"NEC {year}", *_nec(rule, int(year))) for year in EDITIONS]
    said += [(f"IRC {key[4:]}", *_irc(rule, key)) for key in sorted({*rule.cites, *rule.changes}) if key.startswith("irc-")]
    points = []
    for (section, status, change), alike in groupby(said, key=lambda row: row[1:]):
        names = [name for name, *_ in alike]
        name = _span(names) if not change else names[0]
        cited = f" {section}{f' ({status})' if status else ''}." if section else ""
        points.append(f"{name}:{cited}{f' {change}' if change else ''}")
    yield Points(tuple(points))
    if len(editions) < len(EDITIONS):
        yield Words(f"The examples below are of NEC {', '.join(editions)}, where there is one.")


def _nec(rule: Rule, year: int) -> tuple[str, str, str]:
    """Section, how sure it is, and what the edition changed."""
    cite = rule.cite(year)
    none = "none; the residential code requires it" if rule.is_in(year) else "no such requirement"
    section, status = (cite.section, cite.status(year).value) if cite else (none, "")
    return section, status, rule.changes.get(f"nec-{year}", "")


def _irc(rule: Rule, key: str) -> tuple[str, str, str]:
    """The same of the residential code, which a rule may tell of without citing it."""
    cite = rule.cites.get(key)
    section, status = (cite.section, cite.status(int(key[4:])).value) if cite else ("", "")
    return section, status, rule.changes.get(key, "")


def _span(names: Sequence[str]) -> str:
    """``NEC 2017 to 2023``, and ``NEC 2017`` for one alone."""
    document, first = names[0].split()
    return f"{document} {first}" + (f" to {names[-1].split()[1]}" if len(names) > 1 else "")


# Examples


def _examples(trials: list[Trial], room: int) -> Iterator[Block]:
    """Violations first, and after the first example how the others differ; what finds no room is left out."""
    first = None
    for trial in sorted(trials, key=lambda trial: not any(isinstance(outcome, Violation) for _, outcome in trial.answers)):
        whole = tuple(_example(trial, first))
        room -= _height(whole)
        if room >= 0 or first is None:
            yield from whole
        first = first or trial


def _height(blocks: tuple[Block, ...], *sections: Section) -> int:
    """Lines on a screen."""
    return len(as_markdown(Page("", blocks, sections)).splitlines()) - (0 if sections else 1)


def _example(trial: Trial, first: Trial | None) -> Iterator[Block]:
    yield Words(f"{trial.case.description} ({_told_editions(trial.case.editions)})", "Example")
    plan = plan_lines(dict(trial.case.plan), WIDTH)
    but = value_lines(difference(first.case.plan, trial.case.plan), WIDTH) if first else plan
    if len(but) < len(plan):
        yield Words("The plan of the first example, but (a merge patch):")
    yield Snippet(min(plan, but, key=len))
    for at, outcome in _open(trial) or _passed(trial):
        yield from _answer(trial, at, outcome)


def _told_editions(editions: Sequence[str]) -> str:
    years = [name.removeprefix("nec-") for name in editions]
    return f"NEC {', '.join(years)}" if tuple(years) != EDITIONS else "every edition"


def _open(trial: Trial) -> list[tuple[str, Outcome]]:
    return [(at, outcome) for at, outcome in trial.answers if isinstance(outcome, Violation | Judgement | Undetermined)]


def _passed(trial: Trial) -> list[tuple[str, Outcome]]:
    """The first answer that passes; where none does, that the requirement does not speak of the first part."""
    return sorted(trial.answers, key=lambda answer: not isinstance(answer[1], Pass))[:1]


def _answer(trial: Trial, at: str, outcome: Outcome) -> Iterator[Block]:
    place = f"at `{at or '/'}`"
    match outcome:
        case Pass():
            figures = f": {shown(outcome.measured)}, limit {shown(outcome.limit)}" if outcome.measured and outcome.limit else ""
            yield Words(f"{place}{figures}.", "Passes")
        case NotConcerned():
            yield Words(f"{place}: the requirement does not speak of it.", "Passes")
        case Undetermined(needs=needs):
            yield Words(f"{place}: {message_of(outcome, trial.job)}", "Undetermined")
            yield Words(f"state {', '.join(f'`{need}`' for need in needs)}.", "Fix")
        case Judgement(readings=readings):
            yield Words(f"{place}: {outcome.message}", "For the authority to judge")
            yield Points(tuple(f"{reading.words} ({reading.gives})" for reading in readings))
            yield from _fixes(outcome.remedies)
        case Violation():
            yield Words(f"{place}: {outcome.message}", "Violation")
            yield from _fixes(outcome.remedies)


def _fixes(remedies: Sequence[Remedy]) -> Iterator[Block]:
    """What the rule offers, and the patch of the first that has one."""
    if remedies:
        yield Words(" Or: ".join(remedy.words for remedy in remedies), "Fix")
        patch = next((remedy.patch for remedy in remedies if remedy.patch), ())
        if patch:
            yield Snippet(value_lines([_operation(each) for each in patch], WIDTH))


def _operation(operation: Operation) -> dict[str, Any]:
    value = {} if operation.op == "remove" else {"value": operation.value}
    return json.loads(json.dumps({"op": operation.op, "path": str(operation.path), **value}))  # type: ignore[no-any-return]


# Other rules


def _related(rule: Rule, catalog: Catalog) -> Iterator[Block]:
    """Rules that its words name, then those that cite the same sections."""
    words = " ".join((rule.title, rule.why, rule.fix, rule.trap, rule.does_not_judge))
    named = [name for name in re.findall(r"`([a-z0-9/-]+)`", words) if name in catalog.rules and name != rule.id]
    sections = _sections(rule)
    near = [other.id for other in catalog.rules.values() if other is not rule and sections & _sections(other)]
    ids = list(dict.fromkeys((*named, *near)))[:_MOST_RELATED]
    if ids:
        yield Links("See", tuple((each, f"{_up(rule)}rules/{each}") for each in ids))


def _sections(rule: Rule) -> set[str]:
    """The sections that it cites, without their subdivisions: ``210.52``."""
    return {found for cite in rule.cites.values() if cite for found in re.findall(r"\b[1-9]\d\d\.\d+", cite.section)}


def _up(rule: Rule) -> str:
    """The way from a rule's page to the folder above all rules; ids of packs hold a slash."""
    return "../" * (rule.id.count("/") + 1)


def _classes(rule: Rule) -> str:
    """Which classes of building it judges, where not all."""
    if not rule.dwelling_only:
        return ""
    also = " and ".join(each.value.replace("_", " ") for each in rule.also_for)
    return f", of dwelling units{f' ({also} too)' if also else ''} only"
