"""Judges every run of a cable, or every box, and tells what the plan leaves out once for the whole plan instead of once for each.

A house without one fact about its holes would otherwise raise the same finding at each of its cables.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from nailplate.plan import MAP_NAMES, ROOT, Cable, Part, Pointer, UnknownFact
from nailplate.plan.words import CableType
from nailplate.rulekit import Job, Judgement, NotConcerned, Outcome, Undetermined, Violation
from nailplate.survey import Survey
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import Run, runs_of

JudgeRun = Callable[[Run, Job], Outcome]
JudgePart = Callable[[Any, Job], Iterable[Outcome]]


def each_run(cable: Cable, job: Job, judge: JudgeRun, concerned: Callable[[Cable], bool] | None = None) -> Iterator[Outcome]:
    """``judge`` over every run of ``cable``, each outcome with the run's place. Cords, and cables not ``concerned``, are left out."""
    return once_told(cable, job, _PerRun(judge, concerned or is_wiring))


def is_wiring(cable: Cable) -> bool:
    """Whether it is fixed wiring, limited-energy cables too; 300.4 does not speak of flexible cords."""
    return not (cable.knows("type") and cable.type is CableType.CORD)


def once_told(part: Part, job: Job, judge: JudgePart) -> Iterator[Outcome]:
    """What ``judge`` says of ``part``; facts that are missing anywhere are told at the first part that lacks one."""
    everything = job.survey.once(_Every(judge, type(part), job))
    yield from everything.said.get(part.id, ())
    if part.id == everything.first_open:
        several = len(everything.open_parts) > 1
        at = ROOT / MAP_NAMES[type(part)] if several else part.pointer
        yield Undetermined(tuple(dict.fromkeys(everything.open)), at=at, facet="not said")


def run_words(run: Run) -> str:
    """A run as a message calls it."""
    if run.wall is not None:
        return f"{name_of(run.cable)} in wall {name_of(run.wall)}"
    return f"{name_of(run.cable)}, stretch {run.place + 1} of its route"


@dataclass(frozen=True, slots=True)
class _Said:
    said: Mapping[str, list[Outcome]]
    open: tuple[Pointer, ...]
    open_parts: tuple[str, ...]

    @property
    def first_open(self) -> str | None:
        return self.open_parts[0] if self.open_parts else None


@dataclass(frozen=True)
class _Every:
    """Runs a judge over all parts of a kind; equal for one judge, so that a survey works it out once."""

    judge: JudgePart
    kind: type[Part]
    job: Job = field(compare=False)

    def __call__(self, survey: Survey) -> _Said:
        said: dict[str, list[Outcome]] = {}
        missing: dict[str, tuple[Pointer, ...]] = {}
        for part in survey.plan.map_of(self.kind).values():
            answers = list(_answers(self.judge, part, self.job))
            said[part.id] = [each for each in answers if not isinstance(each, Undetermined)]
            needs = tuple(need for each in answers if isinstance(each, Undetermined) for need in each.needs)
            if needs:
                missing[part.id] = needs
        return _Said(said, tuple(need for needs in missing.values() for need in needs), tuple(missing))


def _answers(judge: JudgePart, part: Part, job: Job) -> Iterator[Outcome]:
    try:
        yield from judge(part, job)
    except UnknownFact as unknown:
        yield Undetermined((unknown.pointer,))


@dataclass(frozen=True, slots=True)
class _PerRun:
    judge: JudgeRun
    concerned: Callable[[Cable], bool]

    def __call__(self, cable: Cable, job: Job) -> Iterator[Outcome]:
        if not self.concerned(cable):
            yield NotConcerned()
        elif not cable.knows("route") or not cable.route:
            yield Undetermined((cable.where("route"),))
        else:
            for run in runs_of(job.survey, cable):
                yield self._judged(run, job)

    def _judged(self, run: Run, job: Job) -> Outcome:
        try:
            said = self.judge(run, job)
        except UnknownFact as unknown:
            return Undetermined((unknown.pointer,))
        if isinstance(said, Violation | Judgement):
            return replace(said, at=said.at or run.pointer, facet=str(run.place))
        return said if isinstance(said, Undetermined) else replace(said, facet=str(run.place))
