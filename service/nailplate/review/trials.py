"""A rule's case put to the rule: what it answers, by pointer, against what the case expects."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from nailplate.catalog import Catalog
from nailplate.plan import Plan
from nailplate.review.engine import Judged, judged
from nailplate.review.law import law_of
from nailplate.rulekit import Case, Job, Judgement, NotConcerned, Outcome, Pass, Rule, Undetermined, Violation
from nailplate.survey import Survey
from nailplate.units import written

WORDS: dict[type[Outcome], str] = {
    Pass: "pass",
    NotConcerned: "not_concerned",
    Violation: "violation",
    Undetermined: "undetermined",
    Judgement: "judgement",
}
OPEN = ("violation", "undetermined", "judgement")


@dataclass(frozen=True, slots=True)
class Trial:
    """What a rule answered to a case under one edition."""

    case: Case
    year: str
    job: Job
    answers: tuple[tuple[str, Outcome], ...]
    missed: tuple[Mapping[str, Any], ...]
    unexpected: tuple[Mapping[str, Any], ...]
    crashed: bool = False

    @property
    def passes(self) -> bool:
        """Whether every expected answer came, and nothing open that is not expected."""
        return not (self.missed or self.unexpected or self.crashed)


def tried(rule: Rule, case: Case, year: str, plan: Plan, catalog: Catalog) -> Trial:
    """Puts a case, whose document for ``year`` was read as ``plan``, to its rule."""
    job = Job(plan, Survey(plan), law_of(plan, catalog.rules).edition)
    said = list(judged(rule, job))
    answers = tuple((_place(each), each.outcome) for each in said)
    left = [told(*answer) for answer in answers]
    missed = tuple(wanted for wanted in case.expect if not _taken(wanted, left))
    unexpected = tuple(each for each in left if each["outcome"] in OPEN)
    return Trial(case, year, job, answers, missed, unexpected, any(each.crashed for each in said))


def examples(rule: Rule, years: Sequence[str], catalog: Catalog, read: Callable[[Any], Plan]) -> Iterator[Trial]:
    """The cases that the rule's page shows, each under the newest of ``years`` that it names; of other editions where there are none."""
    shown = [case for case in rule.cases if case.shown]
    wanted = {f"nec-{year}" for year in years}
    for case in [case for case in shown if wanted.intersection(case.editions)] or shown:
        year = max(wanted.intersection(case.editions) or case.editions).removeprefix("nec-")
        yield tried(rule, case, year, read(case.document(year)), catalog)


def _place(said: Judged) -> str:
    return str(getattr(said.outcome, "at", None) or said.part.pointer)


def _taken(wanted: Mapping[str, Any], left: list[dict[str, Any]]) -> bool:
    """Takes away the first answer that is as wanted; False where there is none."""
    match = next((each for each in left if _fits(wanted, each)), None)
    if match is not None:
        left.remove(match)
    return match is not None


def _fits(wanted: Mapping[str, Any], said: Mapping[str, Any]) -> bool:
    return all((sorted(value) if name == "needs" else value) == said.get(name) for name, value in wanted.items())


def told(at: str, outcome: Outcome) -> dict[str, Any]:
    """An outcome in the words of a case."""
    return {"at": at, "outcome": WORDS[type(outcome)], **dict(_figures(outcome))}


def _figures(outcome: Outcome) -> Iterator[tuple[str, Any]]:
    for name in ("measured", "limit"):
        if (measure := getattr(outcome, name, None)) is not None:
            yield name, written(measure)
    if outcome.facet:
        yield "facet", outcome.facet
    if isinstance(outcome, Undetermined):
        yield "needs", sorted(str(need) for need in outcome.needs)
